using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;

namespace Whetwright.Records.Bench;

/// <summary>What setting, grinding and finishing need of a visit and of the shop's kit: the facts that stand, oldest first.</summary>
public sealed record BenchWork
{
    /// <summary>Settings of this visit.</summary>
    public IReadOnlyList<SettingMade> Settings { get; init; } = [];

    /// <summary>Touch-offs.</summary>
    public IReadOnlyList<TouchOff> TouchOffs { get; init; } = [];

    /// <summary>Passes.</summary>
    public IReadOnlyList<Passes> Passes { get; init; } = [];

    /// <summary>What else happened.</summary>
    public IReadOnlyList<BenchEvent> Events { get; init; } = [];

    /// <summary>Rigs in use with their wheels; the one used last first.</summary>
    public IReadOnlyList<RigKept> Rigs { get; init; } = [];

    /// <summary>Diameters of their wheels, corrected ones too.</summary>
    public IReadOnlyList<DiameterEntry> Diameters { get; init; } = [];

    /// <summary>How each rig stands: the newest that stands of each.</summary>
    public IReadOnlyList<RigStand> Stands { get; init; } = [];

    /// <summary>Corrections applied to the rigs, oldest first.</summary>
    public IReadOnlyList<CorrectionApplied> Corrections { get; init; } = [];

    /// <summary>Abrasives in use, in their order.</summary>
    public IReadOnlyList<AbrasiveKept> Abrasives { get; init; } = [];

    /// <summary>The setting that counts: the latest.</summary>
    public SettingMade? Setting => BenchVisit.Latest(Settings);

    /// <summary>When the clamp of a setting was last known to be new or to have moved: a touch-off before that proves nothing.</summary>
    public DateTime ClampedAt(SettingMade setting) => Events
        .Where(e => e.Kind is BenchEventKind.Slipped or BenchEventKind.Clamped && e.HappenedAt > setting.HappenedAt)
        .Select(e => e.HappenedAt).Append(setting.HappenedAt).Max();

    /// <summary>The touch-off of a setting that counts for a wheel (null for rigs without one): the latest since it was clamped.</summary>
    public TouchOff? TouchOffFor(SettingMade setting, long? wheelId)
    {
        DateTime since = ClampedAt(setting);
        return BenchVisit.Latest(TouchOffs.Where(t => t.SettingId == setting.Id && t.WheelId == wheelId && t.HappenedAt >= since));
    }

    /// <summary>Which of a setting's clamps the blade is in, 0-based: the one said last since it was dialled.</summary>
    public int ClampNow(SettingMade setting) =>
        BenchVisit.Latest(Events.Where(e => e.Kind == BenchEventKind.Clamped && e.HappenedAt >= setting.HappenedAt)) is { AtPass: { } number } ? Math.Max(0, number - 1) : 0;

    /// <summary>How a rig stands.</summary>
    public RigStand? Stand(long rigId) => Stands.FirstOrDefault(s => s.RigId == rigId);
}
