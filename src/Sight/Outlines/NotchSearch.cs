namespace Whetwright.Sight.Outlines;

/// <summary>Looks along an edge for places that a notch explains: a few notches everywhere, then many shapes and places of a lamp's light where these explain something.</summary>
internal sealed class NotchSearch
{
    /// <summary>Nearer to heel or tip no notch is sought. Chosen.</summary>
    public const double EndMm = 1.5;

    /// <summary>Nearer to heel or tip than so many depths the heel's face and the tip's back are seen where steel should be. Chosen.</summary>
    private const double EndDepths = 2.5;

    private const double EveryMm = 0.25;
    private const double WidestMm = 9;

    /// <summary>What one of the first three notches must explain, less where the departure is faint. Chosen.</summary>
    private const double WorthALook = 0.15;

    /// <summary>A notch so much better, and within what a place is compared with, is what makes the place look like one. Chosen.</summary>
    private const double Much = 1.5;

    /// <summary>A departure that counts in full, in parts of the paper's light. Chosen.</summary>
    private const double PlainDeparture = 0.1;

    /// <summary>Where the edge's dark line is broken so plainly, a notch is tried whatever the steel behind looks like. Chosen.</summary>
    private const double BrokenWorthALook = 3;

    private const double BrokenApartMm = 1.5;

    /// <summary>The line is broken by a notch where it is broken so near to its middle, mm and share of its width. Chosen.</summary>
    private const double BrokenNearMm = 0.5, BrokenWithin = 0.35;

    private const int MostPlaces = 60;
    private const double NeighbourhoodMm = 25;
    private const double ElsewhereMm = 50;
    private const double ElsewhereEveryMm = 0.6;
    private const int FewestElsewhere = 10;

    /// <summary>Logs of likelihoods that are nearer to one another tell nothing apart. Chosen.</summary>
    private const double LeastSpread = 3;

    private static readonly NotchShape[] s_first = [new(0.55, 1.0, false), new(1.0, 2.0, false), new(2.0, 4.0, false)];
    private static readonly double[] s_depths = [0.42, 0.55, 0.7, 0.9, 1.2, 1.55, 2.0, 2.6, 3.3];
    private static readonly double[] s_widths = [1.2, 1.7, 2.4, 3.3];

    /// <summary>A shadow that takes less of the paper's light shows no patch of light in it. Chosen.</summary>
    private const double LeastShadow = 0.12;

    /// <summary>Softness of a lit patch's rim for each millimetre that it lies out: usual for lamps of a room. Chosen.</summary>
    private const double PatchSoft = 0.15;

    /// <summary>A notch's own walls and a low edge's shadow hide the paper along one flank of it. Chosen.</summary>
    private static readonly (double, double)[] s_near = [(0, 0.15), (-0.3, 0.15), (0.3, 0.15), (0, 0.3), (-0.5, 0.3), (0.5, 0.3)];

    private static readonly double[] s_out = [0.4, 0.7, 1.1, 1.6];
    private static readonly double[] s_along = [-1.5, -1, -0.5, 0, 0.5, 1, 1.5];
    private static readonly (NotchShape, LitPatch)[] s_firstInShadow = [(new(0.7, 1.4, false), new(0, 0.7, 0.1)), (new(1.0, 2.0, false), new(0, 1.2, 0.2))];

    private readonly EdgeStrip _strip;
    private readonly NotchLikelihood _likelihood;
    private readonly EdgeBreaks _breaks;
    private readonly List<(double AtMm, double Departure)> _along = [];
    private List<NotchFit> _found = [];

    public NotchSearch(EdgeStrip strip, double blurMm)
    {
        _strip = strip;
        _likelihood = new(strip, blurMm);
        _breaks = new(strip, _likelihood.Tones);
    }

    /// <summary>Places that look like notches, each once, with the best shape; the likeliest first.</summary>
    public IReadOnlyList<NotchFit> Find()
    {
        var places = new List<(double AtMm, double Score)>();
        double shadow = ShadowAlong();
        foreach ((NotchShape shape, LitPatch patch) in s_first.Select(f => (f, default(LitPatch))).Concat(shadow > LeastShadow ? s_firstInShadow : []))
        {
            var row = new List<(double AtMm, double Score)>();
            for (double at = EndMm; at < _strip.LengthMm - EndMm; at += EveryMm)
            {
                NotchFit? fit = _likelihood.Model.Fit(at, shape, patch);
                row.Add((at, fit is null ? 0 : fit.Explained * Math.Min(1, fit.Departure / PlainDeparture)));
                if (fit is not null && shape == s_first[0] && patch == default)
                    _along.Add((at, fit.Departure));
            }

            for (int i = 1; i < row.Count - 1; i++)
            {
                if (row[i].Score > WorthALook && row[i].Score >= row[i - 1].Score && row[i].Score >= row[i + 1].Score)
                    places.Add(row[i]);
            }
        }

        var fits = new List<NotchFit>();
        IEnumerable<double> broken = _breaks.Places(BrokenWorthALook, BrokenApartMm).Where(at => at > EndMm && at < _strip.LengthMm - EndMm);
        foreach (double at in places.OrderByDescending(p => p.Score).Take(MostPlaces).Select(p => p.AtMm).Concat(broken))
        {
            if (fits.All(f => Math.Abs(f.AtMm - at) >= 0.35) && Shaped(at) is { } fit)
                fits.Add(fit);
        }

        _found = [];
        foreach (NotchFit fit in fits.OrderByDescending(Score))
        {
            if (_found.All(f => Math.Abs(f.AtMm - fit.AtMm) > (Score(f) > Much * Score(fit) ? (f.Shape.WidthMm / 2) + _likelihood.Model.ReachMm(fit.Shape.WidthMm) : 0.4 * (f.Shape.WidthMm + fit.Shape.WidthMm))))
                _found.Add(fit);
        }

        return _found;
    }

    /// <summary>What speaks for and against one that was found.</summary>
    public ChipEvidence Weigh(NotchFit fit)
    {
        double[] near = [.. _along.Where(a => Math.Abs(a.AtMm - fit.AtMm) < NeighbourhoodMm && Math.Abs(a.AtMm - fit.AtMm) > (fit.Shape.WidthMm / 2) + 1.3).Select(a => a.Departure).Order()];
        double large = near.Length == 0 ? 1 : near[(int)(0.8 * near.Length)];
        return new(fit.Explained, _likelihood.Model.Stain(fit), Ratio(fit.Departure, large), StandsOut(fit), _breaks.At(fit.AtMm, Math.Max(BrokenNearMm, BrokenWithin * fit.Shape.WidthMm)), fit.Opened, fit.Shape);
    }

    // How far the likelihood of such a notch stands out from that of the same notch elsewhere along the edge, where the steel is of the same kind: against the larger ones (nine in
    // ten stay below), in their usual spread.
    private double StandsOut(NotchFit fit)
    {
        IReadOnlyList<NotchLikelihood.Opened> opened = _likelihood.Of(fit.Shape, fit.Patch);
        if (_likelihood.At(fit.AtMm, fit.Shape, fit.Patch, opened) is not { } there)
            return 0;
        var elsewhere = new List<double>();
        for (double at = EndMm; at < _strip.LengthMm - EndMm; at += ElsewhereEveryMm)
        {
            double off = Math.Abs(at - fit.AtMm);
            if (off >= fit.Shape.WidthMm + 1 + Math.Abs(fit.Patch.AlongMm) && off <= ElsewhereMm && _likelihood.At(at, fit.Shape, fit.Patch, opened) is { } other)
                elsewhere.Add(other);
        }

        if (elsewhere.Count < FewestElsewhere)
            return 0;
        elsewhere.Sort();
        (double usual, double large) = (elsewhere[elsewhere.Count / 2], elsewhere[(int)(0.9 * elsewhere.Count)]);
        return (there - large) / (large - usual + LeastSpread);
    }

    private static double Ratio(double departure, double of) => Math.Max(departure, 1e-4) / Math.Max(of, 1e-3);

    // Shadow that is usual along the edge.
    private double ShadowAlong()
    {
        double[] all = [.. Enumerable.Range(1, 19).Select(i => _likelihood.Model.ShadowAt(_strip.LengthMm * i / 20)).Order()];
        return all[all.Length / 2];
    }

    private NotchFit? Shaped(double at)
    {
        NotchFit? best = null;
        void Take(double place, NotchShape shape, LitPatch patch)
        {
            if (shape.WidthMm <= WidestMm && Math.Min(place, _strip.LengthMm - place) >= EndMm + 0.5 + (EndDepths * shape.DepthMm) && _likelihood.Model.Fit(place, shape, patch) is { } fit && Score(fit) > (best is null ? 0 : Score(best)))
                best = fit;
        }

        void All(double place, LitPatch patch)
        {
            foreach (double depth in s_depths)
            {
                foreach (double width in s_widths)
                {
                    Take(place, new(depth, depth * width, false), patch);
                    Take(place, new(depth, depth * width, true), patch);
                }
            }
        }

        All(at, default);
        if (best is not null)
        {
            NotchShape first = best.Shape;
            foreach ((double along, double outward) in s_near)
                Take(best.AtMm, first, new(along, outward, PatchSoft * outward));
        }

        if (_likelihood.Model.ShadowAt(at) > LeastShadow)
        {
            NotchShape[] shapes = best is null ? s_first : [best.Shape, .. s_first];
            foreach (double outward in s_out)
            {
                foreach (double along in s_along)
                {
                    LitPatch patch = new(along * outward, outward, PatchSoft * outward);
                    foreach (NotchShape shape in shapes)
                    {
                        Take(at, shape, patch);
                        Take(at - patch.AlongMm, shape, patch);
                    }
                }
            }

            if (best is { Patch.OutMm: > 0 })
            {
                All(best.AtMm, best.Patch);
                LitPatch there = best.Patch;
                foreach (double outward in new[] { 0.8, 0.9, 1, 1.12, 1.25 })
                {
                    foreach (double along in new[] { -0.25, -0.12, 0, 0.12, 0.25 })
                        Take(best.AtMm, best.Shape, new(there.AlongMm + (along * there.OutMm), there.OutMm * outward, there.SoftMm));
                }
            }
        }

        if (best is null)
            return null;
        NotchShape found = best.Shape;
        double place = best.AtMm;
        foreach (double aside in new[] { -0.4, -0.2, -0.1, 0.1, 0.2, 0.4 })
            Take(place + aside, found, best.Patch);
        (place, found) = (best.AtMm, best.Shape);
        LitPatch lit = best.Patch;
        foreach (double deeper in new[] { 0.85, 1, 1.15 })
        {
            foreach (double wider in new[] { 0.85, 1, 1.15 })
            {
                Take(place, new(found.DepthMm * deeper, found.WidthMm * wider, false), lit);
                Take(place, new(found.DepthMm * deeper, found.WidthMm * wider, true), lit);
            }
        }

        return best;
    }

    /// <summary>How good a fit is: explained share on a logarithm, less where little is opened, and more for a notch that is plainly seen. Chosen from trials.</summary>
    private static double Score(NotchFit fit)
    {
        double closed = Math.Min(0, fit.Opened - 0.9) / 0.35;
        return Math.Max(0, -Math.Log(Math.Max(0.002, 1 - fit.Explained)) - (0.075 * closed * closed)) * Math.Pow(Math.Max(0, fit.Gain), 0.3);
    }
}
