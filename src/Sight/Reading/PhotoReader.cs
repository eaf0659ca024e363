using System.Globalization;
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
        mounts.AddRange(request.Repeats.Select(r => MountReader.Read(0, r, request, setUp, tip)));
        var reasons = mounts.SelectMany((m, i) => m.Reasons.Select(r => mounts.Count == 1 ? r : r with { Text = $"{PhotoName(request, i)}: {r.Text}" })).ToList();
        var observations = Weighed(request, mounts);
        if (observations.All(o => o.Role != MarkRole.Edge))
            return new(ReadingOutcome.Refused, reasons, null, mounts, setUp.DistanceIsDefault);
        (ReadingOutcome outcome, CombinedReading combined, IReadOnlyList<Reason> said) = Combine(observations, Knowledge(request, mounts), request.Form);
        reasons.AddRange(said);
        return new(outcome, reasons, outcome == ReadingOutcome.Refused ? null : WithClarity(combined, mounts[0]), mounts, setUp.DistanceIsDefault);
    }

    /// <summary>Combines marks of photographs, as they were found or as a hand put them: one function for both.</summary>
    /// <param name="marks">At least one of them an edge's.</param>
    /// <param name="known">What is known beside them.</param>
    /// <param name="form">Form of curved facets; null where nobody told.</param>
    /// <exception cref="ArgumentException">A mark lies where none can be read.</exception>
    public static (ReadingOutcome Outcome, CombinedReading Combined, IReadOnlyList<Reason> Reasons) Combine(IReadOnlyList<ReadingObservation> marks, ReadingKnowledge known, FacetForm? form)
    {
        CombinedReading combined = ReadingCombination.Combine(marks, known);
        List<Reason> reasons = [.. combined.Reasons];
        if (form is null && combined.Sides.Any(s => s.Range is not null))
        {
            reasons.Add(new("range-ends-assumed", "A mark is drawn out as by a curved facet. Its light cannot tell convex from hollow, so the end nearest zero is given as the shoulder, as on a convex bevel; on a hollow one it is the apex. To tell them, slide the blade slowly out of the beam so that the edge leaves last: the end of the mark that goes out last is the apex."));
        }

        return (combined.Outcome == ReadingOutcome.Read && combined.Included is null ? ReadingOutcome.OneSide : combined.Outcome, combined, reasons);
    }

    /// <summary>Reads one more placing on its own, to be combined with others already read.</summary>
    /// <param name="mount">Its number, from 0.</param>
    /// <param name="photos">Its photos.</param>
    /// <param name="tip">Where the tip was in it.</param>
    /// <param name="request">Target, instrument and the like; its photos are left aside.</param>
    public static MountReading ReadMount(int mount, MountPhotos photos, TipDirection tip, PhotoReadRequest request) =>
        MountReader.Read(mount, photos, request, BeamSetUp.From(request), tip);

    private static string PhotoName(PhotoReadRequest request, int mount)
    {
        if (mount == 0)
            return "First photo";
        int repeat = mount - (request.Turned is null ? 1 : 2);
        return repeat < 0 ? "Turned photo" : string.Create(CultureInfo.InvariantCulture, $"Repeat {repeat + 1} of the first photo");
    }

    /// <summary>
    /// The marks of all photos. Repeats show the same light on the same sheet: only the camera's part of the doubt averages out, so each
    /// mark's own part is weighed as if the photos of that side were one.
    /// </summary>
    private static List<ReadingObservation> Weighed(PhotoReadRequest request, List<MountReading> mounts)
    {
        List<ReadingObservation> all = [.. mounts.SelectMany(m => m.Observations)];
        if (request.Repeats.Count == 0)
            return all;
        var counts = all.GroupBy(o => (o.Mount, o.Target, o.Role)).ToDictionary(g => g.Key, g => Math.Sqrt(g.Count()));
        return [.. all.Select(o => o with
        {
            Noise = [.. o.Noise.Select(n => n.Source == MarkReader.MarkSource ? n with { UncertaintyDeg = n.UncertaintyDeg * counts[(o.Mount, o.Target, o.Role)] } : n)],
        })];
    }

    private static ReadingKnowledge Knowledge(PhotoReadRequest request, List<MountReading> mounts)
    {
        var ranges = new Dictionary<Side, FacetRange>();
        // On a bevel known to be flat a mark is drawn out by roughness, which is no range.
        foreach (SeenMark mark in mounts[0].Marks.Where(m => m.Role == SeenRole.Edge && m.Range is not null && request.Form != FacetForm.Flat))
            ranges[mark.Target] = FacetCurvature.EndsOfSmear(mark.Range!.Value.Inner, mark.Range.Value.Outer, request.Form ?? FacetForm.Convex);
        return new()
        {
            HasBack = request.HasBack,
            TipKnown = request.Tip is not null,
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
