namespace Whetwright.Core.Quantities;

/// <summary>An angle with its standard uncertainty (k = 1).</summary>
/// <param name="Value">The best estimate.</param>
/// <param name="StandardUncertainty">One standard uncertainty, zero or more.</param>
public readonly record struct MeasuredAngle(Angle Value, Angle StandardUncertainty)
{
    /// <summary>From degrees.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or a negative uncertainty.</exception>
    public static MeasuredAngle FromDegrees(double degrees, double standardUncertaintyDegrees) =>
        new(Angle.FromDegrees(degrees), Angle.FromDegrees(Require.NotNegative(standardUncertaintyDegrees)));
}
