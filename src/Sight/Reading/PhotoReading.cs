using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Reading;

/// <summary>A reading from photographs: the combination's numbers with what was seen.</summary>
/// <param name="Outcome">Both sides, one, or none.</param>
/// <param name="Reasons">What was refused or left out and why, each with what to do next.</param>
/// <param name="Combined">The numbers; null when refused.</param>
/// <param name="Mounts">One for each placing, the first first.</param>
/// <param name="DistanceIsDefault">True where nobody measured the distance.</param>
public sealed record PhotoReading(
    ReadingOutcome Outcome,
    IReadOnlyList<Reason> Reasons,
    CombinedReading? Combined,
    IReadOnlyList<MountReading> Mounts,
    bool DistanceIsDefault)
{
    /// <summary>Name and version of the method.</summary>
    public const string Method = "sight.read/1";

    /// <summary>Included angle, or null.</summary>
    public MeasuredAngle? Included => Outcome == ReadingOutcome.Read ? Combined?.Included : null;

    /// <summary>The marks of all placings.</summary>
    public IEnumerable<SeenMark> Marks => Mounts.SelectMany(m => m.Marks);
}
