using System.Globalization;

namespace Whetwright.Paper.Sheets;

/// <summary>Writes numbers for people, in the units and with the decimal sign of the sheet.</summary>
public sealed class Figures
{
    private const double MmPerInch = 25.4;
    private readonly NumberFormatInfo format;

    /// <summary>Numbers in a style.</summary>
    public Figures(SheetStyle style)
    {
        Style = style;
        format = new NumberFormatInfo { NumberDecimalSeparator = style.DecimalComma ? "," : ".", NegativeSign = "−" };
    }

    /// <summary>The style.</summary>
    public SheetStyle Style { get; }

    /// <summary>The unit of lengths.</summary>
    public string LengthUnit => Style.Inches ? "in" : "mm";

    /// <summary>A length with its unit; in inches one decimal more.</summary>
    public string Length(double mm, int decimals = 1) => LengthNumber(mm, decimals) + " " + LengthUnit;

    /// <summary>A length without its unit.</summary>
    public string LengthNumber(double mm, int decimals = 1) => Style.Inches
        ? Fixed(mm / MmPerInch, decimals + 1)
        : Fixed(mm, decimals);

    /// <summary>A small length, such as a facet's width.</summary>
    public string Small(double mm) => Style.Inches ? Fixed(mm / MmPerInch, 4) + " in" : Fixed(mm, 2) + " mm";

    /// <summary>A change, with its sign always shown.</summary>
    public string Change(double mm, int decimals = 2) => (mm < 0 ? "−" : "+") + Length(Math.Abs(mm), decimals);

    /// <summary>Degrees with their sign.</summary>
    public string Degrees(double deg, int decimals = 1) => Fixed(deg, decimals) + "°";

    /// <summary>Degrees with twice the standard uncertainty: <c>15.2° ± 0.4°</c>. The sheet says once that k = 2.</summary>
    public string Degrees(double deg, double? u) => Degrees(deg) + (u is { } known ? " ± " + Degrees(2 * known, known < 0.05 ? 2 : 1) : "");

    /// <summary>A day.</summary>
    public string Day(DateOnly day) => Style.Day?.Invoke(day) ?? day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>A number with fixed decimals; never "−0".</summary>
    public string Fixed(double value, int decimals)
    {
        double rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), format);
    }
}
