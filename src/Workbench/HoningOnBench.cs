using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;

namespace Whetwright.Workbench;

/// <summary>A honing or stropping wheel at its own angle, the clamp left alone.</summary>
/// <param name="Wheel">The wheel.</param>
/// <param name="Settings">What to dial, per side.</param>
/// <param name="Refusals">Why not.</param>
public sealed record HoningOnBench(WheelKept Wheel, IReadOnlyList<WheelSetting> Settings, IReadOnlyList<Reason> Refusals)
{
    /// <summary>
    /// D for α + the wheel's own offset at the same clamp; where the aim has its own angle at the strop, for that angle.
    /// </summary>
    /// <param name="then">The setting that was dialled.</param>
    /// <param name="rig">The rig's row.</param>
    /// <param name="now">The rig today.</param>
    /// <param name="abrasives">The shop's abrasives.</param>
    /// <param name="aim">The edge chosen.</param>
    /// <param name="clamp">Which of its clamps the blade is in, 0-based.</param>
    public static IReadOnlyList<HoningOnBench> For(StoredSetting then, RigKept rig, WheelAndBarRig now, IReadOnlyList<AbrasiveKept> abrasives, AimChosen? aim, int clamp = 0)
    {
        List<HoningOnBench> all = [];
        foreach (WheelKept wheel in rig.Wheels.Where(w => !w.Retired && StagesOnBench.Hones(w, abrasives)).OrderBy(w => w.Id))
        {
            SettingWish wish = then.Wish with { Wheel = wheel.Name };
            if (aim?.HoneDeg is { } hone)
            {
                Angle own = Angle.FromDegrees(hone - wheel.OffsetDeg);
                wish = wish with { Left = wish.Left is null ? null : own, Right = wish.Right is null ? null : own };
            }

            SettingPlan plan = then.On(then.Blade, now, wish);
            all.Add(new(wheel, [.. plan.Clamps.Count == 0 ? [] : plan.Clamps[Math.Min(clamp, plan.Clamps.Count - 1)].Settings.OfType<WheelSetting>()], plan.Refusals));
        }

        return all;
    }

    /// <summary>The angle a hand strop should have, per side: the aim's own, else the bevel.</summary>
    public static double? HandDeg(AimChosen? aim) => aim is null ? null : aim.HoneDeg ?? Math.Max(aim.LeftDeg, aim.RightDeg);
}
