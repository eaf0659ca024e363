using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Workbench;

/// <summary>What a stale setting dials differently on one wheel and side.</summary>
/// <param name="Wheel">Wheel; null for rigs without one.</param>
/// <param name="Side">Blade side.</param>
/// <param name="ThenMm">What was dialled.</param>
/// <param name="NowMm">What it must be now.</param>
public sealed record SettingChange(string? Wheel, Side Side, double ThenMm, double NowMm)
{
    /// <summary>Differences smaller than this cannot be dialled, mm (chosen, not derived: half the last digit shown).</summary>
    public const double LeastMm = 0.005;

    /// <summary>Of which clamp, 0-based.</summary>
    public int Clamp { get; init; }

    /// <summary>It holds for both sides.</summary>
    public bool BothSides { get; init; }

    /// <summary>The change to make, mm.</summary>
    public double ByMm => NowMm - ThenMm;

    /// <summary>What a calliper over bar and wheel read then, mm; null for rigs without a bar.</summary>
    public double? FarSideThenMm { get; init; }

    /// <summary>What it must read now, over the wheel as it is now, mm.</summary>
    public double? FarSideNowMm { get; init; }

    /// <summary>How far to move the bar along its posts from where it was dialled then, positive out, mm; null for rigs without a bar.</summary>
    public double? TravelMm { get; init; }

    /// <summary>The same in turns of the thread; null where its pitch is not known.</summary>
    public double? Turns { get; init; }

    /// <summary>Compares two plans of the same clamp, setting by setting.</summary>
    /// <param name="then">As dialled.</param>
    /// <param name="now">As it must be now.</param>
    /// <param name="rig">The rig now, for the bar's posts; null leaves the travel out.</param>
    public static IReadOnlyList<SettingChange> Between(SettingPlan then, SettingPlan now, Rig? rig = null)
    {
        List<SettingChange> changes = [];
        foreach ((int clamp, (PlannedClamp a, PlannedClamp b)) in then.Clamps.Zip(now.Clamps).Index())
        {
            foreach (DialledSetting old in a.Settings)
            {
                DialledSetting? made = b.Settings.FirstOrDefault(s => s.Side == old.Side && WheelOf(s) == WheelOf(old));
                if (made is null || DialledMm(old) is not { } from || DialledMm(made) is not { } to)
                    continue;
                double? farThen = (old as WheelSetting)?.BarFarSideToWheelMm, farNow = (made as WheelSetting)?.BarFarSideToWheelMm;
                if (Math.Abs(to - from) <= LeastMm && Math.Abs((farNow - farThen) ?? 0) <= LeastMm)
                    continue;
                BarSlide? slide = (rig as WheelAndBarRig)?.SlideInEffect;
                double? travel = slide?.TravelMm(from, to) is { } t && double.IsFinite(t) ? t : null;
                changes.Add(new(WheelOf(old), old.Side, from, to) { Clamp = clamp, FarSideThenMm = farThen, FarSideNowMm = farNow, TravelMm = travel, Turns = travel is { } by ? slide!.Turns(by) : null });
            }
        }

        return changes;
    }

    /// <summary>The same, a left and a right that change alike said once.</summary>
    public static IReadOnlyList<SettingChange> OnceOnly(IReadOnlyList<SettingChange> changes)
    {
        List<SettingChange> once = [];
        foreach (SettingChange change in changes)
        {
            int twin = once.FindIndex(c => c.Clamp == change.Clamp && c.Wheel == change.Wheel && c.Side != change.Side && Math.Abs(c.ThenMm - change.ThenMm) < LeastMm && Math.Abs(c.NowMm - change.NowMm) < LeastMm);
            if (twin >= 0)
                once[twin] = once[twin] with { BothSides = true };
            else
                once.Add(change);
        }

        return once;
    }

    /// <summary>The length that is dialled; null for a mark.</summary>
    public static double? DialledMm(DialledSetting setting) => setting switch
    {
        WheelSetting w => w.BarCentreToAxisMm,
        RodSetting r => r.PivotHeightMm,
        LiftSetting l => l.LiftMm,
        _ => null,
    };

    /// <summary>The wheel; null for rigs without one.</summary>
    public static string? WheelOf(DialledSetting setting) => (setting as WheelSetting)?.Wheel.Name;
}
