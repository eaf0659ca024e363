using Whetwright.Core.Quantities;

namespace Whetwright.Paper.Drawings;

/// <summary>Cuts a family of parallel lines to a closed shape.</summary>
internal static class Hatching
{
    /// <summary>The pieces of the lines c = n·p = k·spacing that lie inside the shape (even-odd rule).</summary>
    internal static IEnumerable<(Point2 From, Point2 To)> Of(IReadOnlyList<Point2> polygon, double spacing, double slopeDeg)
    {
        double slope = double.DegreesToRadians(slopeDeg);
        Vector2 along = new(Math.Cos(slope), Math.Sin(slope));
        Vector2 across = new(-along.Y, along.X);
        double Across(Point2 p) => (p.X * across.X) + (p.Y * across.Y);
        double Along(Point2 p) => (p.X * along.X) + (p.Y * along.Y);
        double least = polygon.Min(Across);
        double most = polygon.Max(Across);
        for (double k = Math.Ceiling(least / spacing); k * spacing <= most; k++)
        {
            double level = k * spacing;
            List<double> crossings = [];
            for (int i = 0; i < polygon.Count; i++)
            {
                Point2 a = polygon[i];
                Point2 b = polygon[(i + 1) % polygon.Count];
                double ca = Across(a) - level;
                double cb = Across(b) - level;
                if (ca <= 0 == cb <= 0)
                    continue;
                double t = ca / (ca - cb);
                crossings.Add(Along(a) + (t * (Along(b) - Along(a))));
            }

            crossings.Sort();
            for (int i = 0; i + 1 < crossings.Count; i += 2)
                yield return (Point(crossings[i], level), Point(crossings[i + 1], level));
        }

        Point2 Point(double s, double c) => new((s * along.X) + (c * across.X), (s * along.Y) + (c * across.Y));
    }
}
