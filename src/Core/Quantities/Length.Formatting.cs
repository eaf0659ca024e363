using System.Globalization;

namespace Whetwright.Core.Quantities;

/// <summary>Showing lengths.</summary>
public readonly partial record struct Length
{
    /// <summary>
    /// The number with its unit, invariant culture: millimetres with the decimals given, inches with one and a half times finer a step
    /// (two decimals more, at least three).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Decimals below 0 or above 9.</exception>
    public string ToText(LengthUnit unit, int millimetreDecimals = 2)
    {
        Require.Within(millimetreDecimals, 0, 9);
        return unit == LengthUnit.Inch
            ? Fixed(Inches, Math.Max(3, millimetreDecimals + 1)) + " in"
            : Fixed(Millimetres, millimetreDecimals) + " mm";
    }

    /// <summary>Inches to the nearest 1/64 as a mixed fraction: <c>5 33/64 in</c>. Rounds; halves go away from zero.</summary>
    public string ToInchFraction()
    {
        const int parts = 64;
        long count = (long)Math.Round(Math.Abs(Inches) * parts, MidpointRounding.AwayFromZero);
        long whole = count / parts;
        long top = count % parts;
        long bottom = parts;
        while (top > 0 && top % 2 == 0)
            (top, bottom) = (top / 2, bottom / 2);
        string sign = Millimetres < 0 && count > 0 ? "-" : "";
        string text = (whole, top) switch
        {
            (_, 0) => whole.ToString(CultureInfo.InvariantCulture),
            (0, _) => string.Create(CultureInfo.InvariantCulture, $"{top}/{bottom}"),
            _ => string.Create(CultureInfo.InvariantCulture, $"{whole} {top}/{bottom}"),
        };
        return $"{sign}{text} in";
    }

    private static string Fixed(double value, int decimals)
    {
        string text = value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        // No minus before a zero.
        return text.StartsWith('-') && text.All(c => c is '-' or '0' or '.') ? text[1..] : text;
    }
}
