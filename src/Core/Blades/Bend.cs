using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>
/// How far the edge stands out of the mid-plane along its length, z(x), positive toward the blade's left, mm. Between the points it runs
/// straight; outside them it keeps the end value.
/// </summary>
public sealed class Bend
{
    private readonly Point2[] points;

    private Bend(Point2[] points) => this.points = points;

    /// <summary>Points [x, z] from heel to tip, mm.</summary>
    public IReadOnlyList<Point2> Points => points;

    /// <summary>Largest departure from the mid-plane, mm.</summary>
    public double LargestMm => points.Max(p => Math.Abs(p.Y));

    /// <summary>From points [x, z], x growing.</summary>
    /// <exception cref="ArgumentException">Refused; the message is that of the first of <see cref="Refusals"/>.</exception>
    public static Bend FromPoints(IReadOnlyList<Point2> pointsMm)
    {
        IReadOnlyList<Reason> refusals = Refusals(pointsMm);
        return refusals.Count == 0 ? new([.. pointsMm]) : throw new ArgumentException(refusals[0].Text, nameof(pointsMm));
    }

    /// <summary>
    /// From one number, the bow: the edge's heel and tip lie on the mid-plane and its middle stands out by <paramref name="sagittaMm"/>, in
    /// between a parabola z = 4·b·x·(L − x)/L². That it is a parabola is chosen, not derived.
    /// </summary>
    public static Bend FromBow(double sagittaMm, double lengthMm)
    {
        Require.Within(sagittaMm, -LargestBelievedMm, LargestBelievedMm);
        Require.Positive(lengthMm);
        const int steps = 40;
        return new([.. Enumerable.Range(0, steps + 1).Select(i => new Point2(
            lengthMm * i / steps,
            4 * sagittaMm * i * (steps - i) / ((double)steps * steps)))]);
    }

    /// <summary>Most bend that is believed, mm (chosen, not derived).</summary>
    public const double LargestBelievedMm = 30;

    /// <summary>What is wrong with the points, each naming the field <c>bendMm</c> and the index from 0.</summary>
    public static IReadOnlyList<Reason> Refusals(IReadOnlyList<Point2> pointsMm)
    {
        ArgumentNullException.ThrowIfNull(pointsMm);
        if (pointsMm.Count < 2)
            return [new("bend", $"bendMm has {pointsMm.Count} points; give at least two [x, z], or one number for the bow.")];
        for (int i = 0; i < pointsMm.Count; i++)
        {
            Point2 p = pointsMm[i];
            if (!double.IsFinite(p.X) || !double.IsFinite(p.Y) || Math.Abs(p.Y) > LargestBelievedMm)
            {
                return [new("bend", string.Create(
                    CultureInfo.InvariantCulture,
                    $"bendMm[{i}] is [{p.X}, {p.Y}]; x must be finite and z from −{LargestBelievedMm} to {LargestBelievedMm} mm."))];
            }

            if (i > 0 && p.X <= pointsMm[i - 1].X)
            {
                return [new("bend", string.Create(
                    CultureInfo.InvariantCulture,
                    $"bendMm[{i}] has x = {p.X}, not beyond the {pointsMm[i - 1].X} before it; x must grow from heel to tip."))];
            }
        }

        return [];
    }

    /// <summary>z at x, mm, positive toward the blade's left.</summary>
    public double AtMm(double xMm)
    {
        if (xMm <= points[0].X)
            return points[0].Y;
        for (int i = 1; i < points.Length; i++)
        {
            if (xMm <= points[i].X)
            {
                double part = (xMm - points[i - 1].X) / (points[i].X - points[i - 1].X);
                return points[i - 1].Y + (part * (points[i].Y - points[i - 1].Y));
            }
        }

        return points[^1].Y;
    }

    /// <summary>z as an outward offset for the side being ground: +z on the left, −z on the right (docs/conventions.md).</summary>
    public double OutwardMm(double xMm, Side side) => side == Side.Left ? AtMm(xMm) : -AtMm(xMm);
}
