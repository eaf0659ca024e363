using Whetwright.Core.Fixtures;
using Whetwright.Core.Optics;

namespace Whetwright.Core.Visits;

/// <summary>The cautions that apply to a visit: those of the rig's kind, of the reading, and what the setting itself warns of.</summary>
internal static class VisitCautions
{
    public static IReadOnlyList<string> For(Rig rig, CombinedReading? reading, SettingPlan? setting)
    {
        List<string> cautions = [];
        if (reading is not null)
            cautions.Add("Never look into a laser or its reflection from a polished bevel; beam below eye level.");
        if (rig is WheelAndBarRig)
            cautions.Add("Wheels only within the speed marked on them.");
        if (rig is WheelAndBarRig or SlackBeltRig)
            cautions.Add("Heat draws temper: keep it wet or cold, stop at any colour. Dust: work wet, or extract it and wear a mask.");
        cautions.AddRange(setting?.Cautions.Select(c => c.Text) ?? []);
        cautions.Add("Blades to the rack, not the bench edge.");
        return [.. cautions.Distinct(StringComparer.Ordinal)];
    }
}
