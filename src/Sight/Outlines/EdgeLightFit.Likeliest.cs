namespace Whetwright.Sight.Outlines;

/// <summary>Where the search for a light begins, and what of it is followed.</summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>Half-widths of lamps per millimetre of their height where a search begins: a bulb's shade, a tube. Chosen.</summary>
    private const double SmallLamp = 0.12, WideLamp = 0.3;

    /// <summary>How many sections across the edge a search looks at, and which of those across the spine. Chosen.</summary>
    private const int Few = 36, SpineEvery = 2;

    /// <summary>How many rooms are drawn, and how many of them are followed. Chosen.</summary>
    private const int Drawn = 600, DrawnKept = 40;

    /// <summary>Lines whose means are further apart are told apart, mm: a search ends in one of many explanations, and the likeliest of each line is kept. Chosen.</summary>
    private const double ApartMm = 0.2;

    /// <summary>How many explanations of each line, and how many in all, are followed at first, and how many lines in the end. Chosen.</summary>
    private const int OfEachLine = 2, MostFollowed = 24, MostLines = 5;

    /// <summary>Of a bare side, or where no height is known: how many beginnings without a supposed line are followed. Chosen.</summary>
    private const int PlainStarts = 3;

    /// <summary>A light and what it costs.</summary>
    public readonly record struct Weighed(EdgeLight Light, double Cost);

    /// <summary>The light that fits best, and the places of edge or bare side under it.</summary>
    /// <param name="lines">Lines from which to begin too: the light is fitted with the edge held there, then let go.</param>
    /// <param name="begin">Of a bare side: where to begin from an earlier pass.</param>
    public (EdgeLight Light, Places Places) Find(IReadOnlyList<SupposedLine> lines, EdgeLight? begin = null)
    {
        EdgeLight best = _beside is null ? Likeliest(lines)[0].Light : FromFew(lines, begin);
        return (best, PlacesUnder(best));
    }

    /// <summary>The places under a light, in all sections.</summary>
    public Places PlacesUnder(EdgeLight light) => new Grid(_profiles, 1, false, this).Solve(light);

    /// <summary>
    /// The likeliest light of each line that may be the edge's, likeliest first. Where the edge's height is not known one light alone, found from few beginnings near the outline: so free
    /// a light explains many lines, and a deeper search finds what is likelier and not nearer.
    /// </summary>
    /// <param name="lines">Lines from which to begin too.</param>
    public IReadOnlyList<Weighed> Likeliest(IReadOnlyList<SupposedLine> lines)
    {
        if (_known is null)
            return [new(FromFew(lines, null), 0)];
        int every = Math.Max(1, _profiles.Count / Few);
        var few = new Sides(this, every, SpineEvery);
        var fewer = new Sides(this, 2 * every, 2 * SpineEvery);
        var fewest = new Sides(this, 4 * every, 3 * SpineEvery);
        IEnumerable<EdgeLight> drawn = RoomDraws.Of(Drawn, Usual, Spine is not null).BesideEachOther(l => new Weighed(l, fewest.Cost(l))).OrderBy(l => l.Cost).Take(DrawnKept).Select(l => l.Light);
        IEnumerable<EdgeLight> starts = PlainLights().Concat(drawn).Concat(Supposed(lines, fewer, 2 * every));
        Weighed Followed(EdgeLight from, Sides on, int rounds)
        {
            Func<EdgeLight?, double> cost = on.Near(from);
            (EdgeLight light, double least) = Search(from, cost(from), cost, rounds);
            return new(light, least);
        }

        IEnumerable<Weighed> Chosen(IEnumerable<Weighed> from, int each, int most) =>
            from.GroupBy(l => Math.Round(fewer.Edge.Solve(l.Light).InwardMm.Average() / ApartMm)).SelectMany(g => g.OrderBy(l => l.Cost).Take(each)).OrderBy(l => l.Cost).Take(most);
        Weighed[] begun = starts.BesideEachOther(l => Followed(l, fewer, 2));
        Weighed[] on = Chosen(begun, OfEachLine, MostFollowed).BesideEachOther(l => Followed(l.Light, few, 4));
        return [.. Chosen(on, 1, MostLines).BesideEachOther(l => ToTheEnd(l.Light, few)).OrderBy(l => l.Cost)];
    }

    /// <summary>The likeliest light, begun from one that was found in sections drawn around another line.</summary>
    public Weighed Again(EdgeLight begin) => ToTheEnd(begin, new(this, Math.Max(1, _profiles.Count / Few), SpineEvery));

    /// <summary>How badly a light explains the paper beside edge and spine, steel left out (natural logarithm of what it leaves, both sides' sum).</summary>
    public double PaperMisfit(EdgeLight light) => new Sides(this, Math.Max(1, _profiles.Count / Few), SpineEvery).PaperMisfit(light);

    private Weighed ToTheEnd(EdgeLight from, Sides on)
    {
        Func<EdgeLight?, double> cost = on.Near(from);
        (EdgeLight light, double least) = Lit(from, cost(from), cost);
        return new(light, least);
    }

    private IEnumerable<EdgeLight> PlainLights() =>
        from bevel in new[] { 0.25, 0.45, 0.75, 1.2 }
        from lamps in s_plainLamps
        from z in _known is not null ? [Usual.HeelMm] : new[] { 0.6, 1.2, 2.5 }
        select EdgeLight.Usual with { BevelMm = bevel, HeelMm = z, TipMm = _known is not null ? Usual.TipMm : Math.Min(z, OutlineBudget.TipHeightMm), Lamps = lamps };

    private static readonly EdgeLamp[][] s_plainLamps = [[], [new(0.25, 0.25, 0, SmallLamp)], [new(0.25, 0.6, 0, SmallLamp)]];

    // Lights fitted with the edge held on a supposed line, then let go as a whole.
    private EdgeLight[] Supposed(IReadOnlyList<SupposedLine> lines, Sides on, int every)
    {
        double view = _profiles.Average(p => p.View);
        return lines.BesideEachOther(line =>
        {
            double[] some = [.. line.InwardMm.Where((_, i) => i % every == 0)];
            EdgeLamp[][] lamps = line.Lean > 0 ? [[], [new(0.35, line.Lean - view, 0, SmallLamp)], [new(0.35, line.Lean - view, 0, WideLamp)]] : [[]];
            EdgeLight[] starts = _beside is not null ? [Usual] : [.. new[] { 0.3, 0.6, 1.1 }.SelectMany(b => lamps.Select(l => Usual with { BevelMm = b, Lamps = l }))];
            EdgeLight light = Grow(starts, l => l is null ? double.PositiveInfinity : on.Edge.At(l, some) + Beforehand(l, on.Edge.Count), 3, 1).Light;
            return Shifted(on.Edge, light, some);
        });
    }

    private EdgeLight FromFew(IReadOnlyList<SupposedLine> lines, EdgeLight? begin)
    {
        int every = Math.Max(1, _profiles.Count / Few);
        var few = new Sides(this, every, SpineEvery);
        EdgeLight[] plain = begin is not null ? [begin] : _beside is null ? [.. PlainLights()] : [.. s_plainLamps.Select(lamps => Usual with { Lamps = lamps })];

        // A start near the truth is often dearer than one that has settled beside it: each gets a little way before the likeliest are chosen.
        var begun = plain.OrderBy(few.Cost).Take(PlainStarts).Concat(Supposed(lines, new(this, 2 * every, 2 * SpineEvery), 2 * every))
            .Select(l => Search(l, few.Cost(l), few.Cost, 2)).OrderBy(l => l.Cost).Take(4);
        return Grow([.. begun.Select(l => l.Light)], few.Cost, 6, 2).Light;
    }
}
