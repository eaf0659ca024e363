using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;

namespace Whetwright.Sight.Reading;

/// <summary>A graduation of some scale as a person points it out in a photo.</summary>
/// <param name="PhotoPx">Where its line crosses the row on which marks are read.</param>
/// <param name="Degrees">What is written there; left of zero below zero where the scale counts both ways.</param>
public sealed record Graduation(Point2 PhotoPx, double Degrees);

/// <summary>
/// Photo pixels → degrees on a scale without fiducials, flat or curved, from at least four graduations. The graduations' places are taken along
/// a straight line or, where they bend, along the circle through them; degrees are a polynomial of the place along it, of second degree for four or five
/// graduations, third for six or seven, fourth for more. Leaves out what lies beyond the outermost graduations by more than a tenth of the scale.
/// </summary>
public sealed class GraduatedScale
{
    /// <summary>Fewest graduations.</summary>
    public const int LeastGraduations = 4;

    /// <summary>Graduations that leave a straight line by more than this part of its length lie on a circle. Chosen.</summary>
    private const double Bend = 0.01;

    private readonly Point2 _origin;
    private readonly Vector2 _along;
    private readonly double? _radius;
    private readonly double _startRad;
    private readonly double _sense;
    private readonly double[] _polynomial;
    private readonly double _middle;
    private readonly double _half;

    private GraduatedScale(Point2 origin, Vector2 along, double? radius, double startRad, double sense, double[] polynomial, double middle, double half, double residualDeg)
    {
        (_origin, _along, _radius, _startRad, _sense) = (origin, along, radius, startRad, sense);
        (_polynomial, _middle, _half) = (polynomial, middle, half);
        ResidualDeg = residualDeg;
    }

    /// <summary>True where the graduations lie on a circle.</summary>
    public bool IsCurved => _radius is not null;

    /// <summary>Root mean square misfit of the graduations, per degree of freedom, degrees.</summary>
    public double ResidualDeg { get; }

    /// <summary>Length of the path from the first to the last graduation, px.</summary>
    public double LengthPx => 2 * _half;

    internal double FromPx => _middle - _half;

    /// <summary>Fits the map.</summary>
    /// <exception cref="ArgumentException">Fewer than four graduations, two at one place, or degrees that do not run one way along the scale.</exception>
    public static GraduatedScale Fit(IReadOnlyList<Graduation> graduations)
    {
        if (graduations.Count < LeastGraduations)
            throw new ArgumentException($"{graduations.Count} graduations were given; at least {LeastGraduations} are needed, spread over the scale.", nameof(graduations));
        foreach (Graduation g in graduations)
        {
            Require.Finite(g.Degrees, "degrees");
            Require.Finite(g.PhotoPx.X, "photoPx.x");
            Require.Finite(g.PhotoPx.Y, "photoPx.y");
        }

        Graduation[] sorted = [.. graduations.OrderBy(g => g.Degrees)];
        Point2 first = sorted[0].PhotoPx;
        Point2 last = sorted[^1].PhotoPx;
        if (first.DistanceTo(last) < 20)
            throw new ArgumentException("The outermost graduations lie closer than 20 px: point out graduations spread over the scale.", nameof(graduations));
        Vector2 along = (last - first).Normalized();
        double length = first.DistanceTo(last);
        double bend = sorted.Max(g => Math.Abs(along.Cross(g.PhotoPx - first))) / length;
        Point2 origin = first;
        double? radius = null;
        double start = 0;
        double sense = 1;
        if (bend > Bend && Circle(sorted) is { } circle)
        {
            origin = circle.Centre;
            radius = circle.Radius;
            start = Math.Atan2(first.Y - origin.Y, first.X - origin.X);
            Point2 next = sorted[sorted.Length / 2].PhotoPx;
            sense = Math.IEEERemainder(Math.Atan2(next.Y - origin.Y, next.X - origin.X) - start, 2 * Math.PI) >= 0 ? 1 : -1;
        }

        double Place(Point2 p) => radius is { } r
            ? r * sense * Math.IEEERemainder(Math.Atan2(p.Y - origin.Y, p.X - origin.X) - start, 2 * Math.PI)
            : along.Dot(p - origin);
        double[] s = [.. sorted.Select(g => Place(g.PhotoPx))];
        for (int i = 1; i < s.Length; i++)
        {
            if (!(s[i] > s[i - 1]) || !(sorted[i].Degrees > sorted[i - 1].Degrees))
                throw new ArgumentException($"The graduations at {sorted[i - 1].Degrees}° and {sorted[i].Degrees}° do not follow each other along the scale: check which is which.", nameof(graduations));
        }

        double middle = (s[0] + s[^1]) / 2;
        double half = (s[^1] - s[0]) / 2;
        int terms = sorted.Length >= 8 ? 5 : sorted.Length >= 6 ? 4 : 3;
        double[,] j = new double[s.Length, terms];
        for (int i = 0; i < s.Length; i++)
        {
            for (int k = 0; k < terms; k++)
                j[i, k] = Math.Pow((s[i] - middle) / half, k);
        }

        double[] polynomial = LeastSquares.Step(j, [.. sorted.Select(g => g.Degrees)], 1e-12)
            ?? throw new ArgumentException("The graduations do not define a scale.", nameof(graduations));
        double sum = 0;
        for (int i = 0; i < s.Length; i++)
        {
            double r = sorted[i].Degrees - Evaluate(polynomial, (s[i] - middle) / half);
            sum += r * r;
        }

        return new(origin, along, radius, start, sense, polynomial, middle, half, Math.Sqrt(sum / (s.Length - terms)));
    }

    /// <summary>Degrees at a pixel, and how far the pixel lies off the scale's own row; null degrees beyond the scale.</summary>
    public (double? Degrees, double OffPx) Read(Point2 photoPx)
    {
        double s = _radius is { } r
            ? r * _sense * Math.IEEERemainder(Math.Atan2(photoPx.Y - _origin.Y, photoPx.X - _origin.X) - _startRad, 2 * Math.PI)
            : _along.Dot(photoPx - _origin);
        double off = _radius is { } radius ? photoPx.DistanceTo(_origin) - radius : _along.Cross(photoPx - _origin);
        double t = (s - _middle) / _half;
        return (Math.Abs(t) <= 1.2 ? Evaluate(_polynomial, t) : null, off);
    }

    /// <summary>The pixel at a place along the scale, and so far off it.</summary>
    internal Point2 ToPhoto(double alongPx, double offPx)
    {
        if (_radius is not { } r)
            return new(_origin.X + (_along.X * alongPx) - (_along.Y * offPx), _origin.Y + (_along.Y * alongPx) + (_along.X * offPx));
        double angle = _startRad + (_sense * alongPx / r);
        return new(_origin.X + ((r + offPx) * Math.Cos(angle)), _origin.Y + ((r + offPx) * Math.Sin(angle)));
    }

    private static double Evaluate(double[] polynomial, double t)
    {
        double z = 0;
        for (int k = polynomial.Length - 1; k >= 0; k--)
            z = (z * t) + polynomial[k];
        return z;
    }

    /// <summary>Algebraic least squares circle.</summary>
    private static (Point2 Centre, double Radius)? Circle(Graduation[] graduations)
    {
        double mx = graduations.Average(g => g.PhotoPx.X);
        double my = graduations.Average(g => g.PhotoPx.Y);
        double[,] j = new double[graduations.Length, 3];
        double[] z = new double[graduations.Length];
        for (int i = 0; i < graduations.Length; i++)
        {
            double x = (graduations[i].PhotoPx.X - mx) / 1000;
            double y = (graduations[i].PhotoPx.Y - my) / 1000;
            (j[i, 0], j[i, 1], j[i, 2]) = (2 * x, 2 * y, 1);
            z[i] = (x * x) + (y * y);
        }

        if (LeastSquares.Step(j, z, 0) is not { } c)
            return null;
        double squared = c[2] + (c[0] * c[0]) + (c[1] * c[1]);
        return squared > 0 ? (new(mx + (1000 * c[0]), my + (1000 * c[1])), 1000 * Math.Sqrt(squared)) : null;
    }
}
