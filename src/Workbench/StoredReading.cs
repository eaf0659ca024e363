using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Workbench;

/// <summary>One side of a stored reading.</summary>
/// <param name="Target">Side of the target.</param>
/// <param name="Blade">Side of the blade; null where nobody noted the tip.</param>
/// <param name="AsReadDeg">With the roll in.</param>
/// <param name="EdgeDeg">Best estimate.</param>
/// <param name="EdgeUDeg">Its standard uncertainty.</param>
/// <param name="PrimaryDeg">Primary grind.</param>
/// <param name="MicroDeg">Micro-bevel.</param>
/// <param name="RangeDeg">Shoulder and apex of a curved facet.</param>
/// <param name="Clarity">Clarity of the mark, 0 to 1.</param>
public sealed record StoredSide(
    Side Target, Side? Blade, double? AsReadDeg, double? EdgeDeg, double? EdgeUDeg, double? PrimaryDeg, double? MicroDeg, IReadOnlyList<double>? RangeDeg, double? Clarity);

/// <summary>A reading as it stands in the book: the result that was stored, not one made anew.</summary>
/// <param name="Outcome">"read", "one-side" or "refused".</param>
/// <param name="Reasons">Why it was refused, or what it leans on.</param>
/// <param name="IncludedDeg">Included angle.</param>
/// <param name="IncludedUDeg">Its standard uncertainty.</param>
/// <param name="Sides">Left and right of the target.</param>
/// <param name="RollKnown">Whether marks told the roll.</param>
/// <param name="Budget">What the uncertainty comes from: source and degrees.</param>
/// <param name="MeasureNext">What to measure next: what and the uncertainty afterwards, degrees.</param>
public sealed record StoredReading(
    string Outcome, IReadOnlyList<Reason> Reasons, double? IncludedDeg, double? IncludedUDeg, IReadOnlyList<StoredSide> Sides, bool RollKnown,
    IReadOnlyList<(string Source, double UDeg)> Budget, IReadOnlyList<(string What, double UAfterDeg)> MeasureNext)
{
    /// <summary>The side of the blade; null where it was not read or not named.</summary>
    public StoredSide? On(Side blade) => Sides.FirstOrDefault(s => s.Blade == blade);

    /// <summary>From the book.</summary>
    /// <exception cref="InvalidDataException">What is stored is no reading.</exception>
    public static StoredReading Of(Reading reading)
    {
        if (JsonNode.Parse(reading.ResultJson) is not JsonObject json)
            throw new InvalidDataException("The stored reading is no object.");
        return new(
            reading.Outcome,
            [.. List(json, "reasons").Select(r => new Reason(Text(r, "code"), Text(r, "text")))],
            Number(json, "includedDeg"), Number(json, "includedUDeg"),
            [.. List(json, "sides").Select(s => new StoredSide(
                Text(s, "target") == "left" ? Side.Left : Side.Right,
                Text(s, "blade") switch { "left" => Side.Left, "right" => Side.Right, _ => null },
                Number(s, "asReadDeg"), Number(s, "edgeDeg"), Number(s, "edgeUDeg"), Number(s, "primaryDeg"), Number(s, "microDeg"),
                s["rangeDeg"] is JsonArray { Count: 2 } range ? [range[0]!.GetValue<double>(), range[1]!.GetValue<double>()] : null,
                Number(s, "clarity")))],
            json["rollKnown"] is JsonValue known && known.TryGetValue(out bool roll) && roll,
            [.. List(json, "budget").Select(b => (Text(b, "source"), Number(b, "uDeg") ?? 0))],
            [.. List(json, "measureNext").Select(m => (Text(m, "what"), Number(m, "uAfterDeg") ?? 0))]);
    }

    /// <summary>The marks in photographs that it was made from; null for one read by eye.</summary>
    public static MarksInPhotos? Photos(Reading reading)
    {
        using JsonDocument document = JsonDocument.Parse(reading.InputsJson);
        return document.RootElement.TryGetProperty("marks", out _) ? null : MarksInPhotos.Read(reading.InputsJson);
    }

    private static IEnumerable<JsonObject> List(JsonObject json, string key) => (json[key] as JsonArray ?? []).OfType<JsonObject>();

    private static double? Number(JsonObject json, string key) => json[key] is JsonValue value && value.TryGetValue(out double number) ? number : null;

    private static string Text(JsonObject json, string key) => json[key] is JsonValue value && value.TryGetValue(out string? text) ? text ?? "" : "";
}
