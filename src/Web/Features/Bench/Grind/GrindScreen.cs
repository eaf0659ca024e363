using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Standing;
using Whetwright.Web.Features.Bench.Set;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Shared.Forms;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Grind;

/// <summary>The step Grind: one stage at a time.</summary>
/// <param name="At">The visit at work.</param>
/// <param name="Dialled">The setting that stands; null for work without one.</param>
/// <param name="Plan">The stages.</param>
/// <param name="Stage">The stage on the screen; null where no abrasive is described.</param>
/// <param name="Touch">The touch-off after a change of wheel.</param>
/// <param name="Said">What a tap that was refused is told; null for none.</param>
public sealed record GrindScreen(AtWork At, Dialled? Dialled, StagesOnBench Plan, GrindStage? Stage, TouchOffForm Touch, WebForm? Said) : BenchScreen(At.Visit, BenchStep.Grind)
{
    /// <summary>Another piece that the day's order puts on the bench after this stage; null where this one goes on, or no order is settled.</summary>
    public Workbench.Days.DayLine? NextInDay { get; init; }

    /// <summary>Sides that are ground.</summary>
    public IReadOnlyList<Side> Sides { get; } = At.Visit.Aim is { } aim && (aim.LeftDeg > 0) != (aim.RightDeg > 0)
        ? [aim.LeftDeg > 0 ? Side.Left : Side.Right]
        : At.Visit.Piece.Kind.GroundSides() == 1 ? [FoundAngles.GroundSide(At.Visit.Piece.Hand)] : [Side.Left, Side.Right];

    /// <summary>The clamp slipped and was not touched off since: no pass counts until it is.</summary>
    public bool Blocked => At.Visit.Standing.Setting is { Slipped: true };

    /// <summary>The numbers, or the clamp, must be set again.</summary>
    public bool Stale => Dialled is { MustBeSetAgain: true };

    /// <summary>Passes of the stage that stand.</summary>
    public IReadOnlyList<Passes> Passes => [.. At.Work.Passes.Where(p => p.Stage == Stage?.Number)];

    /// <summary>The last pass of the stage, to be taken back.</summary>
    public Passes? Last => BenchVisit.Latest(Passes);

    /// <summary>Events of the stage.</summary>
    public IReadOnlyList<BenchEvent> Events => [.. At.Work.Events.Where(e => e.Stage == Stage?.Number)];

    /// <summary>The next stage that the plan takes; null on the last.</summary>
    public GrindStage? Next => Plan.Stages.FirstOrDefault(s => s.Needed && s.Number > Stage?.Number);

    /// <summary>The rig stands at another wheel than the stage's.</summary>
    public bool WheelChanges => Dialled is { Row: { } row } && Stage?.Wheel is { } wheel && At.Work.Stand(row.Id)?.WheelId is { } stands && stands != wheel.Id;

    /// <summary>The touch-off of the stage's wheel.</summary>
    public Records.Bench.TouchOff? Touched => At.Work.Setting is { } setting ? At.Work.TouchOffFor(setting, Stage?.Wheel?.Id) : null;

    /// <summary>What is dialled on the stage's wheel.</summary>
    public IReadOnlyList<DialledSetting> Settings => Dialled?.On(Stage?.Wheel?.Name) ?? [];

    /// <summary>Passes over a side in a stage.</summary>
    public int Count(GrindStage stage, Side side) => At.Work.Passes.Where(p => p.Stage == stage.Number && (p.Side == "both" || p.Side == (side == Side.Left ? "left" : "right"))).Sum(p => p.Count);

    /// <summary>Surface speed of the stage's wheel, m/s; null where it is not known.</summary>
    public double? SpeedMs => Settings.OfType<WheelSetting>().FirstOrDefault() is { Wheel: { Rpm: { } rpm } wheel } ? WheelSpeed.SurfaceMs(wheel.Diameter.Value.Millimetres, rpm) : null;

    /// <summary>What to say about its speed.</summary>
    public Reason? SpeedCaution => Settings.OfType<WheelSetting>().FirstOrDefault() is { } setting ? WheelSpeed.Caution(setting.Wheel) : null;

    /// <summary>How the step stands.</summary>
    public StepProgress Progress => At.Visit.Standing[BenchStep.Grind];
}
