using System.Runtime.CompilerServices;

namespace Whetwright.Core.Quantities;

/// <summary>Checks at the public doors: each returns its value or throws, naming the argument, the value and the allowed range.</summary>
public static class Require
{
    /// <summary>Any finite number.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN or infinite.</exception>
    public static double Finite(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, "Must be a finite number.");

    /// <summary>A finite number above zero.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN, infinite, zero or negative.</exception>
    public static double Positive(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value) && value > 0 ? value : throw new ArgumentOutOfRangeException(name, value, "Must be above zero.");

    /// <summary>A finite number, zero or above.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN, infinite or negative.</exception>
    public static double NotNegative(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value) && value >= 0 ? value : throw new ArgumentOutOfRangeException(name, value, "Must be zero or more.");

    /// <summary>A finite number within a closed range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">NaN or outside the range.</exception>
    public static double Within(double value, double least, double most, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        value >= least && value <= most ? value : throw new ArgumentOutOfRangeException(name, value, $"Must lie from {least} to {most}.");
}
