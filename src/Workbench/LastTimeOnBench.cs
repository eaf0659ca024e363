using System.Globalization;
using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Records.Standing;

namespace Whetwright.Workbench;

/// <summary>Last time's edge, rig and clamp, set anew for today's diameters, with what changed since.</summary>
/// <param name="Then">As it was dialled.</param>
/// <param name="Aim">The edge.</param>
/// <param name="Rig">The rig's row.</param>
/// <param name="RigNow">The rig today.</param>
/// <param name="Blade">The blade today.</param>
/// <param name="Now">What to dial today.</param>
/// <param name="Changed">What changed since, in words; empty where nothing did.</param>
public sealed record LastTimeOnBench(
    StoredSetting Then, AimChosen Aim, RigKept Rig, RigOnBench RigNow, Composed<Blade>.Ready Blade, SettingOnBench Now, IReadOnlyList<string> Changed)
{
    /// <summary>Makes it; the texts say why there is none and what to do.</summary>
    /// <param name="last">What the visits before left.</param>
    /// <param name="blade">The blade today.</param>
    /// <param name="rigs">Rigs in use.</param>
    /// <param name="diameters">Diameters of their wheels.</param>
    /// <param name="stands">How they stand.</param>
    /// <param name="corrections">Corrections applied.</param>
    /// <param name="compose">Puts the rig together as it stands today; null for the entries alone.</param>
    public static (LastTimeOnBench? Made, IReadOnlyList<string> Why) Make(
        LastTime last, Composed<Blade> blade, IReadOnlyList<RigKept> rigs, IReadOnlyCollection<DiameterEntry> diameters, IReadOnlyCollection<RigStand> stands,
        IReadOnlyCollection<CorrectionApplied> corrections, Func<RigKept, RigOnBench>? compose = null)
    {
        if (last is not { Aim: { } aim, Setting: { } setting })
            return (null, ["Nothing of an earlier visit can be repeated: no setting was kept. Read, choose and set it as a new piece; next time it is three taps."]);
        if (rigs.FirstOrDefault(r => r.Id == setting.RigId) is not { } rig)
            return (null, ["The rig of last time is no longer in use. Set it on another."]);
        RigOnBench now = compose?.Invoke(rig) ?? RigOnBench.Compose(rig, diameters, [.. stands.Where(s => s.RigId == rig.Id)], corrections);
        if (now.Rig is not Composed<Rig>.Ready ready)
            return (null, ((Composed<Rig>.NotYet)now.Rig).Missing);
        if (blade is not Composed<Blade>.Ready piece)
            return (null, ((Composed<Blade>.NotYet)blade).Missing);
        StoredSetting then;
        try
        {
            then = StoredSetting.Of(setting);
        }
        catch (Exception e) when (e is InvalidDataException or System.Text.Json.JsonException)
        {
            return (null, ["Last time's setting was written by another version and cannot be read. Set it anew."]);
        }

        SettingOnBench made = Same(then, piece, ready, aim);
        return (new(then, aim, rig, now, piece, made, Differences(then, ready, piece, aim)), []);
    }

    /// <summary>The same clamp for the blade, rig and edge of today, ready to be stored.</summary>
    public static SettingOnBench Same(StoredSetting then, Composed<Blade>.Ready blade, Composed<Rig>.Ready rig, AimChosen aim)
    {
        bool one = then.Clamps is [{ Pivot: not null }];
        SettingOnBench made = SettingOnBench.Make(blade, rig, aim, one ? then.Clamps[0].Pivot : null);
        return one || then.Clamps.Count == 0 || then.Clamps[0].Pivot is null ? made : made with { Plan = then.On(made.Blade, made.Rig, made.Wish) };
    }

    private static List<string> Differences(StoredSetting then, Composed<Rig>.Ready rig, Composed<Blade>.Ready blade, AimChosen aim)
    {
        List<string> said = [];
        if (then.Rig is WheelAndBarRig was && rig.Value is WheelAndBarRig now)
        {
            foreach (Wheel wheel in now.Wheels)
            {
                if (was.Wheels.FirstOrDefault(w => w.Name == wheel.Name) is not { } before)
                    said.Add($"{wheel.Name} is new on the rig.");
                else if (Math.Abs(before.Diameter.Value.Millimetres - wheel.Diameter.Value.Millimetres) > 1e-9)
                    said.Add(string.Create(CultureInfo.InvariantCulture, $"{wheel.Name}: {before.Diameter.Value.Millimetres:0.0#} → {wheel.Diameter.Value.Millimetres:0.0#} mm"));
            }

            said.AddRange(was.Wheels.Where(w => now.Wheels.All(n => n.Name != w.Name)).Select(w => $"{w.Name} is gone from the rig."));
        }

        if (Geometry(then.RigJson) != Geometry(rig.Json))
            said.Add("The rig's own description was changed in Kit since.");
        double length = blade.Value.Edge.ChordMm - then.Blade.Edge.ChordMm, height = (blade.Value.Height - then.Blade.Height)?.Millimetres ?? 0;
        if (Math.Abs(length) > 0.05)
            said.Add(string.Create(CultureInfo.InvariantCulture, $"The edge was measured again: {Math.Abs(length):0.0} mm {(length > 0 ? "longer" : "shorter")}."));
        if (Math.Abs(height) > 0.05)
            said.Add(string.Create(CultureInfo.InvariantCulture, $"The blade is {Math.Abs(height):0.0} mm {(height > 0 ? "higher" : "lower")} than last time."));
        if (then.Wish.Left is { } left && Math.Abs(left.Degrees - aim.LeftDeg) > 1e-9 || then.Wish.Right is { } right && Math.Abs(right.Degrees - aim.RightDeg) > 1e-9)
            said.Add("Another edge was chosen last time after it was dialled; that one is set now.");
        return said;
    }

    /// <summary>The rig's own geometry: wheels and stand change daily and are told apart.</summary>
    private static string Geometry(string rigJson)
    {
        JsonObject rig = JsonNode.Parse(rigJson) as JsonObject ?? [];
        foreach (string key in new[] { "wheels", "now", "name", "note", "formatVersion" })
            rig.Remove(key);
        return string.Join('|', rig.OrderBy(p => p.Key, StringComparer.Ordinal).Select(p => p.Key + p.Value?.ToJsonString()));
    }
}
