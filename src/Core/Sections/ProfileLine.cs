using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>A line of a profile as a function of x: points with rising x, straight between.</summary>
internal sealed class ProfileLine
{
    public ProfileLine(IReadOnlyList<Point2> points) => Points = points;

    public IReadOnlyList<Point2> Points { get; }

    public double FromX => Points[0].X;

    public double ToX => Points[^1].X;

    /// <summary>y at x, held at the ends.</summary>
    public double At(double x)
    {
        int i = Segment(x);
        Point2 a = Points[i], b = Points[i + 1];
        return x <= a.X ? a.Y : x >= b.X ? b.Y : a.Y + ((b.Y - a.Y) * (x - a.X) / (b.X - a.X));
    }

    /// <summary>dy/dx at x, of the segment to its right.</summary>
    public double SlopeAt(double x)
    {
        int i = Segment(x);
        return (Points[i + 1].Y - Points[i].Y) / (Points[i + 1].X - Points[i].X);
    }

    /// <summary>The part with x from a to b, ends included.</summary>
    public ProfileLine Part(double from, double to) =>
        new([new Point2(from, At(from)), .. Points.Where(p => p.X > from + 1e-12 && p.X < to - 1e-12), new Point2(to, At(to))]);

    /// <summary>The same line raised (lowered) by dy.</summary>
    public ProfileLine Raised(double dy) => new([.. Points.Select(p => new Point2(p.X, p.Y + dy))]);

    /// <summary>The lower of two lines where both are, with the places where they cross.</summary>
    public ProfileLine LowerOf(ProfileLine other)
    {
        double[] xs = CommonStations(other);
        return new([.. xs.Select(x => new Point2(x, Math.Min(At(x), other.At(x))))]);
    }

    /// <summary>All x of both lines over their common reach, and where they cross.</summary>
    public double[] CommonStations(ProfileLine other)
    {
        double from = Math.Max(FromX, other.FromX), to = Math.Min(ToX, other.ToX);
        var xs = new SortedSet<double> { from, to };
        foreach (Point2 p in Points.Concat(other.Points))
        {
            if (p.X > from && p.X < to)
                xs.Add(p.X);
        }
        double[] stops = [.. xs];
        for (int i = 0; i + 1 < stops.Length; i++)
        {
            double g0 = At(stops[i]) - other.At(stops[i]), g1 = At(stops[i + 1]) - other.At(stops[i + 1]);
            if (g0 * g1 < 0)
                xs.Add(stops[i] + ((stops[i + 1] - stops[i]) * g0 / (g0 - g1)));
        }
        return [.. xs];
    }

    /// <summary>Shortest distance from a point to the line.</summary>
    public double DistanceMm(Point2 point)
    {
        double least = double.PositiveInfinity;
        for (int i = 0; i + 1 < Points.Count; i++)
        {
            Vector2 along = Points[i + 1] - Points[i], to = point - Points[i];
            double t = Math.Clamp(to.Dot(along) / along.Dot(along), 0, 1);
            least = Math.Min(least, point.DistanceTo(Points[i] + (along * t)));
        }
        return least;
    }

    private int Segment(double x)
    {
        int low = 0, high = Points.Count - 2;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (Points[middle + 1].X < x)
                low = middle + 1;
            else
                high = middle;
        }
        return low;
    }
}
