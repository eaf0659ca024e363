using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Reading;

/// <summary>
/// Reads edge bevels from photographs of laser marks on a printed target. Every placing is read on its own, then all go through the one
/// combination that marks read by eye go through.
/// </summary>
public static class PhotoReader
{
    /// <summary>Reads. Refusals come back as an outcome with reasons; exceptions are for wrong arguments alone.</summary>
    /// <exception cref="ArgumentException">A distance or uncertainty out of range.</exception>
    public static PhotoReading Read(PhotoReadRequest request)
    {
        BeamSetUp setUp = BeamSetUp.From(request);
        TipDirection tip = request.Tip ?? TipDirection.Up;
        var mounts = new List<MountReading> { MountReader.Read(0, request.First, request, setUp, tip) };
        if (request.Turned is { } turned)
            mounts.Add(MountReader.Read(1, turned, request, setUp, tip == TipDirection.Up ? TipDirection.Down : TipDirection.Up));
        var reasons = mounts.SelectMany((m, i) => m.Reasons.Select(r => mounts.Count == 1 ? r : r with { Text = $"{(i == 0 ? "First photo" : "Turned photo")}: {r.Text}" })).ToList();
        var observations = mounts.SelectMany(m => m.Observations).ToList();
        if (observations.All(o => o.Role != MarkRole.Edge))
            return new(ReadingOutcome.Refused, reasons, null, mounts, setUp.DistanceIsDefault);
        CombinedReading combined = ReadingCombination.Combine(observations, Knowledge(request, mounts));
        reasons.AddRange(combined.Reasons);
        ReadingOutcome outcome = combined.Outcome == ReadingOutcome.Read && combined.Included is null ? ReadingOutcome.OneSide : combined.Outcome;
        return new(outcome, reasons, outcome == ReadingOutcome.Refused ? null : WithClarity(combined, mounts[0]), mounts, setUp.DistanceIsDefault);
    }

    private static ReadingKnowledge Knowledge(PhotoReadRequest request, List<MountReading> mounts)
    {
        var ranges = new Dictionary<Side, FacetRange>();
        foreach (SeenMark mark in mounts[0].Marks.Where(m => m.Role == SeenRole.Edge && m.Range is not null))
            ranges[mark.Target] = new(mark.Range!.Value.Inner, mark.Range.Value.Outer);
        return new()
        {
            HasBack = request.HasBack,
            TipKnown = request.Tip is not null || request.Turned is not null,
            HolderRoll = request.Instrument?.HolderRoll,
            Scatter = request.Instrument?.Scatter,
            Ranges = ranges,
        };
    }

    private static CombinedReading WithClarity(CombinedReading combined, MountReading first) => combined with
    {
        Sides = [.. combined.Sides.Select(s => s with
        {
            Clarity = first.Marks.FirstOrDefault(m => m.Role == SeenRole.Edge && m.Target == s.Target)?.Clarity,
        })],
    };
}
