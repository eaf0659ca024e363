using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Fixtures;
using Whetwright.Formats;
using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;

namespace Whetwright.Workbench;

/// <summary>A rig as it stands today.</summary>
/// <param name="RigId">The rig.</param>
/// <param name="Rig">For Core, and as a document.</param>
/// <param name="DiameterIds">The diameter entries it used, one per wheel.</param>
public sealed record RigOnBench(long RigId, Composed<Rig> Rig, IReadOnlyList<long> DiameterIds)
{
    /// <summary>Puts the rig together: geometry, wheels in use with the newest diameter that stands, and where it was dialled last.</summary>
    /// <param name="rig">The rig with its wheels.</param>
    /// <param name="diameters">Diameter entries of its wheels, corrected ones among them or not.</param>
    /// <param name="stands">Where it was dialled; the newest that stands counts.</param>
    /// <param name="corrections">Corrections that a person applied; the newest of the rig and of each wheel counts.</param>
    /// <param name="wheelIds">Only these wheels; null for all in use.</param>
    /// <param name="worn">By wheel, what it is foretold to have lost since it was measured; null leaves that out.</param>
    public static RigOnBench Compose(RigKept rig, IReadOnlyCollection<DiameterEntry> diameters, IReadOnlyCollection<RigStand> stands,
        IReadOnlyCollection<CorrectionApplied> corrections, IReadOnlyCollection<long>? wheelIds = null,
        IReadOnlyDictionary<long, WheelWorn>? worn = null)
    {
        JsonObject document = JsonNode.Parse(rig.RigJson) as JsonObject ?? [];
        document["name"] = rig.Name;
        document.Remove("wheels");
        document.Remove("now");
        List<long> used = [];
        List<string> missing = [];
        IReadOnlyList<DiameterEntry> standing = diameters.Standing();
        List<WheelKept> wheels = [.. rig.Wheels.Where(w => !w.Retired && (wheelIds is null || wheelIds.Contains(w.Id))).OrderBy(w => w.Id)];
        JsonArray list = [];
        foreach (WheelKept wheel in wheels)
        {
            if (Newest(standing, wheel.Id) is not { } entry)
            {
                missing.Add($"Diameter of wheel “{wheel.Name}” is not entered: measure it and enter it in Kit.");
                continue;
            }

            used.Add(entry.Id);
            JsonObject made = new() { ["name"] = wheel.Name, ["diameterMm"] = entry.DiameterMm, ["diameterUMm"] = entry.UMm };
            if (worn?.GetValueOrDefault(wheel.Id) is { } lost)
            {
                made["wornMm"] = lost.Lost.Value.Millimetres;
                made["wornUMm"] = lost.Lost.StandardUncertainty.Millimetres;
                made["measuredOn"] = lost.MeasuredOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
            }

            if (wheel.OffsetDeg != 0)
                made["offsetDeg"] = wheel.OffsetDeg;
            if (wheel.Rpm is { } rpm)
                made["rpm"] = rpm;
            if (wheel.MarkedLimitMs is { } limit)
                made["markedLimitMs"] = limit;
            Learnt(made, InForce(corrections, rig.Id, wheel.Id));
            list.Add((JsonNode)made);
        }

        string kind = (string?)document["kind"] ?? "";
        Learnt(document, InForce(corrections, rig.Id, null));
        if (kind == "wheel-and-bar")
        {
            if (wheels.Count == 0)
                missing.Add($"“{rig.Name}” has no wheel in use: add one in Kit, with its diameter.");
            document["wheels"] = list;
        }

        if (stands.Standing().OrderByDescending(s => s.HappenedAt).ThenByDescending(s => s.Id).FirstOrDefault() is { } stand)
            Now(document, kind, stand, wheels);
        string json = document.ToJsonString(new JsonSerializerOptions { WriteIndented = true });
        return new(rig.Id, missing.Count > 0 ? new Composed<Rig>.NotYet(missing) : Composed<Rig>.From(RigFormat.Read(json), json, []), used);
    }

    /// <summary>The newest diameter entry of a wheel among those that stand.</summary>
    public static DiameterEntry? Newest(IEnumerable<DiameterEntry> standing, long wheelId) =>
        standing.Where(d => d.WheelId == wheelId).OrderByDescending(d => d.HappenedAt).ThenByDescending(d => d.Id).FirstOrDefault();

    /// <summary>The correction that counts for a rig (wheel null) or a wheel: the newest; null where none was ever applied.</summary>
    public static CorrectionApplied? InForce(IEnumerable<CorrectionApplied> corrections, long rigId, long? wheelId) => corrections
        .Where(c => c.RigId == rigId && c.WheelId == wheelId).OrderBy(c => c.HappenedAt).ThenBy(c => c.Id).LastOrDefault();

    /// <summary>A correction of 0 takes out what stood; one that was never applied leaves what was typed of the rig.</summary>
    private static void Learnt(JsonObject made, CorrectionApplied? correction)
    {
        if (correction is null)
            return;
        made.Remove("learntDeg");
        made.Remove("learntUDeg");
        if (correction.BiasDeg == 0)
            return;
        made["learntDeg"] = correction.BiasDeg;
        made["learntUDeg"] = correction.BiasUDeg;
    }

    private static void Now(JsonObject document, string kind, RigStand stand, List<WheelKept> wheels)
    {
        if (kind == "wheel-and-bar" && wheels.Find(w => w.Id == stand.WheelId) is { } wheel)
            document["now"] = new JsonObject { ["wheel"] = wheel.Name, ["barCentreToAxisMm"] = stand.DialledMm };
        else if (kind == "guided-rod")
            document["now"] = new JsonObject { ["pivotHeightMm"] = stand.DialledMm };
    }
}
