using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Outlines drawn along straight lines from corner to corner.</summary>
internal static class DrawnOutline
{
    /// <summary>Adds the points of a line, its end left out.</summary>
    public static void Draw(List<Point2> into, Point2 from, Point2 to, double step = 0.1)
    {
        double length = from.DistanceTo(to);
        for (double s = 0; s < length; s += step)
            into.Add(from + ((to - from) * (s / length)));
    }

    /// <summary>Through corners, points a quarter of a millimetre apart; on request turned by half a turn.</summary>
    public static Point2[] Through(bool turned, params Point2[] corners)
    {
        List<Point2> p = [];
        for (int i = 1; i < corners.Length; i++)
            Draw(p, corners[i - 1], corners[i], 0.25);
        return turned ? [.. p.Select(q => new Point2(-q.X, -q.Y))] : [.. p];
    }
}
