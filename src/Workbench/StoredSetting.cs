using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>One clamping that was dialled.</summary>
/// <param name="FromMm">From which arc length it serves.</param>
/// <param name="ToMm">To which.</param>
/// <param name="Pivot">Foot of the pivot; null for rigs without one.</param>
/// <param name="BoundDeg">The bound proved when it was searched for; null for a given clamp.</param>
public sealed record StoredClamp(double FromMm, double ToMm, Point2? Pivot, double? BoundDeg);

/// <summary>A setting as it stands in the book, at the clamp it was dialled with: nothing is searched for anew.</summary>
/// <param name="Fact">The fact.</param>
/// <param name="Blade">The blade it was made for.</param>
/// <param name="BladeJson">The same as a document.</param>
/// <param name="Rig">The rig as it stood then.</param>
/// <param name="RigJson">The same as a document.</param>
/// <param name="Wish">What was wanted.</param>
/// <param name="Clamps">The clamps.</param>
public sealed record StoredSetting(SettingMade Fact, Blade Blade, string BladeJson, Rig Rig, string RigJson, SettingWish Wish, IReadOnlyList<StoredClamp> Clamps)
{
    private SettingPlan? plan;

    /// <summary>What was dialled: its own clamps under its own rig.</summary>
    public SettingPlan Plan => plan ??= Bounded(On(Blade, Rig, Wish));

    /// <summary>From the book.</summary>
    /// <exception cref="InvalidDataException">What is stored cannot be read under the present formats.</exception>
    public static StoredSetting Of(SettingMade fact)
    {
        JsonNode inputs = JsonNode.Parse(fact.InputsJson) ?? throw new InvalidDataException("The setting's inputs are empty.");
        string bladeJson = Indented(inputs["blade"]), rigJson = Indented(inputs["rig"]);
        if (BladeFormat.Read(bladeJson) is not FormatOutcome<Blade>.Read blade || RigFormat.Read(rigJson) is not FormatOutcome<Rig>.Read rig || inputs["wish"] is not JsonObject wished)
            throw new InvalidDataException("The setting's blade, rig or wish cannot be read under the present formats.");
        List<StoredClamp> clamps = [];
        foreach (JsonNode? clamp in JsonNode.Parse(fact.ResultJson)?["clamps"] as JsonArray ?? [])
        {
            Point2? pivot = clamp?["pivotMm"] is JsonArray { Count: 2 } p ? new(p[0]!.GetValue<double>(), p[1]!.GetValue<double>()) : null;
            clamps.Add(new(Number(clamp, "fromMm") ?? 0, Number(clamp, "toMm") ?? 0, pivot, Number(clamp, "boundDeg")));
        }

        // The fact's own columns have all digits.
        if (clamps is [{ Pivot: not null } first, ..] && fact is { PivotXMm: { } x, PivotYMm: { } y })
            clamps[0] = first with { Pivot = new(x, y) };
        SettingWish wish = new() { Left = Deg(wished, "leftDeg"), Right = Deg(wished, "rightDeg"), Tolerance = Deg(wished, "toleranceDeg") };
        return new(fact, blade.Value, bladeJson, rig.Value, rigJson, wish, clamps);
    }

    /// <summary>The same clamps with another blade, rig or wish: today's.</summary>
    public SettingPlan On(Blade blade, Rig rig, SettingWish wish, CancellationToken cancellationToken = default)
    {
        if (Clamps.Count == 0 || Clamps[0].Pivot is null || rig is DialRig or SlackBeltRig)
            return SettingPlanner.Plan(blade, rig, wish, cancellationToken);
        if (Clamps is [var only])
            return SettingPlanner.Plan(blade, rig, wish with { PivotMm = only.Pivot }, cancellationToken);
        SettingPlan[] each = [.. Clamps.Select(c => SettingPlanner.Plan(
            blade, rig, wish with { PivotMm = c.Pivot, ScoreMm = (c.FromMm, Math.Min(c.ToMm, blade.Edge.LengthMm)) }, cancellationToken))];
        return each[0] with
        {
            Clamps = [.. each.SelectMany(p => p.Clamps)],
            Refusals = [.. each.SelectMany(p => p.Refusals).Distinct()],
            Notes = [.. each.SelectMany(p => p.Notes).Distinct()],
            UDeg = each.Max(p => p.UDeg),
        };
    }

    /// <summary>The bound was proved for the rig and wish of the search, and holds only there.</summary>
    private SettingPlan Bounded(SettingPlan made) => made.Clamps.Count != Clamps.Count ? made
        : made with { Clamps = [.. made.Clamps.Zip(Clamps, (c, stored) => c with { BoundDeg = stored.BoundDeg ?? c.BoundDeg })] };

    private static string Indented(JsonNode? node) => node?.ToJsonString(new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }) ?? "";

    private static Angle? Deg(JsonObject wish, string key) => Number(wish, key) is { } deg and > 0 ? Angle.FromDegrees(deg) : null;

    private static double? Number(JsonNode? node, string key) => node?[key] is JsonValue value && value.TryGetValue(out double number) ? number : null;
}
