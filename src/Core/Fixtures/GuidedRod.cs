using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>
/// A stone on a rod that runs through a pivot at height h over the blade's mid-plane, the pivot's foot a support distance p behind the edge; the
/// working face lies t below the rod's line, on the blade's side. The rod runs square to the edge's tangent. Source: derived in docs/conventions.md.
/// </summary>
public static class GuidedRod
{
    /// <summary>α = atan2(h, p) − asin(t/√(h² + p²)), rad. NaN where the face offset is longer than the way from edge to pivot.</summary>
    public static double AngleRad(double pivotHeightMm, double supportMm, double faceOffsetMm) =>
        Math.Atan2(pivotHeightMm, supportMm)
        - Math.Asin(faceOffsetMm / Math.Sqrt((pivotHeightMm * pivotHeightMm) + (supportMm * supportMm)));

    /// <summary>h = p tan α + t/cos α, mm: the inverse of <see cref="AngleRad"/>.</summary>
    public static double PivotHeightMm(double angleRad, double supportMm, double faceOffsetMm) =>
        (supportMm * Math.Tan(angleRad)) + (faceOffsetMm / Math.Cos(angleRad));

    /// <summary>
    /// Partial derivatives of α, rad/mm. With S = (p + t sin α)/cos α, the way along the face: ∂α/∂h = cos α/S, ∂α/∂p = −sin α/S, ∂α/∂t = −1/S.
    /// </summary>
    public static (double PerHeight, double PerSupport, double PerFaceOffset) SensitivityRad(double angleRad, double supportMm, double faceOffsetMm)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        double along = (supportMm + (faceOffsetMm * sin)) / cos;
        return (cos / along, -sin / along, -1 / along);
    }

    /// <summary>Derivation of the pivot's height for an angle.</summary>
    public static Derivation ExplainHeight(double angleRad, double supportMm, double faceOffsetMm)
    {
        (double perHeight, double perSupport, double perFace) = SensitivityRad(angleRad, supportMm, faceOffsetMm);
        return new(
            "pivot height over the mid-plane",
            PivotHeightMm(angleRad, supportMm, faceOffsetMm),
            "mm",
            "h = p tan α + t/cos α",
            "derived in docs/conventions.md",
            [
                new("p", "support distance", supportMm, "mm", -perSupport / perHeight),
                new("α", "angle to grind", double.RadiansToDegrees(angleRad), "deg", double.DegreesToRadians(1) / perHeight),
                new("t", "working face below the rod's line", faceOffsetMm, "mm", -perFace / perHeight),
            ],
            "fixtures.guided-rod/1");
    }
}
