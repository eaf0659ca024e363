using System.Globalization;

namespace Whetwright.Core.Quantities;

/// <summary>A length, held in millimetres. Any finite value, signed. The default value is zero.</summary>
public readonly partial record struct Length : IComparable<Length>
{
    /// <summary>Millimetres in an inch: 25.4 [mm/in] (international yard and pound agreement, 1959, exact).</summary>
    public const double MillimetresPerInch = 25.4;

    private Length(double millimetres) => Millimetres = millimetres;

    /// <summary>The zero length.</summary>
    public static Length Zero => default;

    /// <summary>The value in millimetres.</summary>
    public double Millimetres { get; }

    /// <summary>The value in inches.</summary>
    public double Inches => Millimetres / MillimetresPerInch;

    /// <summary>A length from millimetres.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite.</exception>
    public static Length FromMillimetres(double millimetres) => new(Require.Finite(millimetres));

    /// <summary>A length from inches.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite.</exception>
    public static Length FromInches(double inches) => new(Require.Finite(inches) * MillimetresPerInch);

    /// <summary>The length without its sign.</summary>
    public Length Abs() => new(Math.Abs(Millimetres));

    /// <inheritdoc />
    public int CompareTo(Length other) => Millimetres.CompareTo(other.Millimetres);

    /// <summary>Millimetres with two decimals, invariant culture: for messages and debugging.</summary>
    public override string ToString() => Millimetres.ToString("0.00", CultureInfo.InvariantCulture) + " mm";

    /// <summary>Sum.</summary>
    public static Length operator +(Length left, Length right) => new(left.Millimetres + right.Millimetres);

    /// <summary>Difference.</summary>
    public static Length operator -(Length left, Length right) => new(left.Millimetres - right.Millimetres);

    /// <summary>The opposite length.</summary>
    public static Length operator -(Length length) => new(-length.Millimetres);

    /// <summary>Multiple.</summary>
    public static Length operator *(Length length, double factor) => new(length.Millimetres * factor);

    /// <summary>Multiple.</summary>
    public static Length operator *(double factor, Length length) => new(length.Millimetres * factor);

    /// <summary>Part.</summary>
    public static Length operator /(Length length, double divisor) => new(length.Millimetres / divisor);

    /// <summary>Ratio of two lengths.</summary>
    public static double operator /(Length left, Length right) => left.Millimetres / right.Millimetres;

    /// <summary>Smaller than.</summary>
    public static bool operator <(Length left, Length right) => left.Millimetres < right.Millimetres;

    /// <summary>Larger than.</summary>
    public static bool operator >(Length left, Length right) => left.Millimetres > right.Millimetres;

    /// <summary>At most.</summary>
    public static bool operator <=(Length left, Length right) => left.Millimetres <= right.Millimetres;

    /// <summary>At least.</summary>
    public static bool operator >=(Length left, Length right) => left.Millimetres >= right.Millimetres;
}
