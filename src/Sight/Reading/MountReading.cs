using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Reading;

/// <summary>What the photos of one placing say.</summary>
/// <param name="Sheet">Where the sheet is; null where it was not found.</param>
/// <param name="Marks">Every mark seen with what it was taken for.</param>
/// <param name="Observations">Marks fit for the combination.</param>
/// <param name="Reasons">Why nothing, or less than all, was read.</param>
/// <param name="EdgeOdds">Probability that the marks taken for the edge are the edge's, among the ways considered.</param>
public sealed record MountReading(
    FoundSheet? Sheet,
    IReadOnlyList<SeenMark> Marks,
    IReadOnlyList<ReadingObservation> Observations,
    IReadOnlyList<Reason> Reasons,
    double EdgeOdds)
{
    /// <summary>How places of this photo read as bevels; null where the sheet was not found.</summary>
    public PhotoFrame? Frame { get; init; }

    /// <summary>True where no angle can be told.</summary>
    public bool IsRefused => Observations.All(o => o.Role != MarkRole.Edge);

    /// <summary>True where both sides' edges were read.</summary>
    public bool HasBothEdges => Observations.Where(o => o.Role == MarkRole.Edge).Select(o => o.Target).Distinct().Count() == 2;

    internal static MountReading Refused(FoundSheet? sheet, PhotoFrame? frame, IReadOnlyList<SeenMark> marks, params Reason[] reasons) =>
        new(sheet, marks, [], reasons, 0) { Frame = frame };
}
