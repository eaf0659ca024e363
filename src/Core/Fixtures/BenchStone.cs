using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// A blade on a flat stone, its back propped up. Mid-plane: the lift H goes to the mid-plane, a support distance p behind the edge (a sine bar).
/// Spine corner: a stack of height H lies under the lower corner of a spine T thick, w behind the edge. Source: sine bar [sine-bar]; derived in docs/conventions.md.
/// </summary>
public static class BenchStone
{
    /// <summary>α = asin(H/p), rad; NaN where H &gt; p.</summary>
    public static double AngleFromMidPlaneLiftRad(double liftMm, double supportMm) => Math.Asin(liftMm / supportMm);

    /// <summary>H = p sin α, mm.</summary>
    public static double MidPlaneLiftMm(double angleRad, double supportMm) => supportMm * Math.Sin(angleRad);

    /// <summary>∂α/∂H = 1/(p cos α), ∂α/∂p = −tan α/p, rad/mm.</summary>
    public static (double PerLift, double PerSupport) MidPlaneSensitivityRad(double angleRad, double supportMm) =>
        (1 / (supportMm * Math.Cos(angleRad)), -Math.Tan(angleRad) / supportMm);

    /// <summary>α = asin(H/√(w² + T²/4)) + atan(T/2w), rad; NaN where the stack is higher than the blade.</summary>
    public static double AngleFromStackRad(double stackMm, double widthMm, double spineMm) =>
        Math.Asin(stackMm / Math.Sqrt((widthMm * widthMm) + (spineMm * spineMm / 4))) + Math.Atan2(spineMm / 2, widthMm);

    /// <summary>H = w sin α − (T/2) cos α, mm: the inverse. Zero or less: the spine already lies on the stone at a larger angle.</summary>
    public static double StackMm(double angleRad, double widthMm, double spineMm) =>
        (widthMm * Math.Sin(angleRad)) - (spineMm / 2 * Math.Cos(angleRad));

    /// <summary>With S = w cos α + (T/2) sin α: ∂α/∂H = 1/S, ∂α/∂w = −sin α/S, ∂α/∂T = cos α/(2S), rad/mm.</summary>
    public static (double PerStack, double PerWidth, double PerSpine) StackSensitivityRad(double angleRad, double widthMm, double spineMm)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        double slope = (widthMm * cos) + (spineMm / 2 * sin);
        return (1 / slope, -sin / slope, cos / (2 * slope));
    }

    /// <summary>The smallest angle a spine on the bare stone can lie at: atan(T/2w), rad.</summary>
    public static double SmallestAngleRad(double widthMm, double spineMm) => Math.Atan2(spineMm / 2, widthMm);

    /// <summary>
    /// A wedge whose lower end carries the blade flat along its own mid-plane: its angle is α itself, and over a base of length b it rises b tan α, mm.
    /// </summary>
    public static double WedgeRiseMm(double angleRad, double baseMm) => baseMm * Math.Tan(angleRad);

    /// <summary>Derivation of the lift.</summary>
    public static Derivation ExplainLift(double angleRad, double supportMm, double spineMm)
    {
        (double perStack, double perWidth, double perSpine) = StackSensitivityRad(angleRad, supportMm, spineMm);
        return new(
            "lift",
            StackMm(angleRad, supportMm, spineMm),
            "mm",
            spineMm > 0 ? "H = w sin α − (T/2) cos α" : "H = w sin α",
            "[sine-bar]; derived in docs/conventions.md",
            [
                new("w", "support distance", supportMm, "mm", -perWidth / perStack),
                new("α", "angle to grind", double.RadiansToDegrees(angleRad), "deg", double.DegreesToRadians(1) / perStack),
                new("T", "spine thickness, zero for a lift to the mid-plane", spineMm, "mm", -perSpine / perStack),
            ],
            "fixtures.bench-stone/1");
    }
}
