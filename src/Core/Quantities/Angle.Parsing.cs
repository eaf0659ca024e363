namespace Whetwright.Core.Quantities;

/// <summary>Reading angles that people type.</summary>
public readonly partial record struct Angle
{
    private const string WouldBeRight = "12.5, 12.5°, 12°30′ or 12° 30′ 15″ would be right";

    /// <summary>Reads an angle in degrees: <c>12.5</c>, <c>12,5°</c>, <c>12.5 deg</c>, <c>12°30′</c>, <c>12° 30' 15"</c>, or <c>0.2 rad</c>.</summary>
    public static Typed<Angle> Parse(string? text)
    {
        string shown = text ?? "";
        string plain = TypedNumber.Plain(shown).Replace("''", "″", StringComparison.Ordinal).Replace("′′", "″", StringComparison.Ordinal)
            .Replace('\'', '′').Replace('’', '′').Replace('"', '″').Replace('”', '″').Replace('º', '°').Replace('˚', '°');
        if (plain.Length == 0)
            return new Typed<Angle>.Refused(shown, "nothing was typed; an angle such as 12.5 or 12°30′ would be right");
        foreach (string unit in new[] { "degrees", "degree", "deg" })
        {
            if (plain.EndsWith(unit, StringComparison.OrdinalIgnoreCase))
                plain = plain[..^unit.Length].Trim() + "°";
        }

        if (plain.EndsWith("rad", StringComparison.OrdinalIgnoreCase))
            return TypedNumber.ParsePlain(plain[..^3].Trim() is { Length: > 0 } r ? r : "rad", shown).Select(v => new Angle(v));
        return plain.IndexOfAny(['°', '′', '″']) < 0
            ? FromNumber(plain, shown)
            : FromParts(plain, shown);
    }

    private static Typed<Angle> FromNumber(string plain, string shown)
    {
        bool letters = plain.Any(char.IsLetter) && !plain.Contains("nan", StringComparison.OrdinalIgnoreCase)
            && !plain.Contains("inf", StringComparison.OrdinalIgnoreCase) && !plain.Contains('e', StringComparison.OrdinalIgnoreCase);
        return letters
            ? new Typed<Angle>.Refused(shown, $"'{shown}' is not an angle; {WouldBeRight}")
            : TypedNumber.ParsePlain(plain, shown).Select(v => new Angle(double.DegreesToRadians(v)));
    }

    private static Typed<Angle> FromParts(string plain, string shown)
    {
        bool negative = plain[0] == '-';
        string rest = plain.TrimStart('-', '+').Trim();
        double degrees = 0;
        Typed<double>.Ambiguous? asked = null;
        bool broken = false;
        int lastRank = -1;
        while (rest.Length > 0)
        {
            int at = rest.IndexOfAny(['°', '′', '″']);
            if (at <= 0)
                return Refuse(shown);
            int rank = rest[at] switch { '°' => 0, '′' => 1, _ => 2 };
            string number = rest[..at].Trim();
            rest = rest[(at + 1)..].Trim();
            if (rank <= lastRank || broken || number.StartsWith('-') || number.StartsWith('+'))
                return Refuse(shown);
            lastRank = rank;
            double scale = rank switch { 0 => 1, 1 => 1 / 60.0, _ => 1 / 3600.0 };
            double value;
            switch (TypedNumber.ParsePlain(number, shown))
            {
                case Typed<double>.Value v:
                    value = v.Of;
                    break;
                case Typed<double>.Ambiguous a when lastRank == 0 && rest.Length == 0:
                    asked = a;
                    value = a.AsDecimal;
                    break;
                case Typed<double>.Refused r:
                    return new Typed<Angle>.Refused(shown, r.Why);
                default:
                    return Refuse(shown);
            }

            if (rank > 0 && value >= 60)
                return new Typed<Angle>.Refused(shown, $"'{shown}' has {(rank == 1 ? "minutes" : "seconds")} of 60 or more; 0 to below 60 would be right");
            broken = value != Math.Floor(value);
            degrees += value * scale;
        }

        double sign = negative ? -1 : 1;
        if (asked is not null)
        {
            return new Typed<Angle>.Ambiguous(shown, FromDegrees(sign * asked.AsDecimal), FromDegrees(sign * asked.AsThousands), asked.Question);
        }

        return new Typed<Angle>.Value(FromDegrees(sign * degrees));
    }

    private static Typed<Angle>.Refused Refuse(string shown) => new(shown, $"'{shown}' is not an angle; {WouldBeRight}");
}
