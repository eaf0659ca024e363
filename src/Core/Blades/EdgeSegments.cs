using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>A smooth stretch of an edge that knows its place, tangent and curvature at any arc length from its own start.</summary>
internal abstract class EdgeSegment(double lengthMm)
{
    public double LengthMm { get; } = lengthMm;

    /// <summary>The station at <paramref name="localMm"/> from the segment's start; <paramref name="sMm"/> is what it is called on the whole edge.</summary>
    public abstract EdgePoint At(double localMm, double sMm);
}

/// <summary>A straight stretch.</summary>
internal sealed class StraightSegment(Point2 from, Point2 to) : EdgeSegment(from.DistanceTo(to))
{
    private readonly Vector2 along = (to - from).Normalized();

    public override EdgePoint At(double localMm, double sMm) =>
        new(sMm, from.X + (along.X * localMm), from.Y + (along.Y * localMm), along.X, along.Y, 0);
}

/// <summary>A circular arc that begins along x and falls back: centre straight below its start.</summary>
internal sealed class FallingArc(Point2 from, double radiusMm, double sweepRad) : EdgeSegment(radiusMm * sweepRad)
{
    public override EdgePoint At(double localMm, double sMm)
    {
        (double sin, double cos) = Math.SinCos(localMm / radiusMm);
        return new(sMm, from.X + (radiusMm * sin), from.Y - (radiusMm * (1 - cos)), cos, -sin, 1 / radiusMm);
    }
}

/// <summary>A parametric cubic x(t), y(t), t from 0 to 1; arc length by Gauss–Legendre, inverted by Newton.</summary>
internal sealed class CubicSegment : EdgeSegment
{
    private static readonly double[] Nodes = [0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640];
    private static readonly double[] Weights = [0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891];

    private readonly double x0, x1, x2, x3, y0, y1, y2, y3;

    private CubicSegment(double[] x, double[] y, double lengthMm)
        : base(lengthMm)
    {
        (x0, x1, x2, x3) = (x[0], x[1], x[2], x[3]);
        (y0, y1, y2, y3) = (y[0], y[1], y[2], y[3]);
    }

    /// <summary>From power coefficients in t.</summary>
    public static CubicSegment FromPowers(double[] x, double[] y)
    {
        CubicSegment unmeasured = new(x, y, 0);
        return new(x, y, unmeasured.LengthTo(1));
    }

    /// <summary>From end points and end derivatives in t.</summary>
    public static CubicSegment FromEnds(Point2 from, Vector2 fromSlope, Point2 to, Vector2 toSlope) => FromPowers(
        [from.X, fromSlope.X, (3 * (to.X - from.X)) - (2 * fromSlope.X) - toSlope.X, (2 * (from.X - to.X)) + fromSlope.X + toSlope.X],
        [from.Y, fromSlope.Y, (3 * (to.Y - from.Y)) - (2 * fromSlope.Y) - toSlope.Y, (2 * (from.Y - to.Y)) + fromSlope.Y + toSlope.Y]);

    public override EdgePoint At(double localMm, double sMm)
    {
        double t = LengthMm > 0 ? Math.Clamp(localMm / LengthMm, 0, 1) : 0;
        for (int pass = 0; pass < 6; pass++)
        {
            double step = (LengthTo(t) - localMm) / Speed(t);
            t -= step;
            if (Math.Abs(step) < 1e-13)
                break;
        }

        (double dx, double dy) = Slope(t);
        double speed = Math.Sqrt((dx * dx) + (dy * dy));
        double ddx = (2 * x2) + (6 * x3 * t);
        double ddy = (2 * y2) + (6 * y3 * t);
        double curvature = ((dy * ddx) - (dx * ddy)) / (speed * speed * speed);
        return new(sMm, x0 + (t * (x1 + (t * (x2 + (t * x3))))), y0 + (t * (y1 + (t * (y2 + (t * y3))))), dx / speed, dy / speed, curvature);
    }

    private (double Dx, double Dy) Slope(double t) => (x1 + (t * ((2 * x2) + (3 * t * x3))), y1 + (t * ((2 * y2) + (3 * t * y3))));

    private double Speed(double t)
    {
        (double dx, double dy) = Slope(t);
        return Math.Max(Math.Sqrt((dx * dx) + (dy * dy)), 1e-12);
    }

    private double LengthTo(double t)
    {
        double sum = 0;
        for (int i = 0; i < Nodes.Length; i++)
            sum += Weights[i] * Speed(0.5 * t * (1 + Nodes[i]));
        return 0.5 * t * sum;
    }
}
