using System.Globalization;

namespace Whetwright.Core.Quantities;

/// <summary>Showing angles.</summary>
public readonly partial record struct Angle
{
    /// <summary>Degrees with the decimals given and the degree sign, invariant culture; a zero has no minus.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Decimals below 0 or above 9.</exception>
    public string ToText(int decimals)
    {
        Require.Within(decimals, 0, 9);
        string text = Degrees.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return (text.StartsWith('-') && text.All(c => c is '-' or '0' or '.') ? text[1..] : text) + "°";
    }
}
