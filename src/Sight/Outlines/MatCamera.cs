using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Where the camera stood over the mat, from the fiducials: a pinhole with radial distortion, q = c + f·s(u)·u, u = (R·X + t)ₓᵧ / (R·X + t)_z,
/// least squares over the corners with a prior on the focal length (told by the phone, else wide). Mat frame, z up from the paper.
/// </summary>
internal sealed class MatCamera
{
    private const int Count = 9;

    /// <summary>Middle and spread (of the logarithm) of a phone's 35 mm equivalent focal length when nobody tells it: chosen, not derived.</summary>
    private const double UsualFocal35Mm = 32;

    private const double UsualSpread = 0.4;

    /// <summary>Spread of a told focal length: makers round it, and focusing close lengthens it. Chosen, not derived.</summary>
    private const double ToldSpread = 0.02;

    private MatCamera(double[] p, double[,] covariance, int widthPx, int heightPx)
    {
        (P, Covariance, WidthPx, HeightPx) = (p, covariance, widthPx, heightPx);
        (PlaceMm, HeightMm) = Centre(p);
        double[] r = Rotation(p);
        TiltDeg = double.RadiansToDegrees(Math.Acos(Math.Clamp(Math.Abs(r[8]), 0, 1)));
    }

    public Point2 PlaceMm { get; }

    public double HeightMm { get; }

    /// <summary>Angle between the optical axis and the mat's normal.</summary>
    public double TiltDeg { get; }

    public double FocalPx => Math.Exp(P[6]);

    private double[] P { get; }

    private double[,] Covariance { get; }

    private int WidthPx { get; }

    private int HeightPx { get; }

    public static MatCamera? From(FoundSheet sheet, int widthPx, int heightPx, double? focal35Mm)
    {
        double diagonal = Math.Sqrt(((double)widthPx * widthPx) + ((double)heightPx * heightPx));
        double usual = (focal35Mm ?? UsualFocal35Mm) * diagonal / 43.2666;
        double spread = focal35Mm is null ? UsualSpread : ToldSpread;
        double[]? best = null;
        double bestCost = double.PositiveInfinity;
        double[]? bestResiduals = null;
        double[] factors = focal35Mm is null ? [0.7, 1, 1.5] : [1.0];
        foreach (double factor in factors)
        {
            double[]? p = Start(sheet, widthPx, heightPx, usual * factor);
            if (p is null)
                continue;
            (p, double cost, double[] r) = Improve(p, sheet, widthPx, heightPx, usual, spread);
            if (cost < bestCost)
                (best, bestCost, bestResiduals) = (p, cost, r);
        }

        if (best is null || bestResiduals is null)
            return null;
        double[,] j = Jacobian(best, bestResiduals, sheet, widthPx, heightPx, usual, spread);
        double[,] a = new double[Count, Count];
        for (int i = 0; i < j.GetLength(0); i++)
        {
            for (int k = 0; k < Count; k++)
            {
                for (int m = 0; m < Count; m++)
                    a[k, m] += j[i, k] * j[i, m];
            }
        }

        double[,]? inverse = LeastSquares.Invert(a);
        return inverse is null ? null : new MatCamera(best, inverse, widthPx, heightPx);
    }

    /// <summary>Where a point of the mat frame, z up from the paper, appears in the photo.</summary>
    public Point2 ToPhoto(Point2 mm, double zMm) => Project(P, mm, zMm, WidthPx, HeightPx);

    /// <summary>
    /// True place of a point that floats z above the mat and appears at <paramref name="seenMm"/> on it: X = S + (C − S)·z/H.
    /// </summary>
    public Point2 Correct(Point2 seenMm, double zMm) => seenMm + ((PlaceMm - seenMm) * (zMm / HeightMm));

    /// <summary>How far a point at height z appears from its true place, a vector on the mat, mm: (S − C)·z/H for what is seen at S.</summary>
    public Vector2 Parallax(Point2 seenMm, double zMm) => (seenMm - PlaceMm) * (zMm / HeightMm);

    /// <summary>Standard uncertainty of the camera's place across the mat and of its height, mm, by linear propagation.</summary>
    public (double PlaceUMm, double HeightUMm) Uncertainty()
    {
        double[,] d = new double[3, Count];
        double[] basis = [PlaceMm.X, PlaceMm.Y, HeightMm];
        for (int k = 0; k < Count; k++)
        {
            double[] moved = (double[])P.Clone();
            moved[k] += 1e-6;
            (Point2 c, double h) = Centre(moved);
            double[] now = [c.X, c.Y, h];
            for (int i = 0; i < 3; i++)
                d[i, k] = (now[i] - basis[i]) / 1e-6;
        }

        double[] variance = new double[3];
        for (int i = 0; i < 3; i++)
        {
            for (int k = 0; k < Count; k++)
            {
                for (int m = 0; m < Count; m++)
                    variance[i] += d[i, k] * Covariance[k, m] * d[i, m];
            }
        }

        return (Math.Sqrt(Math.Max(0, (variance[0] + variance[1]) / 2)), Math.Sqrt(Math.Max(0, variance[2])));
    }

    private static double[]? Start(FoundSheet sheet, int widthPx, int heightPx, double focalPx)
    {
        (_, _, double nominal) = LensMap.Frame(widthPx, heightPx);
        double g = focalPx / nominal;
        double[] h = sheet.Map.Parameters;
        double[] a = [h[0] / g, h[3] / g, h[6]];
        double[] b = [h[1] / g, h[4] / g, h[7]];
        double[] t = [h[2] / g, h[5] / g, 1];
        double scale = 2 / (Norm(a) + Norm(b));
        a = Times(a, 1 / Norm(a));
        double dot = (a[0] * b[0]) + (a[1] * b[1]) + (a[2] * b[2]);
        b = [b[0] - (dot * a[0]), b[1] - (dot * a[1]), b[2] - (dot * a[2])];
        if (!(Norm(b) > 0))
            return null;
        b = Times(b, 1 / Norm(b));
        double[] c = [(a[1] * b[2]) - (a[2] * b[1]), (a[2] * b[0]) - (a[0] * b[2]), (a[0] * b[1]) - (a[1] * b[0])];
        double trace = a[0] + b[1] + c[2];
        double[] q = Quaternion([a[0], b[0], c[0], a[1], b[1], c[1], a[2], b[2], c[2]], trace);
        double sin = Math.Sqrt((q[1] * q[1]) + (q[2] * q[2]) + (q[3] * q[3]));
        double angle = 2 * Math.Atan2(sin, q[0]);
        double k = sin < 1e-12 ? 0 : angle / sin;
        return [q[1] * k, q[2] * k, q[3] * k, t[0] * scale, t[1] * scale, t[2] * scale, Math.Log(focalPx), h[8] * g * g, h[9] * g * g * g * g];
    }

    private static (double[] P, double Cost, double[] Residuals) Improve(double[] p, FoundSheet sheet, int w, int h, double usual, double spread)
    {
        double[] r = Residuals(p, sheet, w, h, usual, spread);
        double cost = Sum(r);
        double lambda = 1e-4;
        for (int i = 0; i < 60; i++)
        {
            double[]? step = LeastSquares.Step(Jacobian(p, r, sheet, w, h, usual, spread), r, lambda);
            if (step is null)
                break;
            double[] next = [.. p.Zip(step, (x, y) => x - y)];
            double[] rn = Residuals(next, sheet, w, h, usual, spread);
            double now = Sum(rn);
            if (now < cost)
            {
                bool done = cost - now < 1e-10 * cost;
                (p, r, cost, lambda) = (next, rn, now, Math.Max(lambda * 0.2, 1e-12));
                if (done)
                    break;
            }
            else
            {
                lambda *= 10;
                if (lambda > 1e6)
                    break;
            }
        }

        return (p, cost, r);
    }

    private static double[,] Jacobian(double[] p, double[] r, FoundSheet sheet, int w, int h, double usual, double spread)
    {
        double[] steps = [1e-6, 1e-6, 1e-6, 1e-3, 1e-3, 1e-3, 1e-6, 1e-6, 1e-6];
        double[,] j = new double[r.Length, Count];
        for (int k = 0; k < Count; k++)
        {
            double[] moved = (double[])p.Clone();
            moved[k] += steps[k];
            double[] rk = Residuals(moved, sheet, w, h, usual, spread);
            for (int i = 0; i < r.Length; i++)
                j[i, k] = (rk[i] - r[i]) / steps[k];
        }

        return j;
    }

    private static double[] Residuals(double[] p, FoundSheet sheet, int w, int h, double usual, double spread)
    {
        double sd = Math.Max(0.2, sheet.ReprojectionPx);
        var r = new List<double>((8 * sheet.Fiducials.Count) + 3);
        foreach (SeenFiducial f in sheet.Fiducials)
        {
            for (int i = 0; i < 4; i++)
            {
                Point2 q = Project(p, f.CornersMm[i], 0, w, h);
                r.Add((q.X - f.CornersPx[i].X) / sd);
                r.Add((q.Y - f.CornersPx[i].Y) / sd);
            }
        }

        r.Add((p[6] - Math.Log(usual)) / spread);
        r.Add(p[7] / 0.03);
        r.Add(p[8] / 0.01);
        return [.. r];
    }

    private static Point2 Project(double[] p, Point2 mm, double zMm, int w, int h)
    {
        double[] m = Rotation(p);
        double z = -zMm; // the mat's x right, y down makes z point into the table
        double x = (m[0] * mm.X) + (m[1] * mm.Y) + (m[2] * z) + p[3];
        double y = (m[3] * mm.X) + (m[4] * mm.Y) + (m[5] * z) + p[4];
        double d = (m[6] * mm.X) + (m[7] * mm.Y) + (m[8] * z) + p[5];
        (double u, double v) = (x / d, y / d);
        double r2 = (u * u) + (v * v);
        double s = Math.Exp(p[6]) * (1 + (r2 * (p[7] + (r2 * p[8]))));
        return new(((w - 1) / 2.0) + (s * u), ((h - 1) / 2.0) + (s * v));
    }

    private static (Point2 Place, double HeightMm) Centre(double[] p)
    {
        double[] m = Rotation(p);
        double x = -((m[0] * p[3]) + (m[3] * p[4]) + (m[6] * p[5]));
        double y = -((m[1] * p[3]) + (m[4] * p[4]) + (m[7] * p[5]));
        double z = -((m[2] * p[3]) + (m[5] * p[4]) + (m[8] * p[5]));
        return (new(x, y), -z);
    }

    private static double[] Rotation(double[] p)
    {
        double angle = Math.Sqrt((p[0] * p[0]) + (p[1] * p[1]) + (p[2] * p[2]));
        double s = angle < 1e-9 ? 1 : Math.Sin(angle) / angle;
        double c = angle < 1e-9 ? 0.5 : (1 - Math.Cos(angle)) / (angle * angle);
        double k = Math.Cos(angle);
        (double x, double y, double z) = (p[0], p[1], p[2]);
        return
        [
            k + (c * x * x), (c * x * y) - (s * z), (c * x * z) + (s * y),
            (c * x * y) + (s * z), k + (c * y * y), (c * y * z) - (s * x),
            (c * x * z) - (s * y), (c * y * z) + (s * x), k + (c * z * z),
        ];
    }

    private static double[] Quaternion(double[] m, double trace)
    {
        double[] q = new double[4];
        if (trace > 0)
        {
            double s = 2 * Math.Sqrt(trace + 1);
            q = [s / 4, (m[7] - m[5]) / s, (m[2] - m[6]) / s, (m[3] - m[1]) / s];
        }
        else
        {
            int i = m[0] > m[4] ? (m[0] > m[8] ? 0 : 2) : (m[4] > m[8] ? 1 : 2);
            int j = (i + 1) % 3;
            int k = (i + 2) % 3;
            double s = 2 * Math.Sqrt(Math.Max(1e-12, 1 + m[4 * i] - m[4 * j] - m[4 * k]));
            q[1 + i] = s / 4;
            q[0] = (m[(3 * k) + j] - m[(3 * j) + k]) / s;
            q[1 + j] = (m[(3 * j) + i] + m[(3 * i) + j]) / s;
            q[1 + k] = (m[(3 * k) + i] + m[(3 * i) + k]) / s;
        }

        return q;
    }

    private static double Norm(double[] v) => Math.Sqrt((v[0] * v[0]) + (v[1] * v[1]) + (v[2] * v[2]));

    private static double[] Times(double[] v, double k) => [v[0] * k, v[1] * k, v[2] * k];

    private static double Sum(double[] r) => r.Sum(x => x * x);
}
