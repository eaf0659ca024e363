using System.Text.Json.Nodes;
using Whetwright.Records.Bench;

namespace Whetwright.Web.Features.Book.Visits;

/// <summary>What a traced outline's kept result says of its own doubt.</summary>
internal static class OutlineDoubt
{
    /// <summary>Standard uncertainty of the blade's height, mm; of a result kept before heights had one that of the edge; null where it was typed.</summary>
    public static double? HeightUMm(OutlineTaken outline) => Of(outline, "heightUMm") ?? Of(outline, "uMm");

    /// <summary>Standard uncertainty of the blade's length, mm; null where it was typed, or kept before lengths had one.</summary>
    public static double? LengthUMm(OutlineTaken outline) => Of(outline, "lengthUMm");

    private static double? Of(OutlineTaken outline, string name) =>
        outline.ResultJson is { Length: > 0 } json && JsonNode.Parse(json) is JsonObject result && result[name] is JsonValue u && u.TryGetValue(out double mm) ? mm : null;
}
