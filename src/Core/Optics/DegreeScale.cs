using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>Scales printed on a target, and what their numbers mean at the distance where the target really stands.</summary>
public static class DegreeScale
{
    /// <summary>
    /// Place of a label on a scale printed for a distance L₀: x = L₀·tan 2θ for bevel labels, x = L₀·tan δ for deflection labels; millimetres stand
    /// for themselves. Outward from zero, printed millimetres. From the 2θ of [hewitt] ch. 28.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A label at or beyond a deflection of 90°.</exception>
    public static double PlaceMm(MarkScale scale, double label, Length printedFor) => scale switch
    {
        MarkScale.Bevel => printedFor.Millimetres * Math.Tan(2 * double.DegreesToRadians(Within(label, 45))),
        MarkScale.Deflection => printedFor.Millimetres * Math.Tan(double.DegreesToRadians(Within(label, 90))),
        _ => Require.Finite(label),
    };

    /// <summary>
    /// Bevel as read of a mark x outward from zero on a sheet square to the beam at distance L, the bare beam falling x₀ right of zero:
    /// θ = ½·atan((k·x − s·x₀)/L), s = +1 on the right, −1 on the left, k the print scale. Exact for a beam on the row of its zero.
    /// </summary>
    public static Angle BevelAt(double outwardMm, Side target, Length distance, Length zero, double printScale = 1)
    {
        int sign = target == Side.Right ? 1 : -1;
        double x = (Require.Finite(outwardMm) * printScale) - (sign * zero.Millimetres);
        return Angle.FromRadians(0.5 * Math.Atan2(x, Require.Positive(distance.Millimetres, nameof(distance))));
    }

    /// <summary>
    /// How much bevel one unit of a label is worth: dθ/dlabel in degrees per unit, at the label's place.
    /// </summary>
    public static double BevelDegPerUnit(MarkScale scale, double label, Length printedFor, Length distance, double printScale, Angle bevel)
    {
        double radPerMm = DistanceSensitivity.RadiansPerMillimetre(bevel, distance) * printScale;
        double mmPerUnit = scale switch
        {
            MarkScale.Bevel => printedFor.Millimetres * 2 / Square(Math.Cos(2 * double.DegreesToRadians(label))) * (Math.PI / 180),
            MarkScale.Deflection => printedFor.Millimetres / Square(Math.Cos(double.DegreesToRadians(label))) * (Math.PI / 180),
            _ => 1,
        };
        return double.RadiansToDegrees(radPerMm * mmPerUnit);
    }

    private static double Square(double value) => value * value;

    private static double Within(double label, double most) => Math.Abs(Require.Finite(label)) < most
        ? label
        : throw new ArgumentOutOfRangeException(nameof(label), label, $"Must lie below {most}°, where the light would run along the sheet.");
}
