using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// The linear solution behind a combined reading: unknowns in degrees, and how the reported numbers are made of them.
/// </summary>
public sealed class ReadingSolution
{
    internal ReadingSolution(LinearGaussianSolution linear, IReadOnlyList<ReadingObservation> observations, ReadingLayout layout)
    {
        (Linear, Observations, Layout) = (linear, observations, layout);
    }

    /// <summary>Unknowns, covariance, gains.</summary>
    public LinearGaussianSolution Linear { get; }

    /// <summary>The marks it rests on, in the order of the linear observations.</summary>
    public IReadOnlyList<ReadingObservation> Observations { get; }

    internal ReadingLayout Layout { get; }

    /// <summary>The included angle and its standard uncertainty as solved.</summary>
    public MeasuredAngle Included => Measured(Layout.Included());

    /// <summary>One grind of one side of the blade as solved, without the floor that re-clamping puts under the reported side (infinite u: refused).</summary>
    public MeasuredAngle Of(Side blade, MarkRole role) => Measured(Layout.Grind(blade, role));

    internal MeasuredAngle Measured(double[] weights) => MeasuredAngle.FromDegrees(Linear.ValueOf(weights), Linear.UncertaintyOf(weights));
}
