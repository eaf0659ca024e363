using System.Text.Json;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.PenTest;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Tests;

/// <summary>What stands behind Set and Grind: clamp typed, touch-off judged, a stale setting's change, honing, stages, ink, burr. The sample's invented knife and rig.</summary>
public sealed class Work_at_the_rig
{
    private static readonly Blade Knife = Read(BladeFormat.Read(Samples.Text("kitchen-knife", "blade.json")));

    private static readonly string RigText = Samples.Text("kitchen-knife", "rig.json").Replace("\"fixed-jaw\"", "\"self-centring\"", StringComparison.Ordinal).Replace("\"fixedJawSide\": \"left\",", "", StringComparison.Ordinal);

    private static readonly WheelAndBarRig Bench = (WheelAndBarRig)Read(RigFormat.Read(RigText));

    [Fact]
    public void A_clamp_typed_from_what_the_planner_says_is_the_planners_pivot()
    {
        foreach (Point2 pivot in (Point2[])[new(60, -70), new(95, -85), new(150, -62)])
        {
            JawPlacement jaw = JawPlacement.Of(Knife, pivot, 46, 14);
            Point2 back = new TypedClamp(jaw.FromHeelMm, jaw.ProtrusionMm, jaw.PlaneTiltDeg).PivotOn(Bench);
            Assert.Equal(pivot.X, back.X, 1e-9);
            Assert.Equal(pivot.Y, back.Y, 1e-9);
        }
    }

    /// <summary>47 mm high, 14 mm deep a jaw: the edge stands 33 mm out or more.</summary>
    [Fact]
    public void A_clamp_whose_spine_would_strike_the_jaws_floor_is_told_with_what_can_be()
    {
        Assert.Null(new TypedClamp(95, 40).CannotStand(Knife, Bench));
        Reason struck = new TypedClamp(95, 20).CannotStand(Knife, Bench)!;
        Assert.Equal("spine-strikes", struck.Code);
        Assert.Contains("33.0 mm out", struck.Text, StringComparison.Ordinal);
    }

    /// <summary>Worked from [fixtures]: D² = R² + p² + Q² + 2R(p sin α + Q cos α); the touch-off counts from the bar's far side, p = t − r_bar.</summary>
    [Fact]
    public void A_touch_off_too_long_grinds_flatter_by_what_the_formula_says()
    {
        SettingPlan plan = Plan(15);
        PlannedClamp clamp = plan.Clamps[0];
        double expected = clamp.TouchOff!.DistanceMm;

        TouchOffJudged same = TouchOffJudged.Of(clamp, Bench, expected, 0.5)!, longer = TouchOffJudged.Of(clamp, Bench, expected + 2, 0.5)!;

        Assert.Equal(0, same.OffDeg, 1e-9);
        Assert.True(same.Fits);
        double worst = clamp.Settings.Cast<WheelSetting>().Min(w => Alpha(w, expected + 2 - 6) - Alpha(w, expected - 6));
        Assert.Equal(worst, longer.OffDeg, 1e-9);
        Assert.True(longer.OffDeg < 0);
        Assert.Contains("flatter than set", longer.Meaning, StringComparison.Ordinal);
        Assert.Equal(0.5, Math.Abs(TouchOffJudged.Of(clamp, Bench, expected + (longer.ToleranceMm / 10), 0.5)!.OffDeg) * 10, 0.01); // to first order

        static double Alpha(WheelSetting w, double p)
        {
            double r = w.Wheel.RadiusMm, d = w.BarCentreToAxisMm;
            return double.RadiansToDegrees(Math.Asin(((d * d) - (r * r) - (p * p)) / (2 * r * p))); // Q = 0: the bar runs through a centred holder
        }
    }

    /// <summary>A wheel dressed from 247.6 to 245.1: D at the same p and α by the law of cosines; what the calliper reads over bar and wheel is D + r_bar − … by the rig's own words.</summary>
    [Fact]
    public void A_wheel_dressed_since_changes_its_own_numbers_alone_by_the_law_of_cosines()
    {
        SettingPlan then = Plan(15);
        Point2 pivot = then.Clamps[0].Pivot!.Value;
        WheelAndBarRig dressed = Bench with { Wheels = [.. Bench.Wheels.Select(w => w.Name == "coarse" ? w with { Diameter = MeasuredLength.FromMillimetres(245.1, 0.2) } : w)] };
        SettingPlan now = SettingPlanner.Plan(Knife, dressed, new() { Left = Angle.FromDegrees(15), Right = Angle.FromDegrees(15), PivotMm = pivot }, TestContext.Current.CancellationToken);
        SettingPlan kept = SettingPlanner.Plan(Knife, Bench, new() { Left = Angle.FromDegrees(15), Right = Angle.FromDegrees(15), PivotMm = pivot }, TestContext.Current.CancellationToken);

        IReadOnlyList<SettingChange> changes = SettingChange.Between(kept, now, dressed);

        Assert.Equal(["coarse", "coarse"], changes.Select(c => c.Wheel!));
        WheelSetting before = (WheelSetting)kept.Clamps[0].Settings.First(s => SettingChange.WheelOf(s) == "coarse");
        double p = Support(before), d = Math.Sqrt((122.55 * 122.55) + (p * p) + (2 * 122.55 * p * Math.Sin(before.Wanted.Radians)));
        Assert.Equal(d, changes[0].NowMm, 0.02); // the setting is balanced along the edge, so it is off its middle by a little
        SettingChange once = Assert.Single(SettingChange.OnceOnly(changes));
        Assert.True(once.BothSides);
        Assert.Equal(once.TravelMm!.Value / 1.5, once.Turns!.Value, 1e-9); // pitch 1.5 mm
        Assert.Empty(SettingChange.Between(kept, kept, Bench));
    }

    [Fact]
    public void A_honing_wheel_stands_at_the_edge_and_its_own_offset_with_the_clamp_left_alone()
    {
        Composed<Blade>.Ready blade = new(Knife, Samples.Text("kitchen-knife", "blade.json"), []);
        Composed<Rig>.Ready rig = new(Bench, RigText, []);
        AimChosen aim = new() { VisitId = 1, Source = TargetSource.Own, LeftDeg = 15, RightDeg = 15, ToleranceDeg = 0.5, HappenedAt = DateTime.UnixEpoch, EnteredAt = DateTime.UnixEpoch };
        SettingMade fact = SettingOnBench.Make(blade, rig, aim, cancellationToken: TestContext.Current.CancellationToken)
            .ToFact(1, 1, new RigOnBench(1, rig, []), DateTime.UnixEpoch, DateTime.UnixEpoch);
        StoredSetting stored = StoredSetting.Of(fact);
        RigKept row = new() { Name = "bench 1", RigJson = "{}" };
        row.Wheels.Add(new WheelKept { Name = "leather", OffsetDeg = 0.5 });

        HoningOnBench own = Assert.Single(HoningOnBench.For(stored, row, Bench, [], aim));

        Assert.Empty(own.Refusals);
        WheelSetting dial = own.Settings[0];
        Assert.Equal(15.5, dial.Wanted.Degrees, 1e-9);
        Assert.Equal(stored.Plan.Clamps[0].Settings.OfType<WheelSetting>().First(w => w.Wheel.Name == "leather" && w.Side == dial.Side).BarCentreToAxisMm, dial.BarCentreToAxisMm, 1e-6);
        AimChosen hone = new() { VisitId = 1, Source = TargetSource.Own, LeftDeg = 15, RightDeg = 15, HoneDeg = 17, HappenedAt = DateTime.UnixEpoch, EnteredAt = DateTime.UnixEpoch };
        Assert.Equal(17, HoningOnBench.For(stored, row, Bench, [], hone)[0].Settings[0].Wanted.Degrees, 1e-9);
        Assert.Equal(17, HoningOnBench.HandDeg(hone));
    }

    /// <summary>By hand: constant hand force takes a constant area per pass, so a single grit needs area ÷ rate passes a side ([abrasion] as in design.md 4.7).</summary>
    [Fact]
    public void Stages_are_the_wheels_that_grind_coarse_first_and_passes_follow_from_area_and_rate()
    {
        AbrasiveKept coarse = Kept(1, "grit", AbrasiveForm.Wheel, 0.004), leather = Kept(2, "leather", AbrasiveForm.HoningWheel, null);
        RigKept row = new() { Name = "bench 1", RigJson = "{}" };
        row.Wheels.Add(new WheelKept { Name = "coarse", AbrasiveId = coarse.Id });
        row.Wheels.Add(new WheelKept { Name = "leather", AbrasiveId = 99, OffsetDeg = 0.5 });
        SectionResult section = ((SectionOutcome.Computed)SectionChange.Evaluate(new(0.38, 2.2, new(17, 17), new(15, 15), 210) { LandMm = 0.03, ChipMm = 0.4 })).Result;

        StagesOnBench stages = StagesOnBench.Of(row, Bench, [coarse, leather], section, LearntRates.None);
        StagesOnBench unknown = StagesOnBench.Of(row, Bench, [Kept(1, "grit", AbrasiveForm.Wheel, null), leather], section, LearntRates.None);

        GrindStage only = Assert.Single(stages.Stages);
        Assert.Equal("coarse", only.Name);
        Assert.InRange(only.PassesOn(Side.Left)!.Value, Math.Floor(section.Left.RemovedMm2 / 0.004), Math.Ceiling(1.5 * section.Left.RemovedMm2 / 0.004)); // the median of a labelled guess, rounded up
        Assert.Null(Assert.Single(unknown.Stages).Planned);
        Assert.Contains(unknown.Notes, n => n.Code == "rate-not-known");
        Assert.Contains(StagesOnBench.Of(null, null, [], section, LearntRates.None).Notes, n => n.Code == "no-abrasives");
    }

    /// <summary>Flat on flat, worked by hand: 1° too steep at an advance of 2 µm bares d/sin 1° = 0.115 mm from the apex.</summary>
    [Fact]
    public void Ink_bared_at_the_apex_says_too_steep_and_how_far_to_go_down()
    {
        LiftSetting setting = new() { Side = Side.Left, Wanted = Angle.FromDegrees(15), LiftMm = 10, AtMm = 0, AnglesDeg = [], WorstDeg = 0 };
        PenTestOnBench test = PenTestOnBench.Of(setting, new SidePair(15, 15), 0.6)!;

        PenTestSaid steep = test.Read(new InkBand(0, 0.002 / Math.Sin(double.DegreesToRadians(1)))), whole = test.Read(new InkBand(0, 0.6));

        Assert.Equal(0, test.PlannedDeg, 1e-12);
        Assert.InRange(1, steep.FromDeg!.Value - 1e-6, steep.ToDeg!.Value + 1e-6);
        Assert.False(steep.MayBeRight);
        Assert.Contains("too steep", steep.Words, StringComparison.Ordinal);
        Assert.Contains("Lower it by", steep.Words, StringComparison.Ordinal);
        Assert.True(whole.MayBeRight);
        Assert.Null(PenTestOnBench.Of(setting, null, 0.6));
        using JsonDocument document = JsonDocument.Parse(test.Document(new InkBand(0, 0.1)));
        Assert.Equal(0.1, document.RootElement.GetProperty("seenBandMm")[1].GetDouble());
    }

    [Fact]
    public void A_burr_that_stays_gets_another_step_each_time_and_the_last_one_stands()
    {
        Assert.Equal(BurrSteps.All, Enumerable.Range(1, BurrSteps.All.Count).Select(BurrSteps.After));
        Assert.Equal(BurrSteps.All[^1], BurrSteps.After(40));
        Assert.Equal(BurrSteps.All[0], BurrSteps.After(0));
    }

    private static SettingPlan Plan(double deg) =>
        SettingPlanner.Plan(Knife, Bench, SettingWish.Both(Angle.FromDegrees(deg)) with { Tolerance = Angle.FromDegrees(0.5) }, TestContext.Current.CancellationToken);

    private static double Support(WheelSetting w)
    {
        double r = w.Wheel.RadiusMm, d = w.BarCentreToAxisMm, b = r * Math.Sin(w.Wanted.Radians);
        return -b + Math.Sqrt((b * b) - (r * r) + (d * d));
    }

    private static AbrasiveKept Kept(long id, string name, AbrasiveForm form, double? rate)
    {
        AbrasiveKept kept = new() { Name = name, Form = form, System = "fepa-f", Grade = "220", AreaPerPassMm2 = rate, ChangeMinutes = 1, Order = (int)id };
        typeof(AbrasiveKept).GetProperty(nameof(AbrasiveKept.Id))!.SetValue(kept, id);
        return kept;
    }

    private static T Read<T>(FormatOutcome<T> outcome) => ((FormatOutcome<T>.Read)outcome).Value;
}
