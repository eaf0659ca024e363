using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>The chain behind every number of a wheel-and-bar plan, built on request.</summary>
internal sealed class WheelExplanation(WheelAndBarRig rig, Angle tilt)
{
    /// <summary>The clamp's search, each bar distance with its offset, what the calliper takes, travel, wheel speed, flex.</summary>
    public List<Derivation> Explain(IReadOnlyList<PlannedClamp> planned, Derivation? flex)
    {
        List<Derivation> chain = [];
        foreach (PlannedClamp clamp in planned)
        {
            chain.AddRange(clamp.Search!.Explain());
            double support = ClampPlanning.Middle(clamp.Search!).SupportDistanceMm(clamp.Pivot!.Value);
            foreach (WheelSetting setting in clamp.Settings.OfType<WheelSetting>())
            {
                double angle = WheelAndBar.AngleRad(setting.Wheel.RadiusMm, setting.BarCentreToAxisMm, support, setting.OffsetMm);
                Derivation distance = WheelAndBar.ExplainDistance(setting.Wheel.RadiusMm, angle, support, setting.OffsetMm, ExplainOffset(setting));
                chain.Add(distance with { Name = $"{distance.Name}, {setting.Wheel.Name}, {SettingPlanner.Word(setting.Side)}" });
                chain.Add(new(
                    $"bar's far side to wheel, {setting.Wheel.Name}, {SettingPlanner.Word(setting.Side)}", setting.BarFarSideToWheelMm, "mm", "D + r_b − R", "definition",
                    [
                        new("D", "bar centre to wheel axis", setting.BarCentreToAxisMm, "mm", 1, distance),
                        new("r_b", "bar radius", rig.BarRadiusMm, "mm", 1, IsDefault: rig.BarDiameterMm is null),
                        new("R", "wheel radius", setting.Wheel.RadiusMm, "mm", -1),
                    ],
                    "fixtures.bar-slide/1"));
                if (setting.BarTravelMm is not null)
                    chain.Add(rig.SlideInEffect.Explain(rig.Now!.BarCentreToAxisMm, setting.BarCentreToAxisMm));
                if (setting.Wheel.Rpm is { } rpm)
                    chain.Add(WheelSpeed.Explain(2 * setting.Wheel.RadiusMm, rpm));
            }
        }

        if (flex is not null)
            chain.Add(flex);
        return chain;
    }

    private Derivation ExplainOffset(WheelSetting setting)
    {
        double sign = setting.Side == Side.Left ? -1 : 1;
        bool rests = rig.SeatInEffect == BarSeat.Rests;
        List<DerivationInput> inputs = [new("c", "bar or holder off the mid-plane, toward the blade's left", rig.OffsetMm ?? 0, "mm", sign * Math.Cos(tilt.Radians), IsDefault: rig.OffsetMm is null)];
        if (rests)
        {
            inputs.Add(new("s", "half the holder's thickness", rig.HolderHalfThicknessMm ?? WheelAndBarRig.UsualHolderHalfThicknessMm, "mm", -Math.Cos(tilt.Radians), IsDefault: rig.HolderHalfThicknessMm is null));
            inputs.Add(new("r_b", "bar radius", rig.BarRadiusMm, "mm", -Math.Cos(tilt.Radians), IsDefault: rig.BarDiameterMm is null));
        }

        if (tilt > Angle.Zero)
        {
            int lean = Grip.Sign(setting.Side, rig.FixedJawSide ?? Side.Left);
            double j = rig.JawToPivotMm ?? 0;
            inputs.Add(new("j", "jaw's front to pivot", j, "mm", lean * Math.Sin(tilt.Radians)));
            inputs.Add(new("τ", "grip tilt, the primary half-angle", tilt.Degrees, "deg", lean * j * Math.Cos(tilt.Radians) * double.DegreesToRadians(1)));
        }

        return new(
            "bar off the mid-plane", setting.OffsetMm, "mm",
            tilt > Angle.Zero
                ? (rests ? "Q = (±c − s − r_b)·cos τ ± j·sin τ" : "Q = ±c·cos τ ± j·sin τ")
                : (rests ? "Q = ±c − s − r_b" : "Q = ±c"),
            "derived in docs/conventions.md", inputs, "fixtures.seat/1");
    }
}
