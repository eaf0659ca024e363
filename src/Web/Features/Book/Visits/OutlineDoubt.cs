using System.Text.Json.Nodes;
using Whetwright.Records.Bench;

namespace Whetwright.Web.Features.Book.Visits;

/// <summary>What a traced outline's kept result says of its own doubt.</summary>
internal static class OutlineDoubt
{
    /// <summary>Standard uncertainty of the blade's height, mm; of a result kept before heights had one that of the edge; null where it was typed.</summary>
    public static double? HeightUMm(OutlineTaken outline) =>
        outline.ResultJson is { Length: > 0 } json && JsonNode.Parse(json) is JsonObject result && (result["heightUMm"] ?? result["uMm"]) is JsonValue u && u.TryGetValue(out double mm) ? mm : null;
}
