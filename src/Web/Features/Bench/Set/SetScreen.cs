using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Sheets;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Standing;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>A setting worked out and not dialled yet.</summary>
/// <param name="Form">Rig and clamp.</param>
/// <param name="Row">The rig's row; null where there is none.</param>
/// <param name="Rig">The rig with today's diameters.</param>
/// <param name="Setting">What to dial; null where it cannot be worked out.</param>
/// <param name="Sheet">The same laid out.</param>
/// <param name="Missing">What is missing, each saying what to do.</param>
public sealed record Proposal(ClampForm Form, RigKept? Row, RigOnBench? Rig, SettingOnBench? Setting, BenchSheet? Sheet, IReadOnlyList<string> Missing)
{
    /// <summary>It can be dialled as it is.</summary>
    public bool CanBeDialled => Setting is { Plan: { Refused: false, Clamps.Count: > 0 } };
}

/// <summary>The setting that stands, against today's wheels and edge.</summary>
/// <param name="Stored">As dialled.</param>
/// <param name="Standing">Whether it holds.</param>
/// <param name="Row">The rig's row; null where it is no longer in use.</param>
/// <param name="Rig">The rig today.</param>
/// <param name="Now">What must be dialled now at the same clamp; null where it cannot be told.</param>
/// <param name="Changes">What that changes.</param>
/// <param name="Shown">What the numbers show: as dialled; where it holds, with the travel from how the rig stands now.</param>
/// <param name="Sheet">The same laid out.</param>
/// <param name="Why">Why it cannot be told what must be dialled now.</param>
public sealed record Dialled(
    StoredSetting Stored, SettingStanding Standing, RigKept? Row, RigOnBench? Rig, SettingOnBench? Now, IReadOnlyList<SettingChange> Changes, SettingPlan Shown, BenchSheet? Sheet, IReadOnlyList<string> Why)
{
    /// <summary>The numbers must not be ground by as they are.</summary>
    public bool NumbersAreStale => Standing.StaleWheels.Count > 0 || Standing.AimChanged || Changes.Count > 0;

    /// <summary>Any reason not to grind.</summary>
    public bool MustBeSetAgain => NumbersAreStale || Standing.IsStale;

    /// <summary>Which clamp the blade is in, 0-based.</summary>
    public int At { get; private init; }

    /// <summary>That clamp.</summary>
    public PlannedClamp? Clamp => Shown.Clamps.Count == 0 ? null : Shown.Clamps[Math.Min(At, Shown.Clamps.Count - 1)];

    /// <summary>The distance to touch off, where the rig has one.</summary>
    public Core.Fixtures.TouchOff? TouchOff => Clamp?.TouchOff;

    /// <summary>What is dialled on a wheel at this clamp: left and right, or what there is. A rig without wheels: all.</summary>
    public IReadOnlyList<DialledSetting> On(string? wheel) => Clamp is not { } clamp ? [] : [.. clamp.Settings.Where(s => wheel is null || SettingChange.WheelOf(s) is null || SettingChange.WheelOf(s) == wheel)];

    /// <summary>Puts it together.</summary>
    public static Dialled? Of(AtWork at, SheetStyle style)
    {
        if (at.Work.Setting is not { } fact || at.Visit.Standing.Setting is not { } standing)
            return null;
        StoredSetting stored = StoredSetting.Of(fact);
        RigKept? row = at.Work.Rigs.FirstOrDefault(r => r.Id == fact.RigId);
        RigOnBench? rig = row is null ? null : at.RigToday(row);
        SettingOnBench? now = null;
        IReadOnlyList<SettingChange> changes = [];
        List<string> why = [];
        SettingPlan shown = stored.Plan;
        if (row is null)
            why.Add("This rig is no longer in use.");
        else if (rig!.Rig is Composed<Rig>.NotYet notYet)
            why.AddRange(notYet.Missing);
        if (rig?.Rig is Composed<Rig>.Ready ready && at.Visit.Aim is { } aim && at.Blade is Composed<Core.Blades.Blade>.Ready blade)
        {
            // A blade measured again after it was clamped does not move the clamp: unless the edge is another, it is set as it was.
            Composed<Core.Blades.Blade>.Ready piece = standing.AimChanged ? blade : new(stored.Blade, stored.BladeJson, blade.Defaults);
            now = LastTimeOnBench.Same(stored, piece, ready, aim);
            changes = SettingChange.Between(stored.Plan, now.Plan, ready.Value);
            if (changes.Count == 0 && !standing.AimChanged && !now.Plan.Refused)
                shown = stored.On(stored.Blade, ready.Value, stored.Wish) is { Clamps.Count: > 0 } live ? Keep(live, stored.Plan) : shown;
        }

        return new(stored, standing, row, rig, now, changes, shown, SettingSheet.Of(at, shown, stored.Blade, stored.Rig, style, changes), why) { At = at.Work.ClampNow(fact) };
    }

    /// <summary>The bound that the search proved.</summary>
    private static SettingPlan Keep(SettingPlan live, SettingPlan dialled) => live.Clamps.Count != dialled.Clamps.Count ? live
        : live with { Clamps = [.. live.Clamps.Zip(dialled.Clamps, (c, d) => c with { BoundDeg = d.BoundDeg })] };
}

/// <summary>The step Set.</summary>
/// <param name="At">The visit at work.</param>
/// <param name="Proposal">What to dial; null where it is dialled.</param>
/// <param name="Dialled">What was dialled; null where nothing was.</param>
/// <param name="Form">The button "Dialled".</param>
/// <param name="Touch">The touch-off.</param>
/// <param name="Aim">Is an edge chosen.</param>
public sealed record SetScreen(AtWork At, Proposal? Proposal, Dialled? Dialled, DialledForm Form, TouchOffForm Touch, bool Aim) : BenchScreen(At.Visit, BenchStep.Set)
{
    /// <summary>The touch-off that counts for the wheel on the rig.</summary>
    public Records.Bench.TouchOff? Touched => At.Work.Setting is { } setting ? At.Work.TouchOffFor(setting, Touch.WheelId) : null;

    /// <summary>What it means.</summary>
    public TouchOffJudged? Judged => Touched is { } touched && Dialled is { Clamp: { } clamp } dialled
        ? TouchOffJudged.Of(clamp, dialled.Stored.Rig, touched.MeasuredMm, ToleranceDeg) : null;

    /// <summary>Tolerance.</summary>
    public double ToleranceDeg => At.Visit.Aim is { ToleranceDeg: > 0 } aim ? aim.ToleranceDeg : SettingWish.UsualTolerance.Degrees;

    /// <summary>The difference that uses the tolerance up, mm.</summary>
    public double? ToleranceMm => Dialled is { TouchOff: { } touch, Clamp: { } clamp } dialled
        ? TouchOffJudged.Of(clamp, dialled.Stored.Rig, touch.DistanceMm, ToleranceDeg)?.ToleranceMm : null;
}
