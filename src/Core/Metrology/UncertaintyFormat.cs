using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>The one place where a value and its uncertainty become text, with the coverage factor said: <c>15.2° ± 0.4° (k = 2)</c>.</summary>
public static class UncertaintyFormat
{
    /// <summary>An angle in degrees. See <see cref="Text"/>.</summary>
    public static string Degrees(MeasuredAngle angle, CultureInfo culture, double coverage = 2, int significantDigits = 2) =>
        Text(angle.Value.Degrees, angle.StandardUncertainty.Degrees, "°", culture, coverage, significantDigits);

    /// <summary>A length in millimetres. See <see cref="Text"/>.</summary>
    public static string Millimetres(MeasuredLength length, CultureInfo culture, double coverage = 2, int significantDigits = 2) =>
        Text(length.Value.Millimetres, length.StandardUncertainty.Millimetres, " mm", culture, coverage, significantDigits);

    /// <summary>
    /// Value and expanded uncertainty, the latter rounded to so many significant digits ([gum] 7.2.6: two at most), the value to the same place,
    /// neither finer than a hundredth. Half is rounded away from zero.
    /// </summary>
    /// <param name="value">Value.</param>
    /// <param name="standardUncertainty">Standard uncertainty; zero shows the value alone to a hundredth.</param>
    /// <param name="unit">Unit as written after each number, with its space where it takes one.</param>
    /// <param name="culture">Whose decimal sign.</param>
    /// <param name="coverage">Coverage factor k.</param>
    /// <param name="significantDigits">Digits of the uncertainty, one or two.</param>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, a negative uncertainty, a coverage factor not above zero, or digits other than one or two.</exception>
    public static string Text(
        double value, double standardUncertainty, string unit, CultureInfo culture, double coverage = 2, int significantDigits = 2)
    {
        Require.Finite(value);
        Require.NotNegative(standardUncertainty);
        Require.Positive(coverage);
        if (significantDigits is < 1 or > 2)
            throw new ArgumentOutOfRangeException(nameof(significantDigits), significantDigits, "Must be 1 or 2.");
        double expanded = coverage * standardUncertainty;
        int decimals = Decimals(expanded, significantDigits);
        string shown = Rounded(value, decimals).ToString("F" + Math.Max(0, decimals).ToString(CultureInfo.InvariantCulture), culture);
        if (expanded == 0)
            return shown + unit;
        string spread = Math.Max(Rounded(expanded, decimals), decimals == 2 ? 0.01 : 0)
            .ToString("F" + Math.Max(0, decimals).ToString(CultureInfo.InvariantCulture), culture);
        return $"{shown}{unit} ± {spread}{unit} (k = {coverage.ToString("0.##", culture)})";
    }

    private static int Decimals(double expanded, int significantDigits)
    {
        if (expanded == 0)
            return 2;
        int decimals = significantDigits - 1 - (int)Math.Floor(Math.Log10(expanded));
        double rounded = Rounded(expanded, decimals);
        decimals = significantDigits - 1 - (int)Math.Floor(Math.Log10(rounded) + 1e-9);
        return Math.Min(2, decimals);
    }

    private static double Rounded(double value, int decimals)
    {
        if (decimals >= 0)
            return Math.Round(value, Math.Min(decimals, 15), MidpointRounding.AwayFromZero);
        double unit = Math.Pow(10, -decimals);
        return Math.Round(value / unit, MidpointRounding.AwayFromZero) * unit;
    }
}
