using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// Rod through a pivot at height h over the mid-plane, working face offset t from the rod's line: the formulas of <see cref="GuidedRod"/>
/// with h − Q for h. Q lifts the edge's plane toward the rod (bend, tilt);
/// zero for a straight blade held square. Source: derived in docs/conventions.md.
/// </summary>
public sealed class GuidedRodMap(double faceOffsetMm) : AngleMap
{
    private readonly double offset = Require.Finite(faceOffsetMm);

    /// <summary>t, mm.</summary>
    public double FaceOffsetMm => offset;

    /// <inheritdoc />
    public override string SettingName => "pivot height over the mid-plane";

    /// <inheritdoc />
    public override string SettingSymbol => "h";

    /// <inheritdoc />
    public override string Formula => "α = atan2(h − Q, p) − asin(t/√((h − Q)² + p²))";

    internal override double Square => 0;

    internal override MapCoefficients Coefficients(double angleRad)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return new(sin / cos, offset / cos, 1);
    }

    internal override MapCoefficients Derivatives(double angleRad)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return new(1 / (cos * cos), offset * sin / (cos * cos), 0);
    }

    /// <inheritdoc />
    public override double SettingMm(double angleRad, double supportMm, double offsetMm) =>
        GuidedRod.PivotHeightMm(angleRad, supportMm, offset) + offsetMm;

    /// <inheritdoc />
    public override (double PerSetting, double PerSupport, double PerOffset) SensitivityRad(double settingMm, double supportMm, double offsetMm)
    {
        (double perHeight, double perSupport, _) = GuidedRod.SensitivityRad(AngleRad(settingMm, supportMm, offsetMm), supportMm, offset);
        return (perHeight, perSupport, -perHeight);
    }

    internal override double AngleFromG(double g, double supportMm, double offsetMm) => GuidedRod.AngleRad(g - offsetMm, supportMm, offset);

    internal override double ToG(double settingMm) => settingMm;

    internal override double FromG(double g) => g;
}
