using OpenCvSharp;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Fiducials;

/// <summary>Least squares fit of a <see cref="LensMap"/> to fiducial corners, fiducials that disagree dropped whole.</summary>
internal static class LensMapFit
{
    /// <summary>Corners are found to about this, px; sets how hard the priors pull. Chosen from trials, not derived.</summary>
    private const double CornerSdPx = 0.3;

    /// <summary>Phone lenses after their own correction: most lie well within this (common practice, no source).</summary>
    private const double K1Sd = 0.03;

    private const double K2Sd = 0.01;

    public static (LensMap Map, IReadOnlyList<SeenFiducial> Used, double RmsPx)? Fit(
        IReadOnlyList<SeenFiducial> seen, int widthPx, int heightPx)
    {
        var used = Consistent(seen, widthPx);
        if (used.Count == 0)
            return null;
        while (true)
        {
            double[]? p = Solve(used, widthPx, heightPx);
            if (p is null)
                return null;
            var map = new LensMap(p, widthPx, heightPx);
            var residuals = used.Select(f => Rms(map, f)).ToArray();
            double median = residuals.Order().ElementAt(residuals.Length / 2);
            int worst = Array.IndexOf(residuals, residuals.Max());
            if (used.Count > 4 && residuals[worst] > Math.Max(4 * median, 1.0))
            {
                used.RemoveAt(worst);
                continue;
            }

            return (map, used, Math.Sqrt(residuals.Select(r => r * r).Average()));
        }
    }

    private static double Rms(LensMap map, SeenFiducial f)
    {
        double sum = 0;
        for (int i = 0; i < 4; i++)
        {
            double d = map.ToPhoto(f.CornersMm[i]).DistanceTo(f.CornersPx[i]);
            sum += d * d;
        }

        return Math.Sqrt(sum / 4);
    }

    private static List<SeenFiducial> Consistent(IReadOnlyList<SeenFiducial> seen, int widthPx)
    {
        if (seen.Count == 0)
            return [];
        var mm = seen.SelectMany(f => f.CornersMm).Select(p => new Point2d(p.X, p.Y)).ToArray();
        var px = seen.SelectMany(f => f.CornersPx).Select(p => new Point2d(p.X, p.Y)).ToArray();
        using var mask = new Mat();
        double tolerancePx = Math.Max(4, 0.008 * widthPx);
        using Mat h = Cv2.FindHomography(mm, px, HomographyMethods.Ransac, tolerancePx, mask, 2000, 0.999);
        if (h.Empty())
            return [];
        return seen.Where((_, i) => Enumerable.Range(4 * i, 4).All(k => mask.At<byte>(k) != 0)).ToList();
    }

    private static double[]? Solve(List<SeenFiducial> used, int widthPx, int heightPx)
    {
        (double cx, double cy, double f) = LensMap.Frame(widthPx, heightPx);
        var mm = used.SelectMany(s => s.CornersMm).ToArray();
        var px = used.SelectMany(s => s.CornersPx).ToArray();
        using Mat h = Cv2.FindHomography(
            mm.Select(p => new Point2d(p.X, p.Y)),
            px.Select(p => new Point2d((p.X - cx) / f, (p.Y - cy) / f)));
        if (h.Empty() || Math.Abs(h.At<double>(2, 2)) < 1e-12)
            return null;
        double[] p = new double[LensMap.ParameterCount];
        for (int i = 0; i < 8; i++)
            p[i] = h.At<double>(i / 3, i % 3) / h.At<double>(2, 2);
        double[] scale = [1e-3, 1e-3, 1e-1, 1e-3, 1e-3, 1e-1, 1e-4, 1e-4, 1e-2, 1e-2];
        double lambda = 1e-6;
        double cost = Cost(p, mm, px, widthPx, heightPx, out double[] r);
        for (int iteration = 0; iteration < 30; iteration++)
        {
            double[,] j = new double[r.Length, p.Length];
            for (int k = 0; k < p.Length; k++)
            {
                double[] moved = (double[])p.Clone();
                moved[k] += 1e-5 * scale[k];
                _ = Cost(moved, mm, px, widthPx, heightPx, out double[] rk);
                for (int i = 0; i < r.Length; i++)
                    j[i, k] = (rk[i] - r[i]) / 1e-5;
            }

            double[]? step = LeastSquares.Step(j, r, lambda);
            if (step is null)
                break;
            double[] next = p.Select((v, k) => v - (scale[k] * step[k])).ToArray();
            double nextCost = Cost(next, mm, px, widthPx, heightPx, out double[] rn);
            if (nextCost < cost)
            {
                bool done = cost - nextCost < 1e-9 * cost;
                (p, r, cost, lambda) = (next, rn, nextCost, Math.Max(lambda * 0.1, 1e-12));
                if (done)
                    break;
            }
            else
            {
                lambda *= 100;
                if (lambda > 1e3)
                    break;
            }
        }

        return p;
    }

    private static double Cost(double[] p, Point2[] mm, Point2[] px, int widthPx, int heightPx, out double[] r)
    {
        var map = new LensMap(p, widthPx, heightPx);
        r = new double[(2 * mm.Length) + 2];
        double sum = 0;
        for (int i = 0; i < mm.Length; i++)
        {
            Point2 q = map.ToPhoto(mm[i]);
            r[2 * i] = (q.X - px[i].X) / CornerSdPx;
            r[(2 * i) + 1] = (q.Y - px[i].Y) / CornerSdPx;
        }

        r[^2] = p[8] / K1Sd;
        r[^1] = p[9] / K2Sd;
        foreach (double v in r)
            sum += v * v;
        return sum;
    }
}
