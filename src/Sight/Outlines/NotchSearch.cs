namespace Whetwright.Sight.Outlines;

/// <summary>Looks along an edge for places that a notch explains: three notches everywhere, then many shapes where these explain something.</summary>
internal sealed class NotchSearch(EdgeStrip strip, double blurMm)
{
    private const double EndMm = 1.5;
    /// <summary>Nearer to heel or tip than so many depths the heel's face and the tip's back are seen where steel should be. Chosen.</summary>
    private const double EndDepths = 2.5;

    private const double EveryMm = 0.25;
    private const double WidestMm = 9;

    /// <summary>What one of the first three notches must explain, less where the departure is faint. Chosen.</summary>
    private const double WorthALook = 0.15;

    /// <summary>A departure that counts in full, in parts of the paper's light. Chosen.</summary>
    private const double PlainDeparture = 0.1;

    private const int MostPlaces = 60;
    private const double NeighbourhoodMm = 25;

    private static readonly NotchShape[] s_first = [new(0.55, 1.0, false), new(1.0, 2.0, false), new(2.0, 4.0, false)];
    private static readonly double[] s_depths = [0.42, 0.55, 0.7, 0.9, 1.2, 1.55, 2.0, 2.6, 3.3];
    private static readonly double[] s_widths = [1.2, 1.7, 2.4, 3.3];

    private readonly NotchModel _model = new(strip, blurMm);
    private readonly List<(double AtMm, double Departure)> _along = [];
    private List<NotchFit> _found = [];

    /// <summary>Places that look like notches, each once, with the best shape; the likeliest first.</summary>
    public IReadOnlyList<NotchFit> Find()
    {
        var places = new List<(double AtMm, double Score)>();
        foreach (NotchShape shape in s_first)
        {
            var row = new List<(double AtMm, double Score)>();
            for (double at = EndMm; at < strip.LengthMm - EndMm; at += EveryMm)
            {
                NotchFit? fit = _model.Fit(at, shape);
                row.Add((at, fit is null ? 0 : fit.Explained * Math.Min(1, fit.Departure / PlainDeparture)));
                if (fit is not null && shape == s_first[0])
                    _along.Add((at, fit.Departure));
            }

            for (int i = 1; i < row.Count - 1; i++)
            {
                if (row[i].Score > WorthALook && row[i].Score >= row[i - 1].Score && row[i].Score >= row[i + 1].Score)
                    places.Add(row[i]);
            }
        }

        var fits = new List<NotchFit>();
        foreach ((double at, _) in places.OrderByDescending(p => p.Score).Take(MostPlaces))
        {
            if (fits.All(f => Math.Abs(f.AtMm - at) >= 0.35) && Shaped(at) is { } fit)
                fits.Add(fit);
        }

        _found = [];
        foreach (NotchFit fit in fits.OrderByDescending(Score))
        {
            if (_found.All(f => Math.Abs(f.AtMm - fit.AtMm) > 0.4 * (f.Shape.WidthMm + fit.Shape.WidthMm)))
                _found.Add(fit);
        }

        return _found;
    }

    /// <summary>What speaks for and against one that was found.</summary>
    public ChipEvidence Weigh(NotchFit fit)
    {
        double[] all = [.. _along.Select(a => a.Departure).Order()];
        double[] near = [.. _along.Where(a => Math.Abs(a.AtMm - fit.AtMm) < NeighbourhoodMm && Math.Abs(a.AtMm - fit.AtMm) > (fit.Shape.WidthMm / 2) + 1.3).Select(a => a.Departure).Order()];
        double usual = all.Length == 0 ? 1 : all[all.Length / 2];
        double large = near.Length == 0 ? 1 : near[(int)(0.8 * near.Length)];
        int likes = _found.Count(f => f != fit && Math.Abs(f.AtMm - fit.AtMm) < NeighbourhoodMm && f.Explained is > 0.45 and < 0.9 && f.Departure > 0.35 * fit.Departure);
        return new(fit.Explained, _model.AtEdge(fit), _model.Stain(fit), Ratio(fit.Departure, large), Ratio(large, usual), likes);
    }

    private static double Ratio(double departure, double of) => Math.Max(departure, 1e-4) / Math.Max(of, 1e-3);

    private NotchFit? Shaped(double at)
    {
        NotchFit? best = null;
        void Take(double place, NotchShape shape)
        {
            if (shape.WidthMm <= WidestMm && _model.Fit(place, shape) is { } fit && Score(fit) > (best is null ? 0 : Score(best)))
                best = fit;
        }

        foreach (double depth in s_depths.Where(d => Math.Min(at, strip.LengthMm - at) >= EndMm + 0.5 + (EndDepths * d)))
        {
            foreach (double width in s_widths)
            {
                Take(at, new(depth, depth * width, false));
                Take(at, new(depth, depth * width, true));
            }
        }

        if (best is null)
            return null;
        NotchShape found = best.Shape;
        foreach (double aside in new[] { -0.4, -0.2, -0.1, 0.1, 0.2, 0.4 })
            Take(at + aside, found);
        (double place, found) = (best.AtMm, best.Shape);
        foreach (double deeper in new[] { 0.85, 1, 1.15 })
        {
            foreach (double wider in new[] { 0.85, 1, 1.15 })
            {
                Take(place, new(found.DepthMm * deeper, found.WidthMm * wider, false));
                Take(place, new(found.DepthMm * deeper, found.WidthMm * wider, true));
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
