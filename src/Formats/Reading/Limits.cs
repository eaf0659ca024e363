using System.Globalization;

namespace Whetwright.Formats.Reading;

/// <summary>The values that a field may have, and how to say so.</summary>
/// <param name="Least">Least value.</param>
/// <param name="Most">Largest value.</param>
/// <param name="Open">True where the least value itself is not allowed.</param>
public readonly record struct Limits(double Least, double Most, bool Open = false)
{
    /// <summary>Any finite number.</summary>
    public static Limits Any { get; } = new(double.NegativeInfinity, double.PositiveInfinity);

    /// <summary>Above zero.</summary>
    public static Limits Positive { get; } = new(0, double.PositiveInfinity, Open: true);

    /// <summary>Zero or more.</summary>
    public static Limits NotNegative { get; } = new(0, double.PositiveInfinity);

    /// <summary>Above zero, at most this.</summary>
    public static Limits PositiveTo(double most) => new(0, most, Open: true);

    /// <summary>True where the value is finite and within.</summary>
    public bool Allow(double value) => double.IsFinite(value) && (Open ? value > Least : value >= Least) && value <= Most;

    /// <summary>What would be right, with the unit.</summary>
    public string ToText(string unit)
    {
        string u = unit.Length == 0 || unit == "°" ? unit : " " + unit;
        string least = Least.ToString(CultureInfo.InvariantCulture);
        string most = Most.ToString(CultureInfo.InvariantCulture);
        return (double.IsInfinity(Least), double.IsInfinity(Most)) switch
        {
            (true, true) => "a finite number",
            (true, false) => $"at most {most}{u}",
            (false, true) => Open ? $"above {least}{u}" : $"{least}{u} or more",
            _ => Open ? $"above {least} and at most {most}{u}" : $"from {least} to {most}{u}",
        };
    }
}
