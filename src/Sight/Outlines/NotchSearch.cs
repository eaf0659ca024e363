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

    /// <summary>So near beside a chip, mm, what looks like another is the light that falls through it, or its wall. Chosen.</summary>
    private const double ItsLightMm = 1.5;

    /// <summary>So much better a notch is no rival of another beside it but what makes its place look like one. Chosen.</summary>
    private const double Much = 1.5;

    /// <summary>A departure that counts in full, in parts of the paper's light. Chosen.</summary>
    private const double PlainDeparture = 0.1;

    /// <summary>Where the rim dips so plainly, a notch is tried whatever the steel behind looks like. Chosen.</summary>
    private const double DipWorthALook = 2.5;

    private const double DipApartMm = 1.5;

    /// <summary>The rim dips by a notch where it dips so near to its middle, mm and share of its width. Chosen.</summary>
    private const double DipNearMm = 0.5, DipWithin = 0.25;

    /// <summary>How deep the rim dips is looked for so far to both sides of a notch's middle, share of its width. Chosen.</summary>
    private const double SurelyWithin = 0.45;

    /// <summary>Log of a ratio of likelihoods against mottle from which a place is tried, how far such places lie apart, and how near a notch counts for it. Chosen.</summary>
    private const double SharpWorthALook = 4, SharpApartMm = 1, SharpNearMm = 0.6, SharpWithin = 0.35;

    /// <summary>What is unlikelier, by log odds, is told by no second photo either, and its shape not looked into. Chosen.</summary>
    private const double WorthAShape = -4;

    private const int MostSharp = 30;

    private const int MostPlaces = 60;
    private const double NeighbourhoodMm = 25;

    private static readonly NotchShape[] s_first = [new(0.55, 1.0, false), new(1.0, 2.0, false), new(2.0, 4.0, false)];
    private static readonly double[] s_depths = [0.42, 0.55, 0.7, 0.9, 1.2, 1.55, 2.0, 2.6, 3.3];
    private static readonly double[] s_widths = [1.2, 1.7, 2.4, 3.3];

    /// <summary>A shadow that takes less of the paper's light shows no patch of light in it. Chosen.</summary>
    private const double LeastShadow = 0.12;

    /// <summary>Softness of a lit patch's rim for each millimetre that it lies out: usual for lamps of a room. Chosen.</summary>
    private const double PatchSoft = 0.15;

    /// <summary>A notch's own walls and a low edge's shadow hide the paper along one flank of it. Chosen.</summary>
    private static readonly (double, double)[] s_near = [(0, 0.15), (-0.3, 0.15), (0.3, 0.15), (0, 0.3), (-0.5, 0.3), (0.5, 0.3)];

    /// <summary>A sharp notch's place is known to some tenths, mm, its size to a third: it was tried in few sizes.</summary>
    private static readonly double[] s_aside = [0, -0.2, -0.1, 0.1, 0.2], s_larger = [1, 0.8, 1.25];

    private static readonly double[] s_out = [0.4, 0.7, 1.1, 1.6];
    private static readonly double[] s_along = [-1.5, -1, -0.5, 0, 0.5, 1, 1.5];
    private static readonly (NotchShape, LitPatch)[] s_firstInShadow = [(new(0.7, 1.4, false), new(0, 0.7, 0.1)), (new(1.0, 2.0, false), new(0, 1.2, 0.2))];

    private readonly EdgeStrip _strip;
    private readonly NotchModel _model;
    private readonly RimDips _foot, _halfway;
    private readonly MottledSteel _mottle;
    private readonly StripTones _tones;
    private readonly double _blurMm;
    private readonly List<(double AtMm, double Departure)> _along = [];

    public NotchSearch(EdgeStrip strip, double blurMm)
    {
        (_strip, _tones, _blurMm) = (strip, new(strip), blurMm);
        _model = new(strip, blurMm);
        (_foot, _halfway) = RimDips.Of(strip, _tones);
        _mottle = new(strip, _tones, blurMm);
    }

    /// <summary>Places that look like notches, each once, with the best shape; the likeliest first.</summary>
    private List<NotchFit> Find()
    {
        var places = new List<(double AtMm, double Score)>();
        double shadow = ShadowAlong();
        foreach ((NotchShape shape, LitPatch patch) in s_first.Select(f => (f, default(LitPatch))).Concat(shadow > LeastShadow ? s_firstInShadow : []))
        {
            var row = new List<(double AtMm, double Score)>();
            for (double at = EndMm; at < _strip.LengthMm - EndMm; at += EveryMm)
            {
                NotchFit? fit = _model.Fit(at, shape, patch);
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
        var sharp = _mottle.Places(SharpWorthALook, SharpApartMm).Where(p => p.AtMm > EndMm && p.AtMm < _strip.LengthMm - EndMm).Take(MostSharp).ToList();
        var dips = _foot.Places(DipWorthALook, DipApartMm).Take(MostSharp).ToList();
        foreach (double at in places.OrderByDescending(p => p.Score).Take(MostPlaces).Select(p => p.AtMm).Concat(dips).Concat(sharp.Select(p => p.AtMm)))
        {
            if (fits.All(f => Math.Abs(f.AtMm - at) >= 0.35) && Shaped(at) is { } fit)
                fits.Add(fit);
        }

        var found = new List<NotchFit>();
        foreach (NotchFit fit in fits.OrderByDescending(Score))
        {
            if (found.All(f => Math.Abs(f.AtMm - fit.AtMm) > AsOne(f, fit) && !Outdone(fit, f)))
                found.Add(fit);
        }

        // What is large and soft explains much of what is seen, the small sharp notch within it, or the one where the rim dips, is likelier all the same: all are weighed.
        foreach ((double at, NotchShape shape) in sharp)
        {
            if (Sharp(at, shape) is { } fit && found.All(f => Math.Abs(f.AtMm - fit.AtMm) <= AsOne(f, fit) || !Outdone(fit, f)))
                found.Add(fit);
        }

        return [.. found, .. dips.Select(at => Shaped(at, true)).OfType<NotchFit>()];
    }

    // As near two notches are one.
    private static double AsOne(NotchFit a, NotchFit b) => 0.4 * (a.Shape.WidthMm + b.Shape.WidthMm);

    // A notch so much better, and within what a place is compared with, is what makes the place look like one.
    private bool Outdone(NotchFit fit, NotchFit by) => Score(by) > Much * Score(fit) && Math.Abs(by.AtMm - fit.AtMm) <= (by.Shape.WidthMm / 2) + _model.ReachMm(fit.Shape.WidthMm);

    // The notch that is likelier than mottle, its place and size as they explain most of what is seen; null too near to an end.
    private NotchFit? Sharp(double at, NotchShape shape)
    {
        if (_model.Fit(at, shape) is not { } best)
            return null;
        foreach (double aside in s_aside)
        {
            foreach (double deeper in s_larger)
            {
                foreach (double wider in s_larger)
                {
                    if (_model.Fit(at + aside, new(shape.DepthMm * deeper, shape.WidthMm * wider, false)) is { } fit && Score(fit) > Score(best))
                        best = fit;
                }
            }
        }

        return Math.Min(best.AtMm, _strip.LengthMm - best.AtMm) < EndMm + 0.5 + (EndDepths * best.Shape.DepthMm) ? null : best;
    }

    /// <summary>Places that look like notches, of several at one place the likeliest, with what speaks for and against them; the likeliest first.</summary>
    public IReadOnlyList<WeighedNotch> Weighed()
    {
        var weighed = new List<WeighedNotch>();
        foreach (WeighedNotch w in Find().Select(Weigh).OrderByDescending(w => w.Evidence.LogOdds))
        {
            if (weighed.All(t => Math.Abs(t.Notch.AtMm - w.Notch.AtMm) > AsOne(t.Notch, w.Notch)))
                weighed.Add(w);
        }

        return [.. weighed.Where(w => !weighed.Any(t => IsItsLight(w, t))).Select(AsTold)];
    }

    // So near beside a chip what a stain explains better is no second one.
    private static bool IsItsLight(WeighedNotch one, WeighedNotch chip) =>
        chip.Evidence.LogOdds >= ChipFinder.LeastLogOdds && chip.Evidence.OverStain > one.Evidence.OverStain && Math.Abs(chip.Notch.AtMm - one.Notch.AtMm) <= AsOne(chip.Notch, one.Notch) + ItsLightMm;

    /// <summary>One that was found, with what speaks for and against it.</summary>
    private WeighedNotch Weigh(NotchFit fit)
    {
        double[] near = [.. _along.Where(a => Math.Abs(a.AtMm - fit.AtMm) < NeighbourhoodMm && Math.Abs(a.AtMm - fit.AtMm) > (fit.Shape.WidthMm / 2) + 1.3).Select(a => a.Departure).Order()];
        double large = near.Length == 0 ? 1 : near[(int)(0.8 * near.Length)];
        double within = Math.Max(DipNearMm, DipWithin * fit.Shape.WidthMm);
        var evidence = new ChipEvidence(fit.Explained, _model.Stain(fit), Ratio(fit.Departure, large), _foot.At(fit.AtMm, within), _halfway.At(fit.AtMm, within), _mottle.At(fit.AtMm, Math.Max(SharpNearMm, SharpWithin * fit.Shape.WidthMm)), fit.Shape);
        return new(fit, evidence, fit.AtMm, fit.Shape);
    }

    // With its place and shape as told; only of what is kept, for it takes a while.
    private WeighedNotch AsTold(WeighedNotch weighed)
    {
        (double at, NotchShape shape) = (weighed.Notch.AtMm, weighed.Notch.Shape);
        double half = SurelyWithin * shape.WidthMm;
        NotchShape sized = ChipSize.Of(shape, _foot.DepthMm(at, half), _halfway.DepthMm(at, half));
        (double atMm, NotchShape told) = weighed.Evidence.LogOdds < WorthAShape ? (at, sized) : ChipShape.Of(_strip, _tones, at, sized, _blurMm);
        return weighed with { ToldAtMm = atMm, Told = told };
    }

    private static double Ratio(double departure, double of) => Math.Max(departure, 1e-4) / Math.Max(of, 1e-3);

    // Shadow that is usual along the edge.
    private double ShadowAlong()
    {
        double[] all = [.. Enumerable.Range(1, 19).Select(i => _model.ShadowAt(_strip.LengthMm * i / 20)).Order()];
        return all[all.Length / 2];
    }

    // The notch that explains a place best; in place: not one nearby whose lamp's light falls there.
    private NotchFit? Shaped(double at, bool inPlace = false)
    {
        NotchFit? best = null;
        void Take(double place, NotchShape shape, LitPatch patch)
        {
            if (shape.WidthMm <= WidestMm && Math.Min(place, _strip.LengthMm - place) >= EndMm + 0.5 + (EndDepths * shape.DepthMm) && _model.Fit(place, shape, patch) is { } fit && Score(fit) > (best is null ? 0 : Score(best)))
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

        if (!inPlace && _model.ShadowAt(at) > LeastShadow)
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
