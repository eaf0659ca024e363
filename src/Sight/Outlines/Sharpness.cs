using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// How blurred the photo is, from the printed edges of the fiducials: the standard deviation of the edge spread, px, as half the
/// distance between 16 and 84 % of the step. Takes the print itself as sharp.
/// </summary>
internal static class Sharpness
{
    /// <summary>Median of the blur over all sides of the fiducials, and of the side that is worst across (motion).</summary>
    public static (double SigmaPx, double WorstSigmaPx) Of(PhotoSampler sampler, FoundSheet sheet)
    {
        var alongX = new List<double>();
        var alongY = new List<double>();
        foreach (SeenFiducial f in sheet.Fiducials)
        {
            for (int side = 0; side < 4; side++)
            {
                Point2 a = f.CornersPx[side];
                Point2 b = f.CornersPx[(side + 1) % 4];
                Vector2 t = (b - a).Normalized();
                double module = a.DistanceTo(b) / 6;
                var found = new List<double>();
                for (double at = 0.2; at < 0.85; at += 0.15)
                {
                    if (Width(sampler, a + ((b - a) * at), new(t.Y, -t.X), Math.Min(0.8 * module, 8)) is double sigma)
                        found.Add(sigma);
                }

                if (found.Count > 0)
                    (Math.Abs(t.X) > Math.Abs(t.Y) ? alongY : alongX).Add(found.Order().ElementAt(found.Count / 2));
            }
        }

        if (alongX.Count == 0 || alongY.Count == 0)
            return (1, 1);
        double x = alongX.Order().ElementAt(alongX.Count / 2);
        double y = alongY.Order().ElementAt(alongY.Count / 2);
        return (Math.Sqrt(x * y), Math.Max(x, y));
    }

    private static double? Width(PhotoSampler sampler, Point2 at, Vector2 outward, double reach)
    {
        const double step = 0.25;
        int n = (int)(reach / step);
        double[] v = new double[(2 * n) + 1];
        for (int i = -n; i <= n; i++)
        {
            Point2 p = at + (outward * (i * step));
            if (!sampler.Holds(p))
                return null;
            v[i + n] = sampler.At(p).G;
        }

        double low = v.Take(3).Average();
        double high = v.TakeLast(3).Average();
        if (high - low < 0.05)
            return null;
        double from = Crossing(v, low + (0.1587 * (high - low)));
        double to = Crossing(v, low + (0.8413 * (high - low)));
        return Math.Max(0.3, (to - from) * step / 2);
    }

    /// <summary>Last place, in samples, where a rising run passes a level on its way up.</summary>
    private static double Crossing(double[] v, double level)
    {
        for (int i = v.Length - 1; i > 0; i--)
        {
            if (v[i - 1] < level && v[i] >= level)
                return i - 1 + ((level - v[i - 1]) / (v[i] - v[i - 1]));
        }

        return v.Length / 2.0;
    }
}
