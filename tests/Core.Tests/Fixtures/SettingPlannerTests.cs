using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>From a piece, a rig and a wish to what to dial. Blades and rigs are invented.</summary>
public sealed class SettingPlannerTests
{
    private static readonly Blade Knife = Blade.FromShape(new BladeShape(200, 45, 110, 28), "invented kitchen knife") with
    {
        PrimaryHalf = Angle.FromDegrees(2),
        BehindEdge = Length.FromMillimetres(0.4),
        Spine = Length.FromMillimetres(2.2),
    };

    private static readonly WheelAndBarRig Bench = new()
    {
        Wheels =
        [
            new("coarse", MeasuredLength.FromMillimetres(248.6, 0.25)) { Rpm = 90, MarkedLimitMs = 20 },
            new("worn", MeasuredLength.FromMillimetres(231.2, 0.25)),
            new("honing", MeasuredLength.FromMillimetres(215, 0.5)) { Offset = Angle.FromDegrees(1) },
        ],
        Box = new(20, 160, 120, 150),
        BarDiameterMm = 12,
        Seat = BarSeat.Rests,
        OffsetMm = 1.5,
        HolderHalfThicknessMm = 6,
        Grip = GripKind.FixedJaw,
        JawToPivotMm = 100,
        JawDepthMm = 20,
        Slide = new(60, 90, 1.5),
        Now = new("coarse", 190),
    };

    private static readonly SettingWish Thirteen = SettingWish.Both(Angle.FromDegrees(13));

    [Fact]
    public void The_worst_deviation_is_recomputed_from_the_plans_own_clamp_and_settings()
    {
        SettingPlan plan = SettingPlanner.Plan(Knife, Bench, Thirteen);
        Assert.False(plan.Refused, string.Join(" ", plan.Refusals));
        foreach (PlannedClamp clamp in plan.Clamps)
        {
            double worst = 0;
            foreach (WheelSetting setting in clamp.Settings.Cast<WheelSetting>())
            {
                foreach (EdgePoint station in Knife.Edge.Stations(clamp.FromMm, clamp.ToMm, clamp.Search!.Problem.LastScored - clamp.Search.Problem.FirstScored + 1))
                {
                    double p = station.SupportDistanceMm(clamp.Pivot!.Value);
                    double angle = WheelAndBar.AngleRad(setting.Wheel.RadiusMm, setting.BarCentreToAxisMm, p, setting.OffsetMm);
                    worst = Math.Max(worst, Math.Abs(double.RadiansToDegrees(angle) - setting.Wanted.Degrees));
                }
            }

            Assert.Equal(worst, clamp.WorstDeg, 1e-6);
            Assert.InRange(clamp.WorstDeg - clamp.BoundDeg!.Value, 0, 0.01);
            Assert.True(clamp.Angles.Count >= 50);
        }
    }

    [Fact]
    public void Every_wheel_and_side_has_its_own_bar_distance_and_travel_from_how_the_rig_stands()
    {
        SettingPlan plan = SettingPlanner.Plan(Knife, Bench, Thirteen);
        List<WheelSetting> settings = [.. plan.Clamps[0].Settings.Cast<WheelSetting>()];
        Assert.Equal(6, settings.Count);
        WheelSetting left = settings.Single(s => s.Wheel.Name == "coarse" && s.Side == Side.Left);
        WheelSetting right = settings.Single(s => s.Wheel.Name == "coarse" && s.Side == Side.Right);
        WheelSetting worn = settings.Single(s => s.Wheel.Name == "worn" && s.Side == Side.Left);
        WheelSetting honing = settings.Single(s => s.Wheel.Name == "honing" && s.Side == Side.Left);
        Assert.True(Math.Abs(left.BarCentreToAxisMm - right.BarCentreToAxisMm) > 1);
        Assert.True(worn.BarCentreToAxisMm < left.BarCentreToAxisMm);
        Assert.Equal(14, honing.Wanted.Degrees, 1e-9);
        foreach (WheelSetting s in settings)
        {
            Assert.Equal(Math.Sqrt(Math.Pow(s.BarCentreToAxisMm, 2) - 3600) - Math.Sqrt((190.0 * 190) - 3600), s.BarTravelMm!.Value, 1e-9);
            Assert.Equal(s.BarTravelMm.Value / 1.5, s.Turns!.Value, 1e-9);
            Assert.Equal(s.BarCentreToAxisMm + 6 - s.Wheel.RadiusMm, s.BarFarSideToWheelMm, 1e-9);
        }
    }

    [Fact]
    public void The_jaw_is_where_the_holder_puts_the_pivot()
    {
        PlannedClamp clamp = SettingPlanner.Plan(Knife, Bench, Thirteen).Clamps[0];
        JawPlacement jaw = clamp.Jaw!;
        Assert.Equal(100, jaw.Front.DistanceTo(clamp.Pivot!.Value), 1e-9);
        Assert.InRange(jaw.ProtrusionMm, 25 - 1e-9, 43);
        double tilt = double.DegreesToRadians(jaw.PlaneTiltDeg);
        Assert.Equal(jaw.FromHeelMm, clamp.Pivot.Value.X + (100 * Math.Sin(tilt)), 1e-9);
    }

    [Fact]
    public void A_spine_that_would_strike_the_jaws_floor_turns_the_holder_by_as_little_as_helps()
    {
        JawPlacement jaw = JawPlacement.Of(Knife, new(60, -120), 100, 20);
        Assert.Equal(25, jaw.ProtrusionMm, 1e-9);
        Assert.Equal(double.RadiansToDegrees(Math.Acos(0.95)), jaw.PlaneTiltDeg, 1e-9);
        Assert.Equal(0, JawPlacement.Of(Knife, new(60, -130), 100, 20).PlaneTiltDeg);
    }

    [Fact]
    public void A_given_clamp_and_setting_is_evaluated_and_the_settings_found_for_a_given_clamp_are_the_same()
    {
        SettingPlan given = SettingPlanner.Plan(Knife, Bench, Thirteen with { PivotMm = new(80, -135) });
        WheelSetting left = given.Clamps[0].Settings.OfType<WheelSetting>().First(s => s.Side == Side.Left);
        SettingPlan evaluated = SettingPlanner.Plan(Knife, Bench, Thirteen with { PivotMm = new(80, -135), SettingMm = left.BarCentreToAxisMm, Wheel = "coarse", Right = null });
        WheelSetting again = Assert.IsType<WheelSetting>(Assert.Single(evaluated.Clamps[0].Settings));
        Assert.Equal(left.WorstDeg, again.WorstDeg, 1e-9);
        Assert.Null(evaluated.Clamps[0].BoundDeg);
    }

    [Fact]
    public void What_was_learnt_about_the_rig_is_taken_out()
    {
        SettingPlan plain = SettingPlanner.Plan(Knife, Bench, Thirteen with { PivotMm = new(80, -135) });
        SettingPlan learnt = SettingPlanner.Plan(
            Knife, Bench with { LearntCorrection = MeasuredAngle.FromDegrees(0.7, 0.2) }, Thirteen with { PivotMm = new(80, -135) });
        SettingPlan less = SettingPlanner.Plan(Knife, Bench, SettingWish.Both(Angle.FromDegrees(12.3)) with { PivotMm = new(80, -135) });
        double Bar(SettingPlan p) => ((WheelSetting)p.Clamps[0].Settings[0]).BarCentreToAxisMm;
        Assert.Equal(Bar(less), Bar(learnt), 1e-6);
        Assert.True(learnt.UDeg > plain.UDeg);
        Assert.Equal(plain.Clamps[0].Angles.Average(a => a.Deg), learnt.Clamps[0].Angles.Average(a => a.Deg), 0.05);
    }

    [Fact]
    public void The_uncertainty_squares_with_its_budget_and_the_first_thing_to_measure_shrinks_it_most()
    {
        SettingPlan plan = SettingPlanner.Plan(Knife, Bench, Thirteen);
        Assert.Equal(plan.UDeg!.Value, Math.Sqrt(plan.Budget.Sum(b => b.Uncertainty * b.Uncertainty)), 1e-9);
        Assert.InRange(plan.UDeg.Value, 0.3, 2);
        Assert.True(plan.MeasureNext.Count > 1);
        Assert.True(plan.MeasureNext[0].UAfterDeg < plan.UDeg);
        Assert.Equal(plan.MeasureNext.Min(m => m.UAfterDeg), plan.MeasureNext[0].UAfterDeg);
    }

    [Fact]
    public void A_jaw_that_does_not_clear_is_refused_with_the_smallest_angle()
    {
        SettingPlan plan = SettingPlanner.Plan(Knife, Bench with { HolderHalfThicknessMm = 25 }, Thirteen with { PivotMm = new(80, -135) });
        Assert.True(plan.Refused);
        Assert.Equal("jaw", plan.Clamps[0].Clears!.What);
        Assert.Contains(plan.Refusals, r => r.Code == "does-not-clear" && r.Text.Contains("smallest angle", StringComparison.Ordinal));
        Assert.Null(SettingPlanner.Plan(Knife, Bench with { JawToPivotMm = null }, Thirteen).Clamps[0].Clears);
    }

    [Fact]
    public void A_facet_no_steeper_than_the_flank_is_refused() => Refused(Knife, Bench, SettingWish.Both(Angle.FromDegrees(2)), "flatter-than-flank");

    [Fact]
    public void A_pose_that_does_not_exist_is_refused() =>
        Refused(Knife, Bench with { Box = new(20, 160, 900, 950) }, Thirteen with { PivotMm = new(80, -4) , SettingMm = 400, Wheel = "coarse" }, "no-such-pose");

    [Fact]
    public void Posts_that_cannot_bring_the_bar_near_enough_are_refused() =>
        Refused(Knife, Bench with { Slide = new(250), Now = null }, Thirteen, "slide-out-of-reach");

    [Fact]
    public void The_back_of_a_single_bevel_is_never_ground_flat()
    {
        Blade single = Knife with { Kind = PieceKind.SingleBevel, Hand = Side.Right };
        Refused(single, Bench, new() { Left = Angle.FromDegrees(13) }, "back-is-not-ground");
        SettingPlan plan = SettingPlanner.Plan(single, Bench with { Grip = GripKind.SelfCentring }, Thirteen);
        Assert.All(plan.Clamps[0].Settings, s => Assert.Equal(Side.Right, s.Side));
        Assert.Contains(plan.Notes, n => n.Code == "back-is-not-ground");
    }

    [Fact]
    public void Bad_numbers_name_their_field()
    {
        Refused(Knife, Bench with { BarDiameterMm = -1 }, Thirteen, "rig-field");
        Refused(Knife, Bench with { Wheels = [] }, Thirteen, "rig-field");
        Refused(Knife, Bench, Thirteen with { ScoreMm = (150, 140) }, "score-range");
        Refused(Knife, Bench, new(), "no-angle");
        Refused(Knife, Bench, Thirteen with { SettingMm = 180 }, "setting");
        Refused(Knife, Bench, Thirteen with { Wheel = "nosuch" }, "wheel");
        Refused(Knife, Bench with { Now = new("nosuch", 190) }, Thirteen, "rig-field");
    }

    [Fact]
    public void Every_default_in_use_is_named()
    {
        WheelAndBarRig bare = new() { Wheels = [new("only", MeasuredLength.FromMillimetres(250, 0.25)) { DiameterUIsDefault = true }], Box = new(20, 160, 120, 150) };
        SettingPlan plan = SettingPlanner.Plan(Knife, bare, Thirteen);
        Assert.False(plan.Refused, string.Join(" ", plan.Refusals));
        foreach (string field in (string[])["barDiameterMm", "seat", "offsetMm", "grip", "jawToPivotMm", "barSlide", "toleranceDeg", "wheels[only].diameterUMm"])
            Assert.Contains(plan.Defaults, d => d.Field == field);
        SettingPlan full = SettingPlanner.Plan(Knife, Bench with { FixedJawSide = Side.Left }, Thirteen);
        Assert.DoesNotContain(full.Defaults, d => d.Field is "seat" or "grip" or "barSlide" or "fixedJawSide");
    }

    [Fact]
    public void Guided_rod_lift_and_dial_say_what_to_set()
    {
        GuidedRodRig rod = new() { FaceOffsetMm = 8, PivotHeightMm = (20, 120), Box = new(20, 160, 80, 140), NowPivotHeightMm = 50 };
        SettingPlan rodPlan = SettingPlanner.Plan(Knife, rod, Thirteen);
        RodSetting height = Assert.IsType<RodSetting>(rodPlan.Clamps[0].Settings[0]);
        Assert.Equal(height.PivotHeightMm - 50, height.ChangeMm!.Value, 1e-9);

        BenchStoneRig stone = new() { Support = StoneSupport.SpineCorner, CoinsMm = [1.67, 2.33] };
        SettingPlan stonePlan = SettingPlanner.Plan(Knife, stone, Thirteen);
        LiftSetting lift = Assert.IsType<LiftSetting>(stonePlan.Clamps[0].Settings[0]);
        Assert.InRange(lift.LiftMm, 7, 10);
        Assert.NotNull(lift.Coins);
        Refused(Knife with { Spine = null }, stone, Thirteen, "not-given");

        DialRig dial = new() { LearntCorrection = MeasuredAngle.FromDegrees(-0.5, 0.2) };
        MarkSetting mark = Assert.IsType<MarkSetting>(SettingPlanner.Plan(Knife, dial, Thirteen).Clamps[0].Settings[0]);
        Assert.Equal(13.5, mark.Marked.Degrees, 1e-9);
        Assert.Contains(SettingPlanner.Plan(Knife, new SlackBeltRig(), Thirteen).Notes, n => n.Code == "entry-angle-only");
    }

    [Fact]
    public void Every_dialled_number_has_its_chain_with_partials()
    {
        SettingPlan plan = SettingPlanner.Plan(Knife, Bench, Thirteen);
        IReadOnlyList<Derivation> chain = plan.Explain();
        foreach (WheelSetting setting in plan.Clamps.SelectMany(c => c.Settings).Cast<WheelSetting>())
        {
            Assert.Contains(chain, d => d.Unit == "mm" && Math.Abs(d.Value - setting.BarFarSideToWheelMm) < 1e-6);
            Assert.Contains(chain, d => d.Name.StartsWith("bar centre", StringComparison.Ordinal) && Math.Abs(d.Value - setting.BarCentreToAxisMm) < 1e-6 && d.Inputs.All(i => i.Partial is not null));
        }
    }

    [Fact]
    public void A_bent_blade_has_its_own_offset_along_the_edge_and_its_own_setting_on_each_side()
    {
        Blade bent = Knife with { Bend = Bend.FromBow(1.5, 200) };
        SettingPlan plan = SettingPlanner.Plan(bent, Bench with { Grip = GripKind.SelfCentring, OffsetMm = 0 }, Thirteen);
        List<WheelSetting> coarse = [.. plan.Clamps[0].Settings.Cast<WheelSetting>().Where(s => s.Wheel.Name == "coarse")];
        Assert.NotEqual(coarse[0].BarCentreToAxisMm, coarse[1].BarCentreToAxisMm, 2);
    }

    private static void Refused(Blade blade, Rig rig, SettingWish wish, string code)
    {
        SettingPlan plan = SettingPlanner.Plan(blade, rig, wish);
        Assert.True(plan.Refused);
        Assert.Contains(plan.Refusals, r => r.Code == code && r.Text.Length > 30);
    }
}
