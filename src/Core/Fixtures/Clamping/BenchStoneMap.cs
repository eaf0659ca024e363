using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// Blade lying on a stone, propped at distance p behind the edge by a lift H: to the mid-plane (T = 0) or under the lower corner of a
/// spine T thick: the formulas of <see cref="BenchStone"/> with H − Q for H. Source: sine bar; derived in docs/conventions.md.
/// </summary>
public sealed class BenchStoneMap(double spineThicknessMm = 0) : AngleMap
{
    private readonly double half = Require.NotNegative(spineThicknessMm) / 2;

    /// <summary>T, mm; zero where the lift goes to the mid-plane.</summary>
    public double SpineThicknessMm => 2 * half;

    /// <inheritdoc />
    public override string SettingName => "lift";

    /// <inheritdoc />
    public override string SettingSymbol => "H";

    /// <inheritdoc />
    public override string Formula => "α = asin((H − Q)/√(p² + T²/4)) + atan2(T/2, p)";

    internal override double Square => 0;

    internal override MapCoefficients Coefficients(double angleRad)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return new(sin, -half * cos, 1);
    }

    internal override MapCoefficients Derivatives(double angleRad)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return new(cos, half * sin, 0);
    }

    /// <inheritdoc />
    public override double SettingMm(double angleRad, double supportMm, double offsetMm) =>
        BenchStone.StackMm(angleRad, supportMm, SpineThicknessMm) + offsetMm;

    /// <inheritdoc />
    public override (double PerSetting, double PerSupport, double PerOffset) SensitivityRad(double settingMm, double supportMm, double offsetMm)
    {
        (double perStack, double perWidth, _) =
            BenchStone.StackSensitivityRad(AngleRad(settingMm, supportMm, offsetMm), supportMm, SpineThicknessMm);
        return (perStack, perWidth, -perStack);
    }

    internal override double AngleFromG(double g, double supportMm, double offsetMm) =>
        BenchStone.AngleFromStackRad(g - offsetMm, supportMm, SpineThicknessMm);

    internal override double ToG(double settingMm) => settingMm;

    internal override double FromG(double g) => g;
}
