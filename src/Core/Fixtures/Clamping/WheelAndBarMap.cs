using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// Wheel of radius R, bar centre at distance D from its axis: the formulas of <see cref="WheelAndBar"/>, whose D² is linear in p, Q and
/// p² + Q² at any one angle. Source: law of cosines; derived in docs/conventions.md.
/// </summary>
public sealed class WheelAndBarMap(double wheelRadiusMm) : AngleMap
{
    private readonly double radius = Require.Positive(wheelRadiusMm);

    /// <summary>R, mm.</summary>
    public double WheelRadiusMm => radius;

    /// <inheritdoc />
    public override string SettingName => "bar centre to wheel axis";

    /// <inheritdoc />
    public override string SettingSymbol => "D";

    /// <inheritdoc />
    public override string Formula => "α = asin[(D² − R² − p² − Q²)/(2R√(p² + Q²))] − atan2(Q, p)";

    internal override double Square => 1;

    internal override MapCoefficients Coefficients(double angleRad)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return new(2 * radius * sin, radius * radius, 2 * radius * cos);
    }

    internal override MapCoefficients Derivatives(double angleRad)
    {
        (double sin, double cos) = Math.SinCos(angleRad);
        return new(2 * radius * cos, 0, -2 * radius * sin);
    }

    /// <inheritdoc />
    public override double SettingMm(double angleRad, double supportMm, double offsetMm) =>
        WheelAndBar.CentreDistanceMm(radius, angleRad, supportMm, offsetMm);

    /// <inheritdoc />
    public override (double PerSetting, double PerSupport, double PerOffset) SensitivityRad(double settingMm, double supportMm, double offsetMm)
    {
        (double perDistance, _, double perSupport, double perOffset) =
            WheelAndBar.SensitivityRad(radius, AngleRad(settingMm, supportMm, offsetMm), supportMm, offsetMm);
        return (perDistance, perSupport, perOffset);
    }

    internal override double AngleFromG(double g, double supportMm, double offsetMm) =>
        WheelAndBar.AngleFromSquareRad(radius, g, supportMm, offsetMm);

    internal override double ToG(double settingMm) => settingMm * settingMm;

    internal override double FromG(double g) => Math.Sqrt(g);
}
