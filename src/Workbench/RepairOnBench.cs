using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench;

/// <summary>What is told of a profile repair.</summary>
/// <param name="Repair">Word of our reshape format: "broken-tip-from-spine" and so on.</param>
public sealed record RepairWish(string Repair)
{
    /// <summary>Length broken off the tip since the outline was known, mm.</summary>
    public double? BrokenOffMm { get; init; }

    /// <summary>Where the new curve starts, or the bolster ends, or the straight run meets the old edge, from the heel, mm.</summary>
    public double? AtMm { get; init; }

    /// <summary>Place of the chip, from the heel, mm.</summary>
    public double? ChipAtMm { get; init; }

    /// <summary>Depth of the chip, mm.</summary>
    public double? ChipDepthMm { get; init; }

    /// <summary>How far under the edge line the bolster shall lie, mm.</summary>
    public double? BolsterClearanceMm { get; init; }

    /// <summary>Thickness of the bolster, mm.</summary>
    public double? BolsterThicknessMm { get; init; }

    /// <summary>What the shop's own tool takes off, mm³ a minute.</summary>
    public double? RemovalMm3PerMinute { get; init; }
}

/// <summary>A profile repair worked out for a piece: what is said before any promise is made.</summary>
/// <param name="Result">New outline, gap, steel, time.</param>
/// <param name="OldEdgeMm">The old edge it starts from.</param>
/// <param name="Json">Input and result, to be stored with the aim.</param>
public sealed record RepairOnBench(ReshapeResult Result, IReadOnlyList<Point2> OldEdgeMm, string Json)
{
    private const int Stations = 81;

    /// <summary>Works it out; the second result says why there is none.</summary>
    public static (RepairOnBench? Repair, IReadOnlyList<Reason> Why) Make(Blade blade, RepairWish wish)
    {
        List<Point2> edge = [.. blade.Edge.Stations(Stations).Select(p => p.Place)];
        if (wish.BrokenOffMm is { } lost and > 0)
        {
            double end = edge[^1].X - lost;
            if (end < edge[0].X + 10)
                return (null, [new("nothing-left", FormattableString.Invariant($"Broken off {lost:0.#} mm leaves no blade of {edge[^1].X:0.#} mm. Measure again, or decline the piece."))]);
            edge = Cut(edge, end);
        }

        if (blade.Height is not { } height)
            return (null, [new("height-missing", "The height at the heel is not known: measure it in Read, for the new outline runs between edge and spine.")]);
        JsonObject document = new()
        {
            ["formatVersion"] = 1,
            ["repair"] = wish.Repair,
            ["edgeMm"] = new JsonArray([.. edge.Select(p => (JsonNode)new JsonArray(Round(p.X), Round(p.Y)))]),
            ["heightMm"] = height.Millimetres,
        };
        Put("behindEdgeMm", blade.BehindEdge?.Millimetres);
        Put("spineMm", blade.Spine?.Millimetres);
        Put("atMm", wish.AtMm);
        Put("chipAtMm", wish.ChipAtMm);
        Put("chipDepthMm", wish.ChipDepthMm);
        Put("bolsterClearanceMm", wish.BolsterClearanceMm);
        Put("bolsterThicknessMm", wish.BolsterThicknessMm);
        Put("removalMm3PerMinute", wish.RemovalMm3PerMinute);
        string json = document.ToJsonString();
        if (ReshapeFormat.Read(json) is not FormatOutcome<ReshapeInput>.Read read)
        {
            IReadOnlyList<FormatError> errors = ((FormatOutcome<ReshapeInput>.Refused)ReshapeFormat.Read(json)).Errors;
            return (null, [.. errors.Select(e => new Reason("repair-field", e.ToString()))]);
        }

        try
        {
            return Reshape.Evaluate(read.Value) switch
            {
                ReshapeOutcome.Repaired made => (new(made.Result, edge, Document(json, made.Result)), []),
                ReshapeOutcome.Refused refused => (null, refused.Reasons),
                _ => throw new InvalidOperationException("Not a member of the closed set."),
            };
        }
        catch (ArgumentException e)
        {
            return (null, [new("repair-field", Faults.Plain(e))]);
        }

        void Put(string key, double? value)
        {
            if (value is { } v)
                document[key] = v;
        }
    }

    /// <summary>The blade as it will be once the repair that was chosen is done: what the clamp is planned for. Unchanged where none was.</summary>
    public static Composed<Blade>.Ready After(Composed<Blade>.Ready blade, AimChosen? aim)
    {
        if (aim?.ReshapeJson is not { Length: > 0 } json || JsonNode.Parse(json)?["result"]?["edgeMm"] is not JsonArray edge
            || JsonNode.Parse(blade.Json) is not JsonObject document)
            return blade;
        document.Remove("shape");
        document["edgeMm"] = edge.DeepClone();
        string made = document.ToJsonString(new JsonSerializerOptions { WriteIndented = true });
        return BladeFormat.Read(made) is FormatOutcome<Blade>.Read read ? new(read.Value, made, blade.Defaults) : blade;
    }

    private static string Document(string input, ReshapeResult result) => new JsonObject
    {
        ["input"] = JsonNode.Parse(input),
        ["result"] = JsonNode.Parse(JsonResults.Document(json => ReshapedResult.Write(json, result))),
    }.ToJsonString();

    private static List<Point2> Cut(List<Point2> edge, double endX)
    {
        List<Point2> kept = [.. edge.TakeWhile(p => p.X < endX)];
        Point2 a = kept[^1], b = edge[kept.Count];
        double t = (endX - a.X) / (b.X - a.X);
        kept.Add(new(endX, a.Y + (t * (b.Y - a.Y))));
        return kept;
    }

    private static double Round(double mm) => Math.Round(mm, 4);
}
