using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>Mat to blade frame: origin at the heel, x along the chord to the tip, y outward from spine to edge.</summary>
internal sealed class BladeFrame
{
    private readonly Point2 _heel;
    private readonly Vector2 _x;
    private readonly Vector2 _y;

    public BladeFrame(Point2 heel, Point2 tip, Vector2 outward)
    {
        _heel = heel;
        _x = (tip - heel).Normalized();
        _y = new(-_x.Y, _x.X);
        if (_y.Dot(outward) < 0)
            _y *= -1;
    }

    public Point2 ToBlade(Point2 mat) => new((mat - _heel).Dot(_x), (mat - _heel).Dot(_y));

    public Point2 ToMat(Point2 blade) => _heel + (_x * blade.X) + (_y * blade.Y);
}

/// <summary>The blade without its handle, and its height at stations; blade frame.</summary>
internal static class BladeOnly
{
    private const double StationMm = 2;

    /// <summary>A way to the spine that meets it less squarely ends at a corner (cosine). Chosen.</summary>
    private const double SquareCosine = 0.1;

    /// <summary>The spine lies opposite: jags of a ragged end further aside than this are none of it (sine). Chosen: 30°.</summary>
    private const double OppositeSine = 0.5;

    /// <summary>Cuts the outline square to the chord at the heel and puts the smooth edge in place of the traced one.</summary>
    public static Point2[] Cut(Point2[] outline, Point2[] edge)
    {
        double length = edge[^1].X;
        int n = outline.Length;
        int tip = Nearest(outline, edge[^1]);
        int heel = Nearest(outline, edge[0]);

        // From the tip along the spine: the way round that does not pass the edge's middle.
        int middle = Nearest(outline, edge[edge.Length / 2]);
        int step = Contour.Wrap(middle - tip, n) < Contour.Wrap(heel - tip, n) ? -1 : 1;
        var rest = new List<Point2>();
        for (int i = tip + step, k = 0; k < n; i += step, k++)
        {
            Point2 p = outline[Contour.Wrap(i, n)];
            if (p.X < 0 || Contour.Wrap(i, n) == heel)
                break;
            if (p.X < length + 15)
                rest.Add(p);
        }

        if (rest.Count > 0)
            rest.Add(new(0, rest[^1].Y));
        return [.. edge, .. rest];
    }

    /// <summary>Height every two millimetres, from the edge down to the farthest crossing.</summary>
    /// <param name="blade">The blade's outline, the edge first.</param>
    /// <param name="edge">The smooth edge.</param>
    /// <param name="uMm">Standard uncertainty of a height, given where along the chord edge and spine are crossed.</param>
    public static List<HeightStation> Heights(Point2[] blade, Point2[] edge, Func<Point2, Point2, double> uMm)
    {
        var heights = new List<HeightStation>();
        for (double x = 2 * StationMm; x < edge[^1].X - 0.5; x += StationMm)
        {
            double low = double.MaxValue;
            double high = double.MinValue;
            for (int i = 0; i < blade.Length; i++)
            {
                Point2 a = blade[i];
                Point2 b = blade[(i + 1) % blade.Length];
                if ((a.X - x) * (b.X - x) > 0 || a.X == b.X)
                    continue;
                double y = a.Y + ((b.Y - a.Y) * (x - a.X) / (b.X - a.X));
                (low, high) = (Math.Min(low, y), Math.Max(high, y));
            }

            if (high > low)
                heights.Add(new(x, high - low, uMm(new(x, high), new(x, low))));
        }

        return heights;
    }

    /// <summary>
    /// The largest height as a calliper reads it: from a place of the edge the shortest way to the spine, where it meets that squarely. Of medians over five places two
    /// millimetres apart, for one may hold a shadow's corner or a handle's neck. Null where no spine lies opposite.
    /// </summary>
    public static (double HeightMm, Point2 Edge, Point2 Spine)? Largest(Point2[] blade, Point2[] edge)
    {
        var ways = new List<(double HeightMm, Point2 Edge, Point2 Spine)>();
        foreach (Point2 e in Contour.Open(edge, StationMm))
        {
            double least = double.PositiveInfinity;
            (Point2 Foot, bool Squarely) best = default;
            for (int i = edge.Length; i + 1 < blade.Length; i++)
            {
                Vector2 d = blade[i + 1] - blade[i];
                if (Math.Abs(d.X) <= Math.Abs(d.Y))
                    continue;
                double u = (e - blade[i]).Dot(d) / d.Dot(d);
                Point2 foot = blade[i] + (d * Math.Clamp(u, 0, 1));
                double away = foot.DistanceTo(e);
                if (away < least && Math.Abs(foot.X - e.X) < OppositeSine * away)
                    (least, best) = (away, (foot, Math.Abs((foot - e).Normalized().Dot(d.Normalized())) < SquareCosine));
            }

            if (best.Squarely)
                ways.Add((least, e, best.Foot));
        }

        return ways.Count == 0 ? null : Enumerable.Range(0, ways.Count)
            .Select(i => Enumerable.Range(i - 2, 5).Select(k => ways[Math.Clamp(k, 0, ways.Count - 1)]).OrderBy(w => w.HeightMm).ElementAt(2)).MaxBy(w => w.HeightMm);
    }

    private static int Nearest(Point2[] p, Point2 to)
    {
        int best = 0;
        for (int i = 1; i < p.Length; i++)
        {
            if (p[i].DistanceTo(to) < p[best].DistanceTo(to))
                best = i;
        }

        return best;
    }
}
