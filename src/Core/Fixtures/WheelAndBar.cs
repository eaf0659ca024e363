using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// A holder that swings on a bar in front of or behind a wheel. In the slice square to the wheel's axis: wheel radius R, bar centre at
/// distance D from the axis, edge on the wheel, foot of the bar on the mid-plane a support distance p behind the edge, bar centre off the
/// mid-plane by Q, positive away from the wheel. α is the angle between mid-plane and the wheel's tangent at the apex. The tangent of the edge is
/// taken as parallel to the axis (the worker follows it). Source: law of cosines; derived in docs/conventions.md.
/// </summary>
public static class WheelAndBar
{
    /// <summary>
    /// α = asin[(D² − R² − p² − Q²)/(2R√(p² + Q²))] − atan2(Q, p), rad. NaN where there is no pose (see <see cref="NoPose"/>); may be
    /// zero or negative, which is no pose for grinding.
    /// </summary>
    public static double AngleRad(double wheelRadiusMm, double barDistanceMm, double supportMm, double offsetMm) =>
        AngleFromSquareRad(wheelRadiusMm, barDistanceMm * barDistanceMm, supportMm, offsetMm);

    /// <summary>The same from D², mm², which a search over many clamps already has.</summary>
    internal static double AngleFromSquareRad(double wheelRadiusMm, double barDistanceSquareMm2, double supportMm, double offsetMm)
    {
        double square = (supportMm * supportMm) + (offsetMm * offsetMm);
        double sine = (barDistanceSquareMm2 - (wheelRadiusMm * wheelRadiusMm) - square) / (2 * wheelRadiusMm * Math.Sqrt(square));
        return Math.Asin(sine) - Math.Atan2(offsetMm, supportMm);
    }

    /// <summary>D = √(R² + p² + Q² + 2R(p sin α + Q cos α)), mm: the inverse of <see cref="AngleRad"/>.</summary>
    public static double CentreDistanceMm(double wheelRadiusMm, double angleRad, double supportMm, double offsetMm)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return Math.Sqrt((wheelRadiusMm * wheelRadiusMm) + (supportMm * supportMm) + (offsetMm * offsetMm)
            + (2 * wheelRadiusMm * ((supportMm * sin) + (offsetMm * cos))));
    }

    /// <summary>
    /// Partial derivatives of α, rad/mm, by implicit differentiation of the law of cosines. With S = R(p cos α − Q sin α):
    /// ∂α/∂D = D/S, ∂α/∂R = −(R + p sin α + Q cos α)/S, ∂α/∂p = −(p + R sin α)/S, ∂α/∂Q = −(Q + R cos α)/S. Holds where S &gt; 0.
    /// </summary>
    public static (double PerDistance, double PerRadius, double PerSupport, double PerOffset) SensitivityRad(
        double wheelRadiusMm, double angleRad, double supportMm, double offsetMm)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        double slope = wheelRadiusMm * ((supportMm * cos) - (offsetMm * sin));
        double distance = CentreDistanceMm(wheelRadiusMm, angleRad, supportMm, offsetMm);
        return (
            distance / slope,
            -(wheelRadiusMm + (supportMm * sin) + (offsetMm * cos)) / slope,
            -(supportMm + (wheelRadiusMm * sin)) / slope,
            -(offsetMm + (wheelRadiusMm * cos)) / slope);
    }

    /// <summary>
    /// Offset Q of the bar's centre for the side being ground, mm. Bar through the holder: Q = −c on the left, +c on the right. Holder of
    /// half-thickness s resting on a bar of radius r_b, the bar being on the wheel's side: Q = ∓c − s − r_b. c is the offset of the
    /// bar (or of the holder's middle plane) from the mid-plane, positive toward the blade's left, which faces the wheel when the left is ground.
    /// </summary>
    public static double OffsetMm(BarSeat seat, Side groundSide, double holderOffsetMm, double holderHalfThicknessMm, double barRadiusMm)
    {
        double toward = groundSide == Side.Left ? -holderOffsetMm : holderOffsetMm;
        return seat == BarSeat.Through ? toward : toward - holderHalfThicknessMm - barRadiusMm;
    }

    /// <summary>Why there is no pose, in words; null where there is one. A pose needs |D − R| &lt; √(p² + Q²) &lt; D + R and α &gt; 0.</summary>
    public static Reason? NoPose(double wheelRadiusMm, double barDistanceMm, double supportMm, double offsetMm)
    {
        double reach = Math.Sqrt((supportMm * supportMm) + (offsetMm * offsetMm));
        string span = string.Create(CultureInfo.InvariantCulture, $"{reach:0.00} mm from bar to edge");
        if (reach >= barDistanceMm + wheelRadiusMm)
            return new("no-such-pose", $"The edge passes beyond the whole wheel: {span}. Clamp the blade nearer to the bar.");
        if (reach <= barDistanceMm - wheelRadiusMm)
        {
            return new("no-such-pose", string.Create(
                CultureInfo.InvariantCulture,
                $"The edge does not reach the wheel: {span}, {barDistanceMm - wheelRadiusMm:0.00} mm from bar to wheel. Bring the bar nearer or clamp the blade further out."));
        }

        if (reach <= wheelRadiusMm - barDistanceMm)
            return new("no-such-pose", $"The bar would stand inside the wheel: {span}. Move the bar away from the axis.");
        double angle = AngleRad(wheelRadiusMm, barDistanceMm, supportMm, offsetMm);
        return angle > 0
            ? null
            : new("no-such-pose", string.Create(
                CultureInfo.InvariantCulture,
                $"The blade would lie at {double.RadiansToDegrees(angle):0.00}°, flat or below the wheel's tangent. Move the bar away from the axis."));
    }

    /// <summary>Derivation of D for an angle.</summary>
    public static Derivation ExplainDistance(
        double wheelRadiusMm, double angleRad, double supportMm, double offsetMm, Derivation? offset = null, Derivation? angle = null)
    {
        (double perDistance, double perRadius, double perSupport, double perOffset) = SensitivityRad(wheelRadiusMm, angleRad, supportMm, offsetMm);
        return new(
            "bar centre to wheel axis",
            CentreDistanceMm(wheelRadiusMm, angleRad, supportMm, offsetMm),
            "mm",
            "D = √(R² + p² + Q² + 2R(p sin α + Q cos α))",
            "law of cosines; derived in docs/conventions.md",
            [
                new("R", "wheel radius", wheelRadiusMm, "mm", -perRadius / perDistance),
                new("α", "angle to grind", double.RadiansToDegrees(angleRad), "deg", double.DegreesToRadians(1) / perDistance, angle),
                new("p", "support distance", supportMm, "mm", -perSupport / perDistance),
                new("Q", "bar off the mid-plane", offsetMm, "mm", -perOffset / perDistance, offset),
            ],
            "fixtures.wheel-and-bar/1");
    }

    /// <summary>Derivation of α from D.</summary>
    public static Derivation ExplainAngle(double wheelRadiusMm, double barDistanceMm, double supportMm, double offsetMm)
    {
        double angle = AngleRad(wheelRadiusMm, barDistanceMm, supportMm, offsetMm);
        (double perDistance, double perRadius, double perSupport, double perOffset) = SensitivityRad(wheelRadiusMm, angle, supportMm, offsetMm);
        return new(
            "angle ground",
            double.RadiansToDegrees(angle),
            "deg",
            "α = asin[(D² − R² − p² − Q²)/(2R√(p² + Q²))] − atan2(Q, p)",
            "law of cosines; derived in docs/conventions.md",
            [
                new("D", "bar centre to wheel axis", barDistanceMm, "mm", double.RadiansToDegrees(perDistance)),
                new("R", "wheel radius", wheelRadiusMm, "mm", double.RadiansToDegrees(perRadius)),
                new("p", "support distance", supportMm, "mm", double.RadiansToDegrees(perSupport)),
                new("Q", "bar off the mid-plane", offsetMm, "mm", double.RadiansToDegrees(perOffset)),
            ],
            "fixtures.wheel-and-bar/1");
    }
}

/// <summary>How the holder sits on the bar.</summary>
public enum BarSeat
{
    /// <summary>The bar runs through the holder.</summary>
    Through = 0,

    /// <summary>The holder's flat rests on the bar.</summary>
    Rests = 1,
}
