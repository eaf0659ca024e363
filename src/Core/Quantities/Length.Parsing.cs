namespace Whetwright.Core.Quantities;

/// <summary>Reading lengths that people type.</summary>
public readonly partial record struct Length
{
    private static readonly (string Name, double Millimetres)[] KnownUnits =
    [
        ("mm", 1), ("millimetres", 1), ("millimetre", 1), ("millimeters", 1), ("millimeter", 1),
        ("cm", 10), ("µm", 0.001), ("μm", 0.001), ("um", 0.001), ("m", 1000),
        ("inches", MillimetresPerInch), ("inch", MillimetresPerInch), ("in.", MillimetresPerInch), ("in", MillimetresPerInch),
        ("\"", MillimetresPerInch), ("″", MillimetresPerInch), ("”", MillimetresPerInch), ("''", MillimetresPerInch), ("′′", MillimetresPerInch),
    ];

    /// <summary>
    /// Reads a length: <c>140 mm</c>, <c>14 cm</c>, <c>5.5"</c>, <c>3/8 in</c>, <c>1 1/2 in</c>, <c>½"</c>, <c>12,5</c>. A number alone is in
    /// <paramref name="bare"/>.
    /// </summary>
    public static Typed<Length> Parse(string? text, LengthUnit bare = LengthUnit.Millimetre)
    {
        string shown = text ?? "";
        string plain = TypedNumber.Plain(shown);
        if (plain.Length == 0)
            return new Typed<Length>.Refused(shown, "nothing was typed; a length such as 140 mm or 5 1/2 in would be right");
        double factor = bare == LengthUnit.Inch ? MillimetresPerInch : 1;
        string number = plain;
        int end = EndOfNumber(plain);
        if (end < plain.Length)
        {
            string unit = plain[end..].Trim();
            if (FactorOf(unit) is not { } known)
            {
                return end == 0
                    ? new Typed<Length>.Refused(shown, $"'{shown}' is not a length; one such as 140 mm or 5 1/2 in would be right")
                    : new Typed<Length>.Refused(shown, $"'{shown}' has the unknown unit '{unit}'; mm, cm, m, µm, in or \" would be right");
            }

            factor = known;
            number = plain[..end].Trim();
            if (number.Length == 0)
                return new Typed<Length>.Refused(shown, $"'{shown}' has a unit but no number; a length such as 140 mm would be right");
        }

        Typed<double> typed = TypedNumber.ParsePlain(number, shown);
        if (typed is Typed<double>.Value v && !double.IsFinite(v.Of * factor))
            return new Typed<Length>.Refused(shown, $"'{shown}' is too large to be a length");
        return typed.Select(value => new Length(value * factor));
    }

    private static double? FactorOf(string unit)
    {
        foreach ((string name, double factor) in KnownUnits)
        {
            if (name.Equals(unit, StringComparison.OrdinalIgnoreCase))
                return factor;
        }

        return null;
    }

    /// <summary>Where the number ends and the unit begins. An e between digits belongs to the number.</summary>
    private static int EndOfNumber(string plain)
    {
        if (IsWordForNoNumber(plain))
            return plain.Length;
        int i = 0;
        while (i < plain.Length)
        {
            char c = plain[i];
            bool exponent = c is 'e' or 'E' && i > 0 && char.IsAsciiDigit(plain[i - 1])
                && (i + 1 == plain.Length || char.IsAsciiDigit(plain[i + 1]) || plain[i + 1] is '+' or '-');
            if (!exponent && !char.IsAsciiDigit(c) && c is not ('.' or ',' or '+' or '-' or '/' or ' '))
                break;
            i++;
        }

        return i;
    }

    private static bool IsWordForNoNumber(string plain)
    {
        string word = plain.TrimStart('+', '-');
        return word.StartsWith("nan", StringComparison.OrdinalIgnoreCase) || word.StartsWith("inf", StringComparison.OrdinalIgnoreCase) || word.StartsWith('∞');
    }
}
