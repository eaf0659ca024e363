using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Whetwright.Core.Blades;
using Whetwright.Formats;
using Whetwright.Records.Bench;
using Whetwright.Records.Pieces;

namespace Whetwright.Workbench;

/// <summary>A piece and its measurements as a blade.</summary>
public static class BladeOnBench
{
    /// <summary>
    /// What is known of the piece, the newest measurement of each length first: the outline photographed, the section measured, the piece's own
    /// description, and where only a length is known a shape by kind whose other lengths are stated defaults.
    /// </summary>
    /// <param name="piece">The piece.</param>
    /// <param name="outlines">Its outlines that stand, any order.</param>
    /// <param name="sections">Its measured sections that stand, any order.</param>
    public static Composed<Blade> Compose(Piece piece, IEnumerable<OutlineTaken> outlines, IEnumerable<SectionMeasured> sections)
    {
        List<string> defaults = [];
        JsonObject blade = Own(piece);
        blade["name"] = piece.Name;
        blade["kind"] = piece.Kind.Key();
        if (piece.Hand is { } hand)
            blade["hand"] = hand;
        List<SectionMeasured> measured = [.. sections.OrderByDescending(s => s.HappenedAt).ThenByDescending(s => s.Id)];
        Put(blade, "behindEdgeMm", measured.Select(s => s.BehindEdgeMm));
        Put(blade, "primaryHalfDeg", measured.Select(s => s.PrimaryHalfDeg));
        Put(blade, "landMm", measured.Take(1).Select(s => s.LandMm));
        Put(blade, "spineMm", measured.Select(s => s.SpineMm));
        Put(blade, "bendMm", measured.Take(1).Select(s => s.BendMm));
        Put(blade, "heightMm", measured.Select(s => s.HeightMm));
        foreach (OutlineTaken outline in outlines.OrderByDescending(o => o.HappenedAt).ThenByDescending(o => o.Id))
        {
            if (Edge(outline) is { } edge)
            {
                blade.Remove("shape");
                blade["edgeMm"] = edge;
                if (outline.HeightMm is { } height)
                    blade["heightMm"] = height;
                break;
            }
        }

        if (!blade.ContainsKey("edgeMm") && !blade.ContainsKey("shape"))
        {
            // A length typed at the bench is newer than the one said at the counter.
            OutlineTaken? typed = outlines.Where(o => o.LengthMm is not null).OrderByDescending(o => o.HappenedAt).ThenByDescending(o => o.Id).FirstOrDefault();
            if (typed?.HeightMm is { } typedHeight && !blade.ContainsKey("heightMm"))
                blade["heightMm"] = typedHeight;
            if ((typed?.LengthMm ?? piece.LengthMm) is not { } length)
                return new Composed<Blade>.NotYet(["Length of the edge is not known: measure it from heel to tip, or photograph the blade on the mat."]);
            blade["shape"] = Shape(piece.Kind, length, Number(blade, "heightMm"), defaults);
        }

        string json = blade.ToJsonString(Indented);
        return Composed<Blade>.From(BladeFormat.Read(json), json, defaults);
    }

    private static JsonSerializerOptions Indented { get; } = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static JsonObject Own(Piece piece) =>
        piece.BladeJson is { Length: > 0 } json && JsonNode.Parse(json) is JsonObject own ? own : [];

    private static double? Number(JsonObject blade, string key) =>
        blade[key] is JsonValue value && value.TryGetValue(out double number) ? number : null;

    private static void Put(JsonObject blade, string key, IEnumerable<double?> newestFirst)
    {
        if (newestFirst.FirstOrDefault(v => v is not null) is { } value)
            blade[key] = value;
    }

    private static JsonNode? Edge(OutlineTaken outline)
    {
        if (outline.ResultJson is not { Length: > 0 } json || JsonNode.Parse(json) is not JsonObject result)
            return null;
        return result["edgeMm"] is JsonArray { Count: >= 2 } edge ? edge.DeepClone() : null;
    }

    /// <summary>A shape by kind from the length alone: all other lengths are chosen, not derived, and said.</summary>
    private static JsonObject Shape(PieceKind kind, double lengthMm, double? heightMm, List<string> defaults)
    {
        bool straight = kind is PieceKind.Chisel or PieceKind.PlaneIron;
        (double belly, double drop) = straight ? (0.0, 0.0) : (Math.Round(0.55 * lengthMm, 1), Math.Round(0.11 * lengthMm, 1));
        double height = heightMm ?? Math.Round(straight ? Math.Max(lengthMm, 30) : Math.Clamp(0.21 * lengthMm, 12, 60), 1);
        if (heightMm is null)
            defaults.Add(string.Create(CultureInfo.InvariantCulture, $"height {height} mm (chosen from the length; measure it at the heel)"));
        if (!straight)
            defaults.Add(string.Create(CultureInfo.InvariantCulture, $"curve of the edge: straight to {belly} mm, tip {drop} mm back (chosen from the length; a photo on the mat gives the true one)"));
        return new JsonObject { ["lengthMm"] = lengthMm, ["heightMm"] = height, ["bellyFromMm"] = belly, ["tipDropMm"] = drop };
    }
}
