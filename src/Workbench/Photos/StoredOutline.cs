using System.Text.Json.Nodes;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Results;
using Whetwright.Sight.Outlines;

namespace Whetwright.Workbench.Photos;

/// <summary>An outline out of a kept tracing, ready to be laid on another.</summary>
public static class StoredOutline
{
    /// <summary>Of a tracing just made; null where it was refused.</summary>
    public static OutlineShape? Of(TraceResult traced) =>
        traced.Refused || traced.HeelOnMatMm is not { } heel || traced.TipOnMatMm is not { } tip || traced.EdgeMm.Count < 2 || traced.OutlineOnMatMm.Count < 3
            ? null
            : OutlineShape.OnMat(traced.EdgeMm, traced.OutlineOnMatMm, heel, tip, traced.UMm ?? 0);

    /// <summary>Of a tracing as the book keeps it; null where it holds none.</summary>
    public static OutlineShape? Of(string? resultJson)
    {
        if (string.IsNullOrEmpty(resultJson) || JsonNode.Parse(resultJson) is not JsonObject result)
            return null;
        List<Point2> edge = Points(result["edgeMm"]), outline = Points(result["outlineOnMatMm"]);
        return edge.Count < 2 || outline.Count < 3 || Point(result["heelOnMatMm"]) is not { } heel || Point(result["tipOnMatMm"]) is not { } tip
            ? null
            : OutlineShape.OnMat(edge, outline, heel, tip, result["uMm"]?.GetValue<double>() ?? 0);
    }

    private static List<Point2> Points(JsonNode? node) => node is JsonArray array ? [.. array.Select(Point).OfType<Point2>()] : [];

    private static Point2? Point(JsonNode? node) => node is JsonArray { Count: 2 } p ? new(p[0]!.GetValue<double>(), p[1]!.GetValue<double>()) : null;
}
