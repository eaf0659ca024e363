using System.Globalization;

namespace Whetwright.Core.Quantities;

/// <summary>
/// A plane angle, held in radians. Any finite value; never wrapped unasked. The default value is zero.
/// </summary>
/// <remarks>15° comes back as 14.999999999999998: round to show, compare with a tolerance.</remarks>
public readonly partial record struct Angle : IComparable<Angle>
{
    private Angle(double radians) => Radians = radians;

    /// <summary>The zero angle.</summary>
    public static Angle Zero => default;

    /// <summary>A quarter turn.</summary>
    public static Angle Right => new(Math.PI / 2);

    /// <summary>The value in radians.</summary>
    public double Radians { get; }

    /// <summary>The value in degrees.</summary>
    public double Degrees => double.RadiansToDegrees(Radians);

    /// <summary>An angle from degrees.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite.</exception>
    public static Angle FromDegrees(double degrees) => new(double.DegreesToRadians(Require.Finite(degrees)));

    /// <summary>An angle from radians.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is NaN or infinite.</exception>
    public static Angle FromRadians(double radians) => new(Require.Finite(radians));

    /// <summary>The larger of two angles.</summary>
    public static Angle Max(Angle left, Angle right) => left.Radians >= right.Radians ? left : right;

    /// <summary>The smaller of two angles.</summary>
    public static Angle Min(Angle left, Angle right) => left.Radians <= right.Radians ? left : right;

    /// <summary>The angle without its sign.</summary>
    public Angle Abs() => new(Math.Abs(Radians));

    /// <inheritdoc />
    public int CompareTo(Angle other) => Radians.CompareTo(other.Radians);

    /// <summary>Degrees with two decimals and the degree sign, invariant culture: for messages and debugging.</summary>
    public override string ToString() => Degrees.ToString("0.00", CultureInfo.InvariantCulture) + "°";

    /// <summary>Sum.</summary>
    public static Angle operator +(Angle left, Angle right) => new(left.Radians + right.Radians);

    /// <summary>Difference.</summary>
    public static Angle operator -(Angle left, Angle right) => new(left.Radians - right.Radians);

    /// <summary>The opposite angle.</summary>
    public static Angle operator -(Angle angle) => new(-angle.Radians);

    /// <summary>Multiple.</summary>
    public static Angle operator *(Angle angle, double factor) => new(angle.Radians * factor);

    /// <summary>Multiple.</summary>
    public static Angle operator *(double factor, Angle angle) => new(angle.Radians * factor);

    /// <summary>Part.</summary>
    public static Angle operator /(Angle angle, double divisor) => new(angle.Radians / divisor);

    /// <summary>Ratio of two angles.</summary>
    public static double operator /(Angle left, Angle right) => left.Radians / right.Radians;

    /// <summary>Smaller than.</summary>
    public static bool operator <(Angle left, Angle right) => left.Radians < right.Radians;

    /// <summary>Larger than.</summary>
    public static bool operator >(Angle left, Angle right) => left.Radians > right.Radians;

    /// <summary>At most.</summary>
    public static bool operator <=(Angle left, Angle right) => left.Radians <= right.Radians;

    /// <summary>At least.</summary>
    public static bool operator >=(Angle left, Angle right) => left.Radians >= right.Radians;
}
