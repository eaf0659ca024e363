using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Core.Visits;
using Whetwright.Paper.Sheets;
using Whetwright.Records.Bench;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>A setting laid out once: the page shows it and the printed sheet shows it, with the same numbers.</summary>
internal static class SettingSheet
{
    public static SheetStyle Style(UnitsView units, ViewPreferences preferences) => new(
        units.Unit == LengthUnit.Inch, units.Culture.NumberFormat.NumberDecimalSeparator == ",", preferences.Hand == WorkHand.Left) { Day = units.Date };

    /// <summary>The sheet; null where there is no clamp to show.</summary>
    /// <param name="at">The visit at work.</param>
    /// <param name="plan">What to dial.</param>
    /// <param name="blade">For which blade.</param>
    /// <param name="rig">On which rig.</param>
    /// <param name="style">Units and hand.</param>
    /// <param name="changes">What has changed since it was dialled.</param>
    /// <param name="date">As printed.</param>
    /// <param name="invented">A line for the demo shop.</param>
    public static BenchSheet? Of(
        AtWork at, SettingPlan plan, Blade blade, Rig rig, SheetStyle style, IReadOnlyList<SettingChange> changes, string? date = null, string? invented = null)
    {
        if (plan.Clamps.Count == 0)
            return null;
        AimChosen? aim = at.Visit.Aim;
        VisitPlan visit = new()
        {
            Blade = blade,
            Rig = rig,
            Wish = new() { Text = at.Visit.Visit.Wishes, Tolerance = aim is { ToleranceDeg: > 0 } ? Angle.FromDegrees(aim.ToleranceDeg) : null },
            Old = at.Found,
            Wanted = aim is null ? null : new(aim.LeftDeg, aim.RightDeg),
            Setting = plan,
            Section = at.Section,
            Ratios = at.Section is { } section ? EdgeRatios.Of(section.Input.Old, section.Input.New, steel: SteelOnBench.Of(at.Visit.Steel)) : null,
            PenTests = [.. PenTests(at, plan)],
            Omissions = plan.Refusals,
            Cautions = Cautions(rig, plan, at.Visit.Readings.Count > 0),
        };
        BenchSheet sheet = VisitSheet.Of(visit, at.Visit.Tag, at.Visit.Owner.Name, date, invented, style);
        StagesOnBench stages = StagesOnBench.Of(at.Work.Rigs.FirstOrDefault(r => r.Name == rig.Name), rig, at.Work.Abrasives, at.Section, at.Rates);
        return sheet with
        {
            Title = at.Visit.Piece.Name,
            Reading = ReadingOf(at.Visit.ReadingFor(ReadingPurpose.Found)),
            Clamps = [.. sheet.Clamps.Select((c, i) => c with { Settings = [.. c.Settings.Select(s => s with { DiameterEntry = null, IsStale = changes.Any(x => x.Clamp == i && Same(x, s)) })] })],
            Stages = stages.Stages.Count == 0 ? sheet.Stages : [.. stages.Stages.Where(s => s.Needed).Select(s => new BenchStage(s.Name, s.Grade, Passes(s), s.Heat is { NeedsCooling: true } heat ? heat.Text : null))],
        };
    }

    /// <summary>A change concerns this number to dial.</summary>
    public static bool Same(SettingChange change, BenchSetting shown) =>
        (change.Wheel is null || change.Wheel == shown.Name) && (shown.BladeSide is null || shown.BladeSide == change.Side);

    /// <summary>The tests to expect, first setting of each side.</summary>
    private static IEnumerable<VisitPenTest> PenTests(AtWork at, SettingPlan plan)
    {
        foreach (Side side in (Side[])[Side.Left, Side.Right])
        {
            if (at.Section is { } section && plan.Clamps[0].Settings.FirstOrDefault(s => s.Side == side) is { } first
                && PenTestOnBench.Of(first, at.Found, section[side].OldFacetWidthMm) is { } test)
                yield return new(side, SettingChange.WheelOf(first) ?? "stone", test.Forecast);
        }
    }

    private static List<string> Cautions(Rig rig, SettingPlan plan, bool laser)
    {
        List<string> cautions = [];
        if (laser)
            cautions.Add("Never look into a laser or its reflection from a polished bevel; beam below eye level.");
        if (rig is WheelAndBarRig)
            cautions.Add("Wheels only within the speed marked on them.");
        if (rig is WheelAndBarRig or SlackBeltRig)
            cautions.Add("Heat draws temper: keep it wet or cold, stop at any colour. Dust: work wet, or extract it and wear a mask.");
        cautions.AddRange(plan.Cautions.Select(c => c.Text));
        cautions.Add("Blades to the rack, not the bench edge.");
        return [.. cautions.Distinct(StringComparer.Ordinal)];
    }

    private static BenchReading? ReadingOf(Reading? reading) => reading is null or { Outcome: "refused" } ? null : new()
    {
        IncludedDeg = reading.IncludedDeg, IncludedUDeg = reading.IncludedUDeg,
        LeftDeg = reading.LeftDeg, LeftUDeg = reading.LeftUDeg, RightDeg = reading.RightDeg, RightUDeg = reading.RightUDeg,
    };

    private static string? Passes(GrindStage stage) => stage.Planned is not { } planned ? null
        : planned.PassesLeft == planned.PassesRight ? FormattableString.Invariant($"about {planned.PassesLeft} a side")
        : FormattableString.Invariant($"left {planned.PassesLeft}, right {planned.PassesRight}");
}
