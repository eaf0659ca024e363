using System.Globalization;

namespace Whetwright.Core.Quantities;

/// <summary>
/// Numbers as people type them. <c>12.5</c> and <c>12,5</c> are the same; a lone separator before exactly three digits is asked about
/// (<c>1,000</c>), never guessed; fractions (<c>3/8</c>, <c>1 1/2</c>, <c>1½</c>) are read; what is not understood is refused.
/// </summary>
/// <remarks>
/// A group of thousands never follows a zero nor more than three digits, so <c>0,125</c> and <c>1234.567</c> have one reading only.
/// Where both separators occur the last one is the decimal sign (<c>1.234,5</c>). Culture plays no part.
/// </remarks>
public static class TypedNumber
{
    private const NumberStyles Style = NumberStyles.Float & ~NumberStyles.AllowLeadingWhite & ~NumberStyles.AllowTrailingWhite;

    /// <summary>Reads a number without a unit.</summary>
    public static Typed<double> Parse(string? text)
    {
        string shown = text ?? "";
        string plain = Plain(shown);
        if (plain.Length == 0)
            return Refuse(shown, "nothing was typed; a number such as 12.5 or 12,5 would be right");
        return ParsePlain(plain, shown);
    }

    /// <summary>Typographic forms of sign, fraction and space as plain ones, ends trimmed.</summary>
    internal static string Plain(string text)
    {
        var plain = new System.Text.StringBuilder(text.Length + 4);
        foreach (char c in text)
        {
            string? fraction = Fraction(c);
            if (fraction is not null)
                plain.Append(plain.Length > 0 && char.IsAsciiDigit(plain[^1]) ? " " : "").Append(fraction);
            else
                plain.Append(c switch
                {
                    '\u2212' or '\u2012' or '\u2013' => '-',
                    '\u2044' or '\u2215' => '/',
                    '\u00a0' or '\u2009' or '\u202f' or '\t' => ' ',
                    _ => c,
                });
        }

        return plain.ToString().Trim();
    }

    /// <summary>Reads a number from text that <see cref="Plain"/> has seen; <paramref name="shown"/> is what the person typed.</summary>
    internal static Typed<double> ParsePlain(string plain, string shown)
    {
        if (plain.Contains('/', StringComparison.Ordinal))
            return ParseFraction(plain, shown);
        if (IsNotFinite(plain))
            return Refuse(shown, "is not a finite number; a measured value such as 12.5 would be right");
        string body = plain.TrimStart('+', '-');
        if (plain.Length - body.Length > 1 || body.Length == 0)
            return Refuse(shown, "is not a number; one such as 12.5 or 12,5 would be right");
        int exponentAt = body.IndexOfAny(['e', 'E']);
        string mantissa = exponentAt < 0 ? body : body[..exponentAt];
        string exponent = exponentAt < 0 ? "" : body[exponentAt..];
        char[] separators = [.. mantissa.Where(c => c is '.' or ',')];
        if (mantissa.Any(c => !char.IsAsciiDigit(c) && c is not ('.' or ',')))
            return Refuse(shown, mantissa.Contains(' ', StringComparison.Ordinal)
                ? "has a space inside; write the number without it, such as 1000"
                : "is not a number; one such as 12.5 or 12,5 would be right");
        string sign = plain.StartsWith('-') ? "-" : "";
        if (separators.Length == 0)
            return Finish(sign + mantissa + exponent, shown);
        if (separators.Length == 1)
            return LoneSeparator(sign, mantissa, exponent, shown);
        return ManySeparators(sign, mantissa, exponent, separators, shown);
    }

    private static Typed<double> LoneSeparator(string sign, string mantissa, string exponent, string shown)
    {
        int at = mantissa.IndexOfAny(['.', ',']);
        string before = mantissa[..at];
        string after = mantissa[(at + 1)..];
        if (after.Length == 0 || before.Length == 0)
            return Refuse(shown, $"has no digit {(after.Length == 0 ? "after" : "before")} its decimal sign; {(before.Length == 0 ? "0" + mantissa : before)} would be right");
        Typed<double> asDecimal = Finish($"{sign}{before}.{after}{exponent}", shown);
        bool mayGroup = after.Length == 3 && before.Length <= 3 && before[0] != '0';
        if (!mayGroup || asDecimal is not Typed<double>.Value small)
            return asDecimal;
        if (Finish(sign + before + after + exponent, shown) is not Typed<double>.Value large)
            return asDecimal;
        string one = Invariant(small.Of);
        string thousand = Invariant(large.Of);
        return new Typed<double>.Ambiguous(shown, small.Of, large.Of,
            $"'{shown}' may be {one} or {thousand}: type {(one.Contains('.', StringComparison.Ordinal) ? one + "0" : one)} for the first, {thousand} for the second");
    }

    private static Typed<double> ManySeparators(string sign, string mantissa, string exponent, char[] separators, string shown)
    {
        char last = separators[^1];
        bool mixed = separators.Any(c => c != last);
        char grouping = separators[0];
        string whole = mixed ? mantissa[..mantissa.LastIndexOf(last)] : mantissa;
        string part = mixed ? mantissa[(mantissa.LastIndexOf(last) + 1)..] : "";
        string[] groups = whole.Split(grouping);
        bool wellFormed = groups[0].Length is >= 1 and <= 3 && groups[0][0] != '0'
            && groups.Skip(1).All(g => g.Length == 3 && g.All(char.IsAsciiDigit)) && (!mixed || part.Length > 0);
        return wellFormed
            ? Finish($"{sign}{string.Concat(groups)}{(mixed ? "." + part : "")}{exponent}", shown)
            : Refuse(shown, "has more than one decimal sign; one such as 12.5 or 12,5 would be right");
    }

    private static Typed<double> ParseFraction(string plain, string shown)
    {
        const string Right = "is not a fraction; one such as 3/8 or 1 1/2 would be right";
        bool negative = plain[0] == '-';
        string body = negative || plain[0] == '+' ? plain[1..] : plain;
        // 1 1/2 and 1-1/2 are the same.
        string[] words = body.Split([' ', '-'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        string joined = string.Join(' ', words);
        int slash = joined.IndexOf('/', StringComparison.Ordinal);
        string left = joined[..slash].Trim();
        string below = joined[(slash + 1)..].Trim();
        string[] upper = left.Split(' ');
        double whole = 0;
        if (upper.Length > 2 || !Digits(upper[^1], out double top) || !Digits(below, out double bottom)
            || (upper.Length == 2 && !Digits(upper[0], out whole)))
            return Refuse(shown, Right);
        if (bottom == 0)
            return Refuse(shown, "divides by zero; a fraction such as 3/8 would be right");
        double value = whole + (top / bottom);
        return new Typed<double>.Value(negative ? -value : value);
    }

    private static bool Digits(string text, out double value)
    {
        value = 0;
        return text.Length is > 0 and <= 9 && text.All(char.IsAsciiDigit)
            && double.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out value);
    }

    private static Typed<double> Finish(string text, string shown)
    {
        if (!double.TryParse(text, Style, CultureInfo.InvariantCulture, out double value))
            return Refuse(shown, "is not a number; one such as 12.5 or 12,5 would be right");
        return double.IsFinite(value)
            ? new Typed<double>.Value(value)
            : Refuse(shown, "is too large to be a measured value; one such as 12.5 would be right");
    }

    private static bool IsNotFinite(string plain)
    {
        string word = plain.TrimStart('+', '-');
        return word.Equals("nan", StringComparison.OrdinalIgnoreCase) || word.Equals("inf", StringComparison.OrdinalIgnoreCase)
            || word.Equals("infinity", StringComparison.OrdinalIgnoreCase) || string.Equals(word, "∞", StringComparison.Ordinal);
    }

    private static string? Fraction(char c) => c switch
    {
        '½' => "1/2", '¼' => "1/4", '¾' => "3/4", '⅓' => "1/3", '⅔' => "2/3",
        '⅛' => "1/8", '⅜' => "3/8", '⅝' => "5/8", '⅞' => "7/8", '⅕' => "1/5", '⅖' => "2/5",
        '⅗' => "3/5", '⅘' => "4/5", '⅙' => "1/6", '⅚' => "5/6", '⅒' => "1/10",
        _ => null,
    };

    private static string Invariant(double value) => value.ToString("0.###############", CultureInfo.InvariantCulture);

    private static Typed<double>.Refused Refuse(string shown, string why) => new(shown, shown.Length == 0 ? why : $"'{shown}' {why}");
}
