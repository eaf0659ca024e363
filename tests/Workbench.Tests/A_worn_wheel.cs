using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Workbench.Tests;

/// <summary>Wear since a wheel was measured: a setting keeps the diameter measured and is less sure of it. The sample's invented knife and rig.</summary>
public sealed class A_worn_wheel
{
    private static readonly DateTime Begin = new(2026, 3, 2, 9, 0, 0, DateTimeKind.Utc);

    private static readonly string KnifeText = Samples.Text("kitchen-knife", "blade.json");

    private static readonly Composed<Blade>.Ready Knife = new(((FormatOutcome<Blade>.Read)BladeFormat.Read(KnifeText)).Value, KnifeText, []);

    private static readonly AimChosen Aim = new() { VisitId = 1, Source = TargetSource.Own, LeftDeg = 15, RightDeg = 15, ToleranceDeg = 0.5, HappenedAt = Begin, EnteredAt = Begin };

    /// <summary>By hand: 0.4 mm lost per visit of 5000 mm³ and week, measured every week to 0.02 mm; two visits since the last measurement lose 0.8 mm.</summary>
    [Fact]
    public void Work_since_the_last_measurement_is_foretold_to_have_worn_the_wheel_as_before()
    {
        (RigKept rig, WheelKept wheel) = Bench();

        WheelWorn worn = Worn(wheel, Weekly(wheel, 8), Steel(10), Begin.AddDays(7 * 10))[wheel.Id];

        Assert.Equal(0.8, worn.Lost.Value.Millimetres, 0.05);
        Assert.InRange(worn.Lost.StandardUncertainty.Millimetres, 0.05, 0.3);
        Assert.Equal(new DateOnly(2026, 4, 27), worn.MeasuredOn); // eight weeks after the second of March
        Assert.Single(rig.Wheels);
    }

    [Fact]
    public void Nothing_is_foretold_without_work_since_nor_from_a_single_measurement_nor_across_a_new_wheel()
    {
        (_, WheelKept wheel) = Bench();
        DateTime now = Begin.AddDays(7 * 10);
        DiameterEntry[] anew = [.. Weekly(wheel, 8), Entry(wheel, 9, 250, DiameterCause.New)];

        Assert.Empty(Worn(wheel, Weekly(wheel, 8), Steel(8), now));
        Assert.Empty(Worn(wheel, Weekly(wheel, 0), Steel(10), now));
        Assert.Empty(Worn(wheel, anew, Steel(10), now));
        Assert.Empty(Worn(wheel, Weekly(wheel, 8), Steel(10), Begin.AddDays((7 * 8) + 1))); // the work is yet to come
    }

    /// <summary>By hand: the share of the wear is ∂α/∂R / 2 · √(w² + u_w²), added to the rest in squares; the numbers to dial and what they pin stay.</summary>
    [Fact]
    public void A_setting_dials_the_diameter_measured_and_widens_its_uncertainty_by_the_wear()
    {
        (RigKept rig, WheelKept wheel) = Bench();
        DiameterEntry[] entries = [Entry(wheel, 0, 247.6)];
        Dictionary<long, WheelWorn> worn = new() { [wheel.Id] = new(MeasuredLength.FromMillimetres(0.8, 0.6), DateOnly.FromDateTime(Begin)) };

        RigOnBench fresh = RigOnBench.Compose(rig, entries, [], []), used = RigOnBench.Compose(rig, entries, [], [], worn: worn);
        SettingPlan sure = Made(fresh).Plan;
        Point2 pivot = sure.Clamps[0].Pivot!.Value;
        SettingPlan unsure = Made(used, pivot).Plan, same = Made(fresh, pivot).Plan;

        WheelSetting a = (WheelSetting)same.Clamps[0].Settings[0], b = (WheelSetting)unsure.Clamps[0].Settings[0];
        Assert.Equal(a.BarCentreToAxisMm, b.BarCentreToAxisMm, 12);
        Assert.Empty(SettingChange.Between(same, unsure));
        Assert.Equal(fresh.DiameterIds, used.DiameterIds);
        double diameterShare = same.Budget.Single(s => s.Source == "wheel diameter").Uncertainty, perMm = diameterShare / 0.2;
        double wear = unsure.Budget.Single(s => s.Source.StartsWith("wear", StringComparison.Ordinal)).Uncertainty;
        Assert.Equal(perMm * 1.0, wear, 1e-9); // √(0.8² + 0.6²) = 1.0 mm
        Assert.Equal(Math.Sqrt((same.UDeg!.Value * same.UDeg.Value) + (wear * wear)), unsure.UDeg!.Value, 1e-9);
        Assert.Equal(new DateOnly(2026, 3, 2), b.Wheel.MeasuredOn);
        Assert.Equal(Math.Sqrt((0.2 * 0.2) + 1), b.Wheel.DiameterUTodayMm, 1e-9);
    }

    /// <summary>By hand: a calliper leaves 0.05 mm of the diameter and nothing of the wear.</summary>
    [Fact]
    public void Measuring_the_wheel_again_is_said_to_end_the_wear_too()
    {
        (RigKept rig, WheelKept wheel) = Bench();
        Dictionary<long, WheelWorn> worn = new() { [wheel.Id] = new(MeasuredLength.FromMillimetres(4, 1), DateOnly.FromDateTime(Begin)) };

        SettingPlan plan = Made(RigOnBench.Compose(rig, [Entry(wheel, 0, 247.6)], [], [], worn: worn)).Plan;

        double diameter = plan.Budget.Single(s => s.Source == "wheel diameter").Uncertainty, wear = plan.Budget.Single(s => s.Source.StartsWith("wear", StringComparison.Ordinal)).Uncertainty;
        double left = Math.Sqrt((plan.UDeg!.Value * plan.UDeg.Value) - (wear * wear) - (diameter * diameter) + (diameter * diameter / 16));
        Assert.StartsWith("the wheel's diameter", plan.MeasureNext[0].What, StringComparison.Ordinal);
        Assert.Equal(left, plan.MeasureNext[0].UAfterDeg, 1e-9);
    }

    [Fact]
    public void A_stored_setting_made_again_has_the_wear_of_the_day_it_was_dialled()
    {
        (RigKept rig, WheelKept wheel) = Bench();
        Dictionary<long, WheelWorn> worn = new() { [wheel.Id] = new(MeasuredLength.FromMillimetres(0.8, 0.6), DateOnly.FromDateTime(Begin)) };
        RigOnBench used = RigOnBench.Compose(rig, [Entry(wheel, 0, 247.6)], [], [], worn: worn);
        SettingOnBench made = Made(used);
        SettingMade fact = made.ToFact(1, 1, used, Begin, Begin);

        StoredSetting stored = StoredSetting.Of(fact);
        SettingOnBench again = SettingOnBench.Again(fact, cancellationToken: TestContext.Current.CancellationToken);

        Wheel kept = ((WheelAndBarRig)stored.Rig).Wheels[0];
        Assert.Equal(0.8, kept.Worn!.Value.Value.Millimetres, 1e-12);
        Assert.Equal(0.6, kept.Worn!.Value.StandardUncertainty.Millimetres, 1e-12);
        Assert.Equal(made.Plan.UDeg!.Value, stored.Plan.UDeg!.Value, 1e-9);
        Assert.Equal(made.Plan.UDeg!.Value, again.Plan.UDeg!.Value, 1e-9);
        Assert.False(Replay.Of(fact).Changed);
    }

    private static SettingOnBench Made(RigOnBench rig, Point2? pivot = null) =>
        SettingOnBench.Make(Knife, Assert.IsType<Composed<Rig>.Ready>(rig.Rig), Aim, pivot, TestContext.Current.CancellationToken);

    private static IReadOnlyDictionary<long, WheelWorn> Worn(WheelKept wheel, DiameterEntry[] entries, (DateTime, double)[] steel, DateTime now) =>
        WheelWorn.Of([WheelLog.Of(wheel.Id, entries, steel)], now, DateOnly.FromDateTime);

    private static (RigKept Rig, WheelKept Wheel) Bench()
    {
        RigKept rig = new() { Name = "bench 1", RigJson = Samples.Text("kitchen-knife", "rig.json").Replace("\"fixed-jaw\"", "\"self-centring\"", StringComparison.Ordinal).Replace("\"fixedJawSide\": \"left\",", "", StringComparison.Ordinal) };
        WheelKept wheel = new() { Name = "coarse", RigId = rig.Id };
        rig.Wheels.Add(wheel);
        return (rig, wheel);
    }

    private static DiameterEntry Entry(WheelKept wheel, int week, double mm, DiameterCause cause = DiameterCause.Measured, double u = 0.2) =>
        new() { WheelId = wheel.Id, DiameterMm = mm, UMm = u, Cause = cause, HappenedAt = Begin.AddDays(7 * week), EnteredAt = Begin.AddDays(7 * week) };

    private static DiameterEntry[] Weekly(WheelKept wheel, int weeks) =>
        [.. Enumerable.Range(0, weeks + 1).Select(w => Entry(wheel, w, 250 - (0.4 * w), w == 0 ? DiameterCause.New : DiameterCause.Measured, 0.02))];

    /// <summary>Half a day before each measurement.</summary>
    private static (DateTime, double)[] Steel(int weeks) => [.. Enumerable.Range(1, weeks).Select(w => (Begin.AddDays((7 * w) - 0.5), 5000.0))];
}
