using Whetwright.Core.Metrology.Learning;
using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges;

/// <summary>The shop's log as the pages of this room take it.</summary>
/// <param name="Rigs">Rigs, those in use first.</param>
/// <param name="Judged">Every rig and wheel with a log.</param>
/// <param name="ToleranceDeg">The shop's tolerance, per side.</param>
internal sealed record GaugeLog(IReadOnlyList<RigWhole> Rigs, IReadOnlyList<WheelJudged> Judged, double ToleranceDeg)
{
    public RigWhole? Rig(long id) => Rigs.FirstOrDefault(r => r.Rig.Id == id);

    public string RigName(long id) => Rig(id)?.Rig.Name ?? "a rig no longer kept";

    public string? WheelName(long? id) => id is null ? null : Rigs.SelectMany(r => r.Rig.Wheels).FirstOrDefault(w => w.Id == id)?.Name;

    /// <summary>Rig and wheel in words.</summary>
    public string Name(long rig, long? wheel) => WheelName(wheel) is { } name ? $"{RigName(rig)}, {name}" : RigName(rig);
}

/// <summary>Reads and judges the log.</summary>
internal sealed class GaugeBook(GaugeQuery gauges, KitQuery kit, BookClock clock)
{
    public async Task<GaugeLog> LogAsync(long? rigId, CancellationToken cancel)
    {
        IReadOnlyList<RigWhole> rigs = await kit.RigsAsync(cancel);
        double tolerance = (await kit.CardAsync(cancel)).ToleranceDeg;
        Dictionary<long, string> names = rigs.SelectMany(r => r.Rig.Wheels).ToDictionary(w => w.Id, w => w.Name);
        IReadOnlyList<LoggedPiece> log = RigLog.Of(await gauges.CheckedAsync(clock.Now(), rigId, cancel), id => names.GetValueOrDefault(id));
        return new(rigs, await Task.Run(() => WheelJudged.Of(log, tolerance, [.. Changes(rigs)]), cancel), tolerance);
    }

    /// <summary>A new wheel is a change that everybody knows of: what was learnt of the old one counts for little.</summary>
    private static IEnumerable<KnownChange> Changes(IEnumerable<RigWhole> rigs) => rigs.SelectMany(r => r.Diameters.Standing()
        .Where(d => d.Cause == DiameterCause.New && r.Diameters.Any(e => e.WheelId == d.WheelId && e.HappenedAt < d.HappenedAt))
        .Select(d => new KnownChange(new(d.HappenedAt, TimeSpan.Zero), RigLog.Key(r.Rig.Id), RigLog.Key(d.WheelId))));
}
