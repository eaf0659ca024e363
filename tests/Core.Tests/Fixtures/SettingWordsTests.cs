using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>A plan says each thing once, and a bound only where it is true. Blades and rigs are invented.</summary>
public sealed class SettingWordsTests
{
    private static readonly Blade Curved = Blade.FromShape(new BladeShape(210, 47, 110, 30), "invented curved knife") with
    {
        PrimaryHalf = Angle.FromDegrees(2.2),
        Height = Length.FromMillimetres(47),
    };

    private static readonly WheelAndBarRig Bench = new()
    {
        Wheels = [new("coarse", MeasuredLength.FromMillimetres(247.6, 0.2))],
        Box = new(30, 190, 62, 140),
        Grip = GripKind.FixedJaw,
        JawToPivotMm = 46,
        JawDepthMm = 14,
    };

    [Fact]
    public void Two_clamps_are_explained_once_with_the_numbers_of_the_clamps_that_are_shown()
    {
        SettingPlan plan = SettingPlanner.Plan(Curved, Bench, SettingWish.Both(Angle.FromDegrees(13)) with { Tolerance = Angle.FromDegrees(0.05) });
        Assert.Contains(plan.Notes, n => n.Code == "box-narrowed");
        Reason note = Assert.Single(plan.Notes, n => n.Code is "two-clamps" or "beyond-tolerance");
        Assert.Contains(FormattableString.Invariant($"{plan.Clamps.Max(c => c.WorstDeg):0.00}°"), note.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_dial_names_each_measurement_once()
    {
        SettingPlan plan = SettingPlanner.Plan(Curved, new DialRig(), SettingWish.Both(Angle.FromDegrees(15)));
        NextMeasurement next = Assert.Single(plan.MeasureNext);
        Assert.Equal(Math.Sqrt((0.5 * 0.5) + (0.15 * 0.15)), next.UAfterDeg, 1e-9);
    }

    [Fact]
    public void A_dial_cannot_stray_less_than_not_at_all_but_a_slack_belt_has_no_bound()
    {
        SettingWish wish = SettingWish.Both(Angle.FromDegrees(15));
        Assert.Equal(0, SettingPlanner.Plan(Curved, new DialRig(), wish).Clamps[0].BoundDeg);
        Assert.Null(SettingPlanner.Plan(Curved, new SlackBeltRig(), wish).Clamps[0].BoundDeg);
    }
}
