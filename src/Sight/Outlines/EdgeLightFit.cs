namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the light of a whole edge and, with it, where the steel begins in each section: tones of open paper, bevel and flank are solved in each
/// section and channel, the edge's places by dynamic programming (neighbours lie near each other), the light by a pattern search.
/// </summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>How far outside and inside the line the edge is looked for.</summary>
    private const double OutermostMm = -0.8;
    private const double InnermostMm = 2.6;

    /// <summary>Misfit that no model of ours gets below, as a share of the paper's light. Chosen.</summary>
    private const double Floor = 0.012;

    /// <summary>Neighbouring sections, 2 mm apart, differ by this. Chosen.</summary>
    private const double NeighbourMm = 0.04;

    /// <summary>Light that the camera no longer tells apart, and what it still counts. Chosen.</summary>
    private const double Full = 0.95;
    private const double OfFull = 0.05;

    /// <summary>What four more numbers must be worth in all. Chosen from trials.</summary>
    private const double LampMustGain = 24;

    /// <summary>What is known beforehand counts this much for each section: sections that miss the model miss it alike. Chosen from trials.</summary>
    private const double PriorPerSection = 0.4;

    /// <summary>From here inward a section counts less: far from the edge other things are seen than the model knows of. Chosen.</summary>
    private const double InsideMm = 1.5;

    private const double FarthestSigma2 = 6;

    /// <summary>Half-widths of lamps per millimetre of their height where a search begins: a bulb's shade, a tube. Chosen.</summary>
    private const double SmallLamp = 0.12;
    private const double WideLamp = 0.3;

    /// <summary>How many beginnings without a supposed line are followed. Chosen.</summary>
    private const int PlainStarts = 3;

    private static readonly double[] s_shiftsMm = [-0.6, -0.3, 0.3, 0.6, 1, 1.5];

    private readonly IReadOnlyList<EdgeProfile> _profiles;
    private readonly double _blurMm;
    private readonly double _looks;

    private readonly KnownHeight? _known;
    private readonly EdgeLight? _beside;

    /// <summary>Of the profiles along one edge.</summary>
    /// <param name="profiles">Light across the edge.</param>
    /// <param name="blurMm">The camera's blur on the mat.</param>
    /// <param name="pixelMm">A pixel on the mat.</param>
    /// <param name="known">Height of the middle of the edge over the mat, where it is known.</param>
    /// <param name="beside">Of a bare side, which has no bevel: what the light found along the edge of the same blade tells of it.</param>
    public EdgeLightFit(IReadOnlyList<EdgeProfile> profiles, double blurMm, double pixelMm, KnownHeight? known = null, EdgeLight? beside = null)
    {
        _profiles = profiles;
        _known = known;
        _beside = beside;
        _blurMm = Math.Max(blurMm, 0.4 * pixelMm);
        _looks = 3.0 / Math.Max(pixelMm, 1.5 * _blurMm);
    }

    private EdgeLight Usual => _beside ?? (_known is { } known ? EdgeLight.Usual.At(known) : EdgeLight.Usual);

    /// <summary>Places of the steel, inward from the line, with what each costs and how sharply.</summary>
    public sealed record Places(double[] InwardMm, double[] Cost, double[] Curvature, double Total);

    /// <summary>Where the edge may lie.</summary>
    /// <param name="InwardMm">Inward from the line of stations, section by section.</param>
    /// <param name="Lean">How far the line of stations, taken for the rim of a lamp's shadow, lies outside per millimetre of height; 0 where it is not.</param>
    public readonly record struct SupposedLine(double[] InwardMm, double Lean = 0);

    /// <summary>The light that fits best, and the edge's places under it.</summary>
    /// <param name="lines">Lines from which to begin too: the light is fitted with the edge held there, then let go.</param>
    /// <param name="begin">Where to begin from an earlier pass.</param>
    public (EdgeLight Light, Places Places) Find(IReadOnlyList<SupposedLine> lines, EdgeLight? begin = null)
    {
        int every = Math.Max(1, _profiles.Count / 36);
        var few = new Grid([.. _profiles.Where((_, i) => i % every == 0)], 2, true, this);
        var fewer = new Grid([.. _profiles.Where((_, i) => i % (2 * every) == 0)], 2, true, this);
        double Cost(EdgeLight? light) => light is null ? double.PositiveInfinity : few.Solve(light).Total + Beforehand(light, few);
        var starts = new List<(EdgeLight Light, double Cost)>();
        if (begin is not null)
        {
            starts.Add((begin, Cost(begin)));
        }
        else if (_beside is not null)
        {
            starts.AddRange(new EdgeLamp[][] { [], [new(0.25, 0.25, 0, 0.12)], [new(0.25, 0.6, 0, 0.12)] }.Select(lamps => Usual with { Lamps = lamps }).Select(light => (light, Cost(light))));
        }
        else
        {
            foreach (double bevel in new[] { 0.25, 0.45, 0.75, 1.2 })
            {
                foreach (EdgeLamp[] lamps in new EdgeLamp[][] { [], [new(0.25, 0.25, 0, SmallLamp)], [new(0.25, 0.6, 0, SmallLamp)] })
                {
                    foreach (double z in _known is not null ? [Usual.HeelMm] : new[] { 0.6, 1.2, 2.5 })
                    {
                        EdgeLight light = EdgeLight.Usual with { BevelMm = bevel, HeelMm = z, TipMm = Math.Min(z, OutlineBudget.TipHeightMm), Lamps = lamps };
                        starts.Add((light, Cost(light)));
                    }
                }
            }
        }

        var supposed = new List<(EdgeLight Light, double Cost)>();
        foreach ((double[] held, double lean) in lines)
        {
            double[] some = [.. held.Where((_, i) => i % (2 * every) == 0)];
            double view = _profiles.Average(p => p.View);
            EdgeLamp[][] lamps = lean > 0 ? [[], [new(0.35, lean - view, 0, SmallLamp)], [new(0.35, lean - view, 0, WideLamp)]] : [[]];
            EdgeLight light = Grow(_beside is not null ? [Usual] : [.. new[] { 0.3, 0.6, 1.1 }.SelectMany(b => lamps.Select(l => Usual with { BevelMm = b, Lamps = l }))], l => l is null ? double.PositiveInfinity : fewer.At(l, some) + Beforehand(l, fewer), 3, 1).Light;
            light = Shifted(fewer, light, some);
            supposed.Add((light, Cost(light)));
        }

        // A start near the truth is often dearer than one that has settled beside it: each gets a little way before the likeliest are chosen.
        var begun = starts.OrderBy(s => s.Cost).Take(PlainStarts).Concat(supposed).Select(s => Search(s.Light, s.Cost, Cost, 2)).OrderBy(s => s.Cost).Take(4);
        EdgeLight best = Grow([.. begun.Select(s => s.Light)], Cost, 6, 2).Light;
        return (best, new Grid(_profiles, 1, false, this).Solve(best));
    }

    // The light with a held edge let go as a whole, in the measure of its height.
    private EdgeLight Shifted(Grid grid, EdgeLight from, double[] inwardMm)
    {
        double At(EdgeLight? light, double shift) => light is null ? double.PositiveInfinity
            : grid.At(light, [.. inwardMm.Select((v, i) => v + (shift * light.HeightAt(grid.Share(i)) / Math.Max(0.2, light.HeightAt(0.5))))]) + Beforehand(light, grid);
        double[] row = [.. from.ToRow(), 0];
        (row, _) = Search(row, At(from, 0), [.. EdgeLight.Steps(row.Length - 1), 0.1], r => At(EdgeLight.FromRow(r[..^1]), r[^1]), 10);
        return EdgeLight.FromRow(row[..^1]) ?? from;
    }

    // Each start is searched; the best of them get lamps as long as they are worth it.
    private static (EdgeLight Light, double Cost) Grow(IReadOnlyList<EdgeLight> starts, Func<EdgeLight?, double> cost, int rounds, int best)
    {
        var begun = starts.Select(s => Search(s, cost(s), cost, rounds)).OrderBy(s => s.Cost).Take(best);
        return begun.Select(s => Lit(s.Light, s.Cost, cost)).MinBy(s => s.Cost);
    }

    private static (EdgeLight Light, double Cost) Lit(EdgeLight from, double at, Func<EdgeLight?, double> cost)
    {
        (EdgeLight best, double least) = Search(from, at, cost, 8);
        while (best.Lamps.Count < 2)
        {
            EdgeLight with = best;
            double now = double.PositiveInfinity;
            foreach (double share in new[] { 0.15, 0.35 })
            {
                foreach (double lean in new[] { 0.1, 0.25, 0.45, 0.7, 1.0 })
                {
                    EdgeLight light = best with { Lamps = [.. best.Lamps, new(share, lean, 0, SmallLamp)], Sky = Math.Min(best.Sky, 0.9 - share) };
                    double c = cost(light);
                    if (c < now)
                        (with, now) = (light, c);
                }
            }

            (with, now) = Search(with, now, cost, 8);
            if (now > least - LampMustGain)
                break;
            (best, least) = (with, now);
        }

        return (best, least);
    }

    /// <summary>
    /// How far the whole edge may lie from where it was found, as the shadows tell it, mm: it is shifted inward and outward in the measure of its height, the light
    /// fitted anew to each shift, and the shifts weighed by how well they explain a section.
    /// </summary>
    public double DoubtMm(EdgeLight light, double[] inwardMm)
    {
        var grid = new Grid(_profiles, 1, false, this);
        double middle = Math.Max(0.2, light.HeightAt(0.5));
        double At(double shift)
        {
            double[] moved = [.. inwardMm.Select((v, i) => v + (shift * light.HeightAt(_profiles[i].Share) / middle))];
            double Cost(EdgeLight? l) => l is null ? double.PositiveInfinity : grid.At(l, moved) + Beforehand(l, grid);
            return Search(light, Cost(light), Cost, 4).Cost / inwardMm.Length;
        }

        double here = At(0);
        double weights = 1;
        double sum = 0;
        foreach (double shift in s_shiftsMm)
        {
            double weight = Math.Exp(-0.25 * Math.Max(0, At(shift) - here)); // sections miss the model alike: half as sure as they were one by one
            weights += weight;
            sum += weight * shift * shift;
        }

        return Math.Sqrt(sum / weights);
    }

    private double Beforehand(EdgeLight light, Grid grid) => PriorPerSection * grid.Count * light.Prior(_known, _beside);

    private static (EdgeLight Light, double Cost) Search(EdgeLight from, double least, Func<EdgeLight?, double> cost, int rounds)
    {
        double[] row = from.ToRow();
        (row, least) = Search(row, least, EdgeLight.Steps(row.Length), r => cost(EdgeLight.FromRow(r)), rounds);
        return (EdgeLight.FromRow(row) ?? from, least);
    }

    // Along each number in turn, forth or back, steps growing where that helps.
    private static (double[] Row, double Cost) Search(double[] p, double least, double[] step, Func<double[], double> cost, int rounds)
    {
        for (int round = 0; round < rounds; round++)
        {
            (double before, double[] begun) = (least, p);
            for (int k = 0; k < p.Length; k++)
            {
                bool better = false;
                foreach (int sign in new[] { 1, -1 })
                {
                    double[] q = [.. p];
                    q[k] += sign * step[k];
                    double c = cost(q);
                    if (c < least)
                    {
                        (p, least, better) = (q, c, true);
                        break;
                    }
                }

                step[k] *= better ? 1.3 : 0.5;
            }

            // A valley runs aslant to the numbers: the round's way once more, as long as that is better.
            for (bool on = !ReferenceEquals(p, begun); on;)
            {
                double[] q = [.. p.Select((v, k) => (2 * v) - begun[k])];
                double c = cost(q);
                on = c < least;
                if (on)
                    (begun, p, least) = (p, q, c);
            }

            if (before - least < 0.3 && round > 3)
                break;
        }

        return (p, least);
    }
}
