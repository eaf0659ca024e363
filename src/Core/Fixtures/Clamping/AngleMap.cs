namespace Whetwright.Core.Fixtures.Clamping;

/// <summary>
/// What a fixture does to the angle: from support distance p, outward offset Q and the setting to α, and back. All fixtures of the
/// trade share one form, g(α) = k·(p² + Q²) + A(α)·p + B(α) + C(α)·Q, where g is the setting or its square; this is what lets a
/// clamp be certified. The formulas themselves are those of the fixture's own static class; A, B and C here are the same written as a line. α is meant only where g grows with it (see <see cref="Slope"/>).
/// </summary>
public abstract class AngleMap
{
    /// <summary>One where p² and Q² enter, zero where they do not.</summary>
    internal abstract double Square { get; }

    /// <summary>What the setting is, as a reader would call it: <c>bar centre to wheel axis</c>.</summary>
    public abstract string SettingName { get; }

    /// <summary>The formula of α in plain Unicode, with p, Q and the setting's symbol.</summary>
    public abstract string Formula { get; }

    /// <summary>The setting's symbol in <see cref="Formula"/>.</summary>
    public abstract string SettingSymbol { get; }

    /// <summary>α at the apex, rad; NaN where there is no such pose.</summary>
    public double AngleRad(double settingMm, double supportMm, double offsetMm) => AngleFromG(ToG(settingMm), supportMm, offsetMm);

    /// <summary>The setting that grinds α, mm; NaN where there is none.</summary>
    public abstract double SettingMm(double angleRad, double supportMm, double offsetMm);

    /// <summary>∂α/∂setting, ∂α/∂p and ∂α/∂Q, rad/mm.</summary>
    public abstract (double PerSetting, double PerSupport, double PerOffset) SensitivityRad(double settingMm, double supportMm, double offsetMm);

    /// <summary>dg/dα; a pose is one the fixture holds only where this is above zero.</summary>
    internal double Slope(double angleRad, double supportMm, double offsetMm)
    {
        MapCoefficients c = Derivatives(angleRad);
        return (c.A * supportMm) + c.B + (c.C * offsetMm);
    }

    internal abstract MapCoefficients Coefficients(double angleRad);

    internal abstract MapCoefficients Derivatives(double angleRad);

    internal abstract double AngleFromG(double g, double supportMm, double offsetMm);

    internal abstract double ToG(double settingMm);

    internal abstract double FromG(double g);
}

/// <summary>A, B and C of an angle map at one angle.</summary>
internal readonly record struct MapCoefficients(double A, double B, double C);
