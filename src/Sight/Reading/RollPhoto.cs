using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Reading;

/// <summary>One step of a roll calibration from a photo: where the edge's marks lie, outward from the target's zero.</summary>
public static class RollPhoto
{
    /// <summary>The step as <see cref="RollCalibration"/> takes it, mm as drawn; a side whose mark was not read is null. No step: the reasons.</summary>
    /// <param name="request">The photo, with a rough distance.</param>
    /// <param name="feeler">What lay under the holder.</param>
    public static (RollStep? Step, IReadOnlyList<Reason> Reasons) Read(PhotoReadRequest request, Length feeler)
    {
        PhotoReading reading = PhotoReader.Read(request);
        double? Out(Side side) => reading.Outcome != ReadingOutcome.Refused
            && reading.Mounts[0].Observations.Any(o => o.Role == MarkRole.Edge && o.Target == side)
            && reading.Mounts[0].Marks.FirstOrDefault(m => m.Role == SeenRole.Edge && m.Target == side) is { } mark
                ? (side == Side.Right ? 1 : -1) * (mark.TargetMm.X - request.Target.ZeroMm.X)
                : null;
        (double? left, double? right) = (Out(Side.Left), Out(Side.Right));
        return left is null && right is null ? (null, reading.Reasons) : (new(feeler, left, right), reading.Reasons);
    }
}
