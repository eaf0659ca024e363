using System.Globalization;

namespace Whetwright.Records.Visits;

/// <summary>
/// The number on a tag as people read it out: the number, a dash, and a check digit by ISO/IEC 7064 MOD 11,10, which catches every
/// single wrong digit and nearly every swap of two neighbours.
/// </summary>
public static class TagNumber
{
    /// <summary>"1047-3".</summary>
    /// <param name="number">Positive.</param>
    public static string Format(int number) => string.Create(CultureInfo.InvariantCulture, $"{number}-{CheckDigit(number)}");

    /// <summary>The check digit, 0–9. ISO/IEC 7064:2003, hybrid system MOD 11,10: p = 10; for each digit a: s = (p + a) mod 10, 10 if 0; p = 2s mod 11.</summary>
    public static int CheckDigit(int number)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(number);
        int p = 10;
        foreach (char c in number.ToString(CultureInfo.InvariantCulture))
        {
            int s = (p + (c - '0')) % 10;
            p = 2 * (s == 0 ? 10 : s) % 11;
        }

        return (11 - p) % 10;
    }

    /// <summary>Reads "1047-3", "10473", "1047 3"; false where the check digit does not fit.</summary>
    /// <param name="text">What was typed or scanned.</param>
    /// <param name="number">The number without its check digit.</param>
    public static bool TryParse(string? text, out int number)
    {
        number = 0;
        string digits = string.Concat((text ?? "").Where(c => c is not ('-' or ' ')));
        if (digits.Length is < 2 or > 10 || !digits.All(char.IsAsciiDigit))
            return false;
        return int.TryParse(digits[..^1], NumberStyles.None, CultureInfo.InvariantCulture, out number)
            && number > 0 && CheckDigit(number) == digits[^1] - '0';
    }
}
