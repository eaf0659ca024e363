using System.Text.Json;

namespace Whetwright.Accuracy;

/// <summary>One scene on disk in the shared form.</summary>
internal sealed record Scene(string Folder, JsonElement Truth, JsonElement Input)
{
    public string Name => Path.GetFileName(Folder);

    public string Laser => Input.TryGetProperty("laser_colour", out JsonElement e) ? e.GetString() ?? "" : "";

    public double NominalMm => Input.GetProperty("L_nominal_mm").GetDouble();

    public double TrueMm => Truth.GetProperty("L_true_mm").GetDouble();

    public string Beam => Truth.GetProperty("beam").GetProperty("kind").GetString() ?? "";

    public string Difficulty => Truth.TryGetProperty("difficulty", out JsonElement e) ? e.GetString() ?? "" : "";

    public JsonElement Report => Truth.GetProperty("report");

    public JsonElement? Turned => Truth.TryGetProperty("turned", out JsonElement t) && t.ValueKind == JsonValueKind.Object ? t : null;

    public double? Included => Number(Report.GetProperty("included_deg"));

    public bool MayRefuse => Report.GetProperty("may_refuse_included").GetBoolean();

    public bool ShouldRefuse => Report.GetProperty("should_refuse_included").GetBoolean();

    public double? AsRead(string side) => Number(Report.GetProperty("edge_bevel_as_read_deg").GetProperty(side));

    public double? TrueSide(string side) => Number(Report.GetProperty("edge_bevel_deg").GetProperty(side));

    public string? Photo(string name)
    {
        string path = Path.Combine(Folder, name);
        return File.Exists(path) ? path : null;
    }

    public static Scene Read(string folder)
    {
        JsonElement Json(string name) => JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, name))).RootElement;
        return new(folder, Json("truth.json"), Json("input.json"));
    }

    private static double? Number(JsonElement e) => e.ValueKind == JsonValueKind.Number ? e.GetDouble() : null;
}
