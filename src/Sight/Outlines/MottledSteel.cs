namespace Whetwright.Sight.Outlines;

/// <summary>
/// How much likelier the light along an edge is with a notch at a place than without one, where steel is mottled, streaked or stained as it is elsewhere along this edge. Such
/// tones hang together over several pixels, along the edge and across it: a notch's sharp rim departs from them, the soft rise of a stain does not, however strong it is.
/// A filter matched to a known shape in coloured noise: what is seen and what a notch changes are weighed by the inverse of the noise's covariance (Kay, Fundamentals of
/// Statistical Signal Processing, volume II, 1998, chapter 4, "generalized matched filters"; from memory).
/// </summary>
internal sealed class MottledSteel
{
    /// <summary>Round notches stand for pointed ones too: more shapes told no more chips. Depths, mm, and widths in depths. Chosen.</summary>
    private static readonly double[] s_depths = [0.45, 0.75, 1.25, 2.1];
    private static readonly double[] s_widths = [1.4, 2.4];

    /// <summary>A place is tried every so often, mm. Chosen.</summary>
    private const double EveryMm = 0.2;

    /// <summary>A cell blurs by its own width, a standard deviation in widths: that of an even spread, 1/√12.</summary>
    private const double OfCell = 0.289;

    /// <summary>An edge shorter than so many windows is not like anything elsewhere along it. Chosen.</summary>
    private const double FewestWindows = 2;

    private readonly CoarseTones _tones;
    private readonly double[] _gain;
    private readonly NotchShape[] _shape;

    public MottledSteel(EdgeStrip strip, StripTones tones, double blurMm)
    {
        _tones = new(strip, tones);
        (_gain, _shape) = (new double[_tones.Columns], new NotchShape[_tones.Columns]);
        Array.Fill(_gain, double.NegativeInfinity);
        double blur = Math.Sqrt((blurMm * blurMm) + Math.Pow(OfCell * _tones.CellMm, 2));
        int every = Math.Max(1, (int)Math.Round(EveryMm / _tones.CellMm));
        foreach (NotchShape shape in s_depths.SelectMany(d => s_widths.Select(w => new NotchShape(d, d * w, false))))
        {
            var window = NotchWindow.Of(_tones, shape, blur);
            if (FewestWindows * window.Reach * 2 > _tones.Columns)
                continue;
            var notch = new NotchInMottle(_tones, window, shape, blur);
            for (int m = window.Reach; m + window.Reach < _tones.Columns; m += every)
            {
                if (notch.Gain(m) is var gain && gain > _gain[m])
                    (_gain[m], _shape[m]) = (gain, shape);
            }
        }
    }

    /// <summary>The natural logarithm of that ratio of likelihoods for the best notch within a reach; 0 where none is better than no notch or the place is too near to an end.</summary>
    public double At(double atMm, double reachMm)
    {
        int from = Math.Max(0, _tones.ColumnAt(atMm - reachMm));
        int to = Math.Min(_gain.Length - 1, _tones.ColumnAt(atMm + reachMm));
        return to < from ? 0 : Math.Max(0, _gain[from..(to + 1)].Max());
    }

    /// <summary>Places at which it is more than <paramref name="least"/> and the most within a reach, each with its notch, the likeliest first.</summary>
    public IEnumerable<(double AtMm, NotchShape Shape)> Places(double least, double reachMm) =>
        Enumerable.Range(0, _gain.Length).Where(i => _gain[i] > least && _gain[i] >= At(_tones.PlaceOf(i), reachMm)).OrderByDescending(i => _gain[i]).Select(i => (_tones.PlaceOf(i), _shape[i]));
}
