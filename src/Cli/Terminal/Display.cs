using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Terminal;

/// <summary>How numbers are shown: the display units, and one place for decimals and uncertainties.</summary>
public sealed class Display(LengthUnit unit)
{
    /// <summary>The unit of lengths.</summary>
    public LengthUnit Unit { get; } = unit;

    /// <summary>A length, or null.</summary>
    public string? Mm(double? millimetres, int decimals = 2) =>
        millimetres is { } mm && double.IsFinite(mm) ? Length.FromMillimetres(mm).ToText(Unit, decimals) : null;

    /// <summary>A signed length: travel, with its plus.</summary>
    public string? Travel(double? millimetres) =>
        millimetres is { } mm && double.IsFinite(mm) ? (mm > 0 ? "+" : "") + Length.FromMillimetres(mm).ToText(Unit) : null;

    /// <summary>An angle, or null.</summary>
    public static string? Deg(double? degrees, int decimals = 2) =>
        degrees is { } d && double.IsFinite(d) ? Angle.FromDegrees(d).ToText(decimals) : null;

    /// <summary>An angle with its expanded uncertainty (k = 2), or null.</summary>
    public static string? Deg(MeasuredAngle? angle) => angle is { } a
        ? $"{a.Value.ToText(2)} ± {(2 * a.StandardUncertainty).ToText(2)}"
        : null;

    /// <summary>A plain number.</summary>
    public static string Number(double value, int decimals) => value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
