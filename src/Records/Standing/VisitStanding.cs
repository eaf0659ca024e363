using Whetwright.Records.Bench;

namespace Whetwright.Records.Standing;

/// <summary>How far a piece has come.</summary>
public enum Stand
{
    /// <summary>Here, nothing done yet.</summary>
    TakenIn = 0,

    /// <summary>The edge found is known.</summary>
    Read = 1,

    /// <summary>The edge wanted is chosen.</summary>
    Chosen = 2,

    /// <summary>Dialled and touched off.</summary>
    Set = 3,

    /// <summary>On the abrasives.</summary>
    Grinding = 4,

    /// <summary>Off the abrasives.</summary>
    Ground = 5,

    /// <summary>Stropped or honed, cleaned.</summary>
    Finished = 6,

    /// <summary>Read again or cut with, not released yet.</summary>
    Checked = 7,

    /// <summary>To be fetched.</summary>
    Ready = 8,

    /// <summary>Gone.</summary>
    HandedBack = 9,
}

/// <summary>How far a step has come.</summary>
public enum StepProgress
{
    /// <summary>Nothing yet.</summary>
    Open = 0,

    /// <summary>Something, but not all.</summary>
    Begun = 1,

    /// <summary>Was done, and something since makes it wrong.</summary>
    Stale = 2,

    /// <summary>Done.</summary>
    Closed = 3,

    /// <summary>Left out on purpose.</summary>
    Skipped = 4,

    /// <summary>Not done, and the work went on past it.</summary>
    PassedBy = 5,
}

/// <summary>One step of a visit.</summary>
/// <param name="Step">Which.</param>
/// <param name="Progress">How far.</param>
public sealed record StepStanding(BenchStep Step, StepProgress Progress);

/// <summary>The setting that counts, and whether it still holds.</summary>
/// <param name="SettingId">The latest that stands.</param>
/// <param name="StaleWheels">Wheels whose diameter changed since.</param>
/// <param name="AimChanged">Another aim was chosen since.</param>
/// <param name="Slipped">The clamp slipped, and no touch-off was accepted since.</param>
/// <param name="SlippedAtPass">At which pass.</param>
/// <param name="TouchedOff">A touch-off proves it.</param>
public sealed record SettingStanding(long SettingId, IReadOnlyList<StaleWheel> StaleWheels, bool AimChanged, bool Slipped, int? SlippedAtPass, bool TouchedOff)
{
    /// <summary>True where it must not be ground by as it is.</summary>
    public bool IsStale => StaleWheels.Count > 0 || AimChanged || Slipped;
}

/// <summary>Passes of one stage so far.</summary>
/// <param name="Stage">Which, 1-based.</param>
/// <param name="AbrasiveId">The abrasive last used in it; null where its wheel has none noted.</param>
/// <param name="Left">On the blade's left.</param>
/// <param name="Right">On the blade's right.</param>
/// <param name="BurrOff">No burr was left in it: it is done until a pass follows.</param>
public sealed record StagePasses(int Stage, long? AbrasiveId, int Left, int Right, bool BurrOff);

/// <summary>Where a visit stands, derived from its facts and never stored.</summary>
/// <param name="VisitId">The visit.</param>
/// <param name="Stand">How far the piece has come.</param>
/// <param name="Next">The step to do next; null when it is ready or gone.</param>
/// <param name="Steps">All six, in order.</param>
/// <param name="Setting">The setting that counts; null for none.</param>
/// <param name="Stages">Passes by stage.</param>
/// <param name="ToldAt">When the owner was told that it is ready.</param>
public sealed record VisitStanding(
    long VisitId, Stand Stand, BenchStep? Next, IReadOnlyList<StepStanding> Steps, SettingStanding? Setting, IReadOnlyList<StagePasses> Stages, DateTime? ToldAt)
{
    /// <summary>True where the next step is to set again what has been set before.</summary>
    public bool MustBeSetAgain => this[BenchStep.Set] == StepProgress.Stale;

    /// <summary>How far a step has come.</summary>
    public StepProgress this[BenchStep step] => Steps[(int)step].Progress;

    /// <summary>Derives it.</summary>
    /// <param name="visit">The visit's facts that stand.</param>
    /// <param name="diameters">All wheels.</param>
    public static VisitStanding Of(VisitGlance visit, WheelDiameters diameters)
    {
        SettingStanding? setting = SettingOf(visit, diameters);
        StepProgress[] steps = [.. Enum.GetValues<BenchStep>().Select(step => ProgressOf(visit, step, setting))];
        bool grindClosed = Over(steps[(int)BenchStep.Grind]);
        if (setting is { IsStale: true } && !grindClosed && steps[(int)BenchStep.Set] != StepProgress.Skipped)
            steps[(int)BenchStep.Set] = StepProgress.Stale;
        PassBy(visit, steps);
        BenchStep? next = visit.HandedBack ? null : NextOf(visit, steps);
        return new VisitStanding(
            visit.VisitId, StandOf(visit, steps, next), next, [.. steps.Select((p, i) => new StepStanding((BenchStep)i, p))], setting, StagesOf(visit), visit.ToldAt);
    }

    private static SettingStanding? SettingOf(VisitGlance visit, WheelDiameters diameters)
    {
        SettingGlance? setting = visit.Settings.MaxBy(s => s.At);
        if (setting is null)
            return null;
        EventGlance? slip = visit.Events.Where(e => e.Kind == BenchEventKind.Slipped && e.At > setting.At).MaxBy(e => e.At);
        TouchGlance? touch = visit.TouchOffs.Where(t => t.SettingId == setting.Id).MaxBy(t => t.At);
        bool touched = touch is { Accepted: true } && (slip is null || touch.At > slip.At);
        AimGlance? aim = visit.Aims.MaxBy(a => a.At);
        return new SettingStanding(
            setting.Id, diameters.Stale(setting.DiameterIds), setting.AimId is { } served && aim is not null && aim.Id != served,
            slip is not null && !touched, slip?.AtPass, touched);
    }

    private static StepProgress ProgressOf(VisitGlance visit, BenchStep step, SettingStanding? setting)
    {
        MarkGlance? mark = LastMark(visit, step);
        if (mark is { State: StepState.Done })
            return StepProgress.Closed;
        if (mark is { State: StepState.Skipped })
            return StepProgress.Skipped;
        DateTime since = mark?.At ?? DateTime.MinValue;
        return step switch
        {
            BenchStep.Read when visit.Readings.Any(r => r.Purpose == ReadingPurpose.Found && r.Outcome != "refused" && r.At > since) => StepProgress.Closed,
            BenchStep.Read => BegunIf(visit.Measured.Any(at => at > since) || visit.Readings.Any(r => r.Purpose == ReadingPurpose.Found)),
            BenchStep.Choose => visit.Aims.Any(a => a.At > since) ? StepProgress.Closed : StepProgress.Open,
            BenchStep.Set when setting is { TouchedOff: true } && visit.TouchOffs.Any(t => t.SettingId == setting.SettingId && t.At > since) => StepProgress.Closed,
            BenchStep.Set => BegunIf(setting is not null),
            BenchStep.Grind => BegunIf(visit.Passes.Any(p => p.Count > 0)),
            BenchStep.Finish => BegunIf(visit.Events.Any(e => e.Kind is BenchEventKind.Stropped or BenchEventKind.Cleaned)),
            BenchStep.Check => BegunIf(visit.CutTests.Count > 0 || visit.Readings.Any(r => r.Purpose == ReadingPurpose.Check)),
            _ => throw new ArgumentOutOfRangeException(nameof(step), step, "Not a step."),
        };
    }

    /// <summary>A step that nobody touched lies behind once a later one was touched; one that was begun, once a later one was closed.</summary>
    private static void PassBy(VisitGlance visit, StepProgress[] steps)
    {
        int touched = Array.FindLastIndex(steps, p => p != StepProgress.Open);
        int closed = Array.FindLastIndex(steps, Over);
        for (int i = 0; i < steps.Length; i++)
        {
            bool reopened = LastMark(visit, (BenchStep)i) is { State: StepState.Reopened };
            if (!reopened && ((steps[i] == StepProgress.Open && i < touched) || (steps[i] == StepProgress.Begun && i < closed)))
                steps[i] = StepProgress.PassedBy;
        }
    }

    private static BenchStep? NextOf(VisitGlance visit, StepProgress[] steps)
    {
        for (int i = 0; i < steps.Length; i++)
        {
            bool reopened = LastMark(visit, (BenchStep)i) is { State: StepState.Reopened };
            if (steps[i] == StepProgress.Stale || (reopened && !Over(steps[i])))
                return (BenchStep)i;
        }

        int next = Array.FindIndex(steps, p => p is StepProgress.Open or StepProgress.Begun);
        return next < 0 ? null : (BenchStep)next;
    }

    private static Stand StandOf(VisitGlance visit, StepProgress[] steps, BenchStep? next)
    {
        if (visit.HandedBack)
            return Stand.HandedBack;
        if (next is null)
            return Stand.Ready;
        if (steps[(int)BenchStep.Check] != StepProgress.Open)
            return Stand.Checked;
        if (Over(steps[(int)BenchStep.Finish]))
            return Stand.Finished;
        if (Over(steps[(int)BenchStep.Grind]) || steps[(int)BenchStep.Finish] == StepProgress.Begun)
            return Stand.Ground;
        if (steps[(int)BenchStep.Grind] == StepProgress.Begun)
            return Stand.Grinding;
        if (steps[(int)BenchStep.Set] is StepProgress.Closed or StepProgress.Stale)
            return Stand.Set;
        if (steps[(int)BenchStep.Choose] == StepProgress.Closed || visit.Settings.Count > 0)
            return Stand.Chosen;
        return steps[(int)BenchStep.Read] == StepProgress.Closed ? Stand.Read : Stand.TakenIn;
    }

    private static IReadOnlyList<StagePasses> StagesOf(VisitGlance visit) =>
    [
        .. visit.Passes.GroupBy(p => p.Stage).OrderBy(g => g.Key).Select(g => new StagePasses(
            g.Key, g.MaxBy(p => p.At)!.AbrasiveId,
            g.Where(p => p.Side is "left" or "both").Sum(p => p.Count),
            g.Where(p => p.Side is "right" or "both").Sum(p => p.Count),
            visit.Events.Any(e => e.Kind == BenchEventKind.BurrOff && e.Stage == g.Key && e.At >= g.Max(p => p.At)))),
    ];

    private static MarkGlance? LastMark(VisitGlance visit, BenchStep step) => visit.Marks.Where(m => m.Step == step).MaxBy(m => m.At);

    private static bool Over(StepProgress progress) => progress is StepProgress.Closed or StepProgress.Skipped;

    private static StepProgress BegunIf(bool begun) => begun ? StepProgress.Begun : StepProgress.Open;
}
