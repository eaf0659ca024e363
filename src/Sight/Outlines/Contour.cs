using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>A closed line of points, evenly spaced, the inside on its left as x runs right and y down.</summary>
internal static class Contour
{
    /// <summary>Twice-signed area over two; positive when the inside lies to the right hand of travel in an x-right, y-down frame.</summary>
    public static double SignedArea(IReadOnlyList<Point2> p)
    {
        double sum = 0;
        for (int i = 0; i < p.Count; i++)
        {
            Point2 a = p[i];
            Point2 b = p[(i + 1) % p.Count];
            sum += (a.X * b.Y) - (b.X * a.Y);
        }

        return sum / 2;
    }

    /// <summary>The same closed line with its points a step apart, wound so that the signed area is positive.</summary>
    public static Point2[] Resample(IReadOnlyList<Point2> closed, double stepMm)
    {
        List<Point2> points = [.. closed];
        if (SignedArea(points) < 0)
            points.Reverse();
        points.Add(points[0]);
        return Open(points, stepMm, keepEnd: false);
    }

    /// <summary>An open line with its points a step apart.</summary>
    public static Point2[] Open(IReadOnlyList<Point2> line, double stepMm, bool keepEnd = true)
    {
        double total = 0;
        for (int i = 1; i < line.Count; i++)
            total += line[i].DistanceTo(line[i - 1]);
        int n = Math.Max(2, (int)Math.Round(total / stepMm));
        double step = total / n;
        var result = new List<Point2>(n + 1) { line[0] };
        double along = 0;
        double next = step;
        for (int i = 1; i < line.Count; i++)
        {
            double d = line[i].DistanceTo(line[i - 1]);
            while (next <= along + d && result.Count < n)
            {
                double t = (next - along) / d;
                result.Add(line[i - 1] + ((line[i] - line[i - 1]) * t));
                next += step;
            }

            along += d;
        }

        if (keepEnd)
            result.Add(line[^1]);
        return [.. result];
    }

    /// <summary>Gaussian smoothing along a closed line.</summary>
    public static Point2[] Smooth(Point2[] p, double sigmaSteps)
    {
        if (sigmaSteps < 0.2)
            return [.. p];
        int reach = (int)Math.Ceiling(3 * sigmaSteps);
        double[] w = [.. Enumerable.Range(-reach, (2 * reach) + 1).Select(k => Math.Exp(-k * k / (2 * sigmaSteps * sigmaSteps)))];
        double total = w.Sum();
        var q = new Point2[p.Length];
        for (int i = 0; i < p.Length; i++)
        {
            double x = 0;
            double y = 0;
            for (int k = -reach; k <= reach; k++)
            {
                Point2 s = p[Wrap(i + k, p.Length)];
                x += w[k + reach] * s.X;
                y += w[k + reach] * s.Y;
            }

            q[i] = new(x / total, y / total);
        }

        return q;
    }

    /// <summary>Unit normals that point inward, from the chord over ± reach points.</summary>
    public static Vector2[] Inward(Point2[] p, int reach)
    {
        var n = new Vector2[p.Length];
        for (int i = 0; i < p.Length; i++)
        {
            Vector2 t = p[Wrap(i + reach, p.Length)] - p[Wrap(i - reach, p.Length)];
            double norm = Math.Max(1e-9, t.Norm);
            n[i] = new(-t.Y / norm, t.X / norm);
        }

        return n;
    }

    public static int Wrap(int i, int n) => ((i % n) + n) % n;
}
