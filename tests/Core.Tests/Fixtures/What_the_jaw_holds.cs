using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>The search keeps to clamps that the jaw can hold. Blades and rigs are invented, drawn with a seed.</summary>
public sealed class What_the_jaw_holds
{
    [Fact]
    public void A_clamp_is_refused_only_where_the_box_has_no_place_at_which_the_jaw_holds_the_blade()
    {
        Random random = new(20261128);
        int planned = 0, refused = 0;
        for (int i = 0; i < 24; i++)
        {
            double height = 14 + (random.NextDouble() * 50), jaw = 38 + (random.NextDouble() * 20), depth = 6 + (random.NextDouble() * 14), from = 45 + (random.NextDouble() * 40);
            Blade blade = Blade.FromShape(new BladeShape(200, height, 110, 0.6 * height), "invented") with { PrimaryHalf = Angle.FromDegrees(2), Height = Length.FromMillimetres(height) };
            WheelAndBarRig rig = new()
            {
                Wheels = [new("coarse", MeasuredLength.FromMillimetres(250, 0.2))], Box = new(40, 160, from, from + 30), Grip = GripKind.SelfCentring, JawToPivotMm = jaw, JawDepthMm = depth,
            };

            SettingPlan plan = SettingPlanner.Plan(blade, rig, SettingWish.Both(Angle.FromDegrees(16)) with { Tolerance = Angle.FromDegrees(8) }, TestContext.Current.CancellationToken);

            // By hand: the front 1 mm or more behind the edge, 2 mm or more of the blade held, no more than the jaw is deep.
            double least = Math.Max(Math.Max(jaw, height - depth) + 1, from), most = Math.Min(jaw + height - 2, from + 30);
            string told = FormattableString.Invariant($"height {height:0.0}, jaw {jaw:0.0}, depth {depth:0.0}, box from {from:0.0}: {string.Join(" ", plan.Refusals.Select(r => r.Text))}");
            Assert.True(plan.Refusals.Any(r => r.Code == "jaw-cannot-hold") == (least > most), told);
            foreach (PlannedClamp clamp in least > most ? [] : plan.Clamps)
            {
                Assert.InRange(height - clamp.Jaw!.ProtrusionMm, 2 - 1e-6, depth + 1e-6);
                planned++;
            }

            refused += least > most ? 1 : 0;
        }

        Assert.True(planned >= 8 && refused >= 2, $"{planned} planned, {refused} refused: the draw tests too little");
    }

    /// <summary>By hand: 60 mm high, 10 mm of it in the jaw at most, so the edge stands 50 mm out; a pivot 48 mm behind it would need 2 mm.</summary>
    [Fact]
    public void A_blade_deeper_in_the_jaw_than_the_jaw_is_deep_is_told()
    {
        Blade blade = Blade.FromShape(new BladeShape(200, 60, 110, 30), "invented") with { Height = Length.FromMillimetres(60) };

        JawPlacement jaw = JawPlacement.Of(blade, new Point2(90, -48), 46, 10);

        Assert.Contains("10.0 mm deep", jaw.CannotHold(blade, 10)!.Text, StringComparison.Ordinal);
        Assert.Null(JawPlacement.Of(blade, new Point2(90, -97), 46, 10).CannotHold(blade, 10));
    }
}
