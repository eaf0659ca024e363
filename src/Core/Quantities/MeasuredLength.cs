namespace Whetwright.Core.Quantities;

/// <summary>A length with its standard uncertainty (k = 1).</summary>
/// <param name="Value">The best estimate.</param>
/// <param name="StandardUncertainty">One standard uncertainty, zero or more.</param>
public readonly record struct MeasuredLength(Length Value, Length StandardUncertainty)
{
    /// <summary>From millimetres.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not finite, or a negative uncertainty.</exception>
    public static MeasuredLength FromMillimetres(double millimetres, double standardUncertaintyMillimetres) =>
        new(Length.FromMillimetres(millimetres), Length.FromMillimetres(Require.NotNegative(standardUncertaintyMillimetres)));
}
