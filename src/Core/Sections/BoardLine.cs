using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>A hollow between two places where the edge rests on a board.</summary>
internal readonly record struct BoardGap(double FromMm, double ToMm, double DepthMm);

/// <summary>An edge against a flat board: where light shows under it, and the straight run that closes the gap with least steel.</summary>
internal static class BoardLine
{
    private const double OnBoardMm = 1e-9;

    /// <summary>The deepest gap under the edge's convex hull, or null where there is none.</summary>
    public static BoardGap? DeepestGap(ProfileLine edge)
    {
        BoardGap? deepest = null;
        List<Point2> hull = UpperHull(edge.Points);
        for (int i = 0; i + 1 < hull.Count; i++)
        {
            Point2 a = hull[i], b = hull[i + 1];
            Vector2 along = (b - a).Normalized();
            // Places that lie on the board between two hull points bound the gap: the line may cut them.
            double from = a.X, to = b.X, depth = 0;
            foreach (Point2 p in edge.Points.Where(p => p.X > a.X && p.X < b.X))
            {
                double under = -along.Cross(p - a);
                if (under <= OnBoardMm && depth <= OnBoardMm)
                    from = p.X;
                else if (under <= OnBoardMm)
                    to = Math.Min(to, p.X);
                else if (to == b.X)
                    depth = Math.Max(depth, under);
            }
            if (depth > (deepest?.DepthMm ?? 1e-12))
                deepest = new BoardGap(from, to, depth);
        }
        return deepest;
    }

    /// <summary>
    /// The straight line under the edge over the gap that touches its deepest places and, of all slopes, takes least steel off the rest of the edge.
    /// </summary>
    public static ProfileLine UnderGap(ProfileLine edge, BoardGap gap)
    {
        ProfileLine within = edge.Part(gap.FromMm, gap.ToMm);
        double hull = (edge.At(gap.ToMm) - edge.At(gap.FromMm)) / (gap.ToMm - gap.FromMm), span = 4 * gap.DepthMm / (gap.ToMm - gap.FromMm);
        double best = hull, least = double.PositiveInfinity;
        for (double step = span / 40; step > span * 1e-7; step /= 10)
        {
            double centre = best;
            for (int k = -40; k <= 40; k++)
            {
                double slope = centre + (k * step), cost = CutArea(edge, Intercept(within, slope), slope);
                if (cost < least)
                    (least, best) = (cost, slope);
            }
        }
        return Line(edge, Intercept(within, best), best);
    }

    private static ProfileLine Line(ProfileLine edge, double intercept, double slope) =>
        new([new Point2(edge.FromX, intercept + (slope * edge.FromX)), new Point2(edge.ToX, intercept + (slope * edge.ToX))]);

    private static double Intercept(ProfileLine within, double slope)
    {
        double least = double.PositiveInfinity;
        foreach (Point2 p in within.Points)
            least = Math.Min(least, p.Y - (slope * p.X));
        return least;
    }

    /// <summary>Area of the edge over the line y = c + m x.</summary>
    private static double CutArea(ProfileLine edge, double intercept, double slope)
    {
        double area = 0;
        for (int i = 0; i + 1 < edge.Points.Count; i++)
        {
            Point2 a = edge.Points[i], b = edge.Points[i + 1];
            double over0 = a.Y - intercept - (slope * a.X), over1 = b.Y - intercept - (slope * b.X), high = Math.Max(over0, over1), low = Math.Min(over0, over1);
            if (high > 0)
                area += (low >= 0 ? (high + low) / 2 : high * high / (high - low) / 2) * (b.X - a.X);
        }
        return area;
    }

    private static List<Point2> UpperHull(IReadOnlyList<Point2> points)
    {
        var hull = new List<Point2>();
        foreach (Point2 p in points)
        {
            while (hull.Count >= 2 && (hull[^1] - hull[^2]).Cross(p - hull[^2]) >= 0)
                hull.RemoveAt(hull.Count - 1);
            hull.Add(p);
        }
        return hull;
    }
}
