using System.Text.Json;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>The photographs of known truth that lie beside the repository; tests that need them skip visibly where they are absent.</summary>
internal sealed record SharedPhoto(string Folder)
{
    public static string? Root
    {
        get
        {
            for (DirectoryInfo? d = new(AppContext.BaseDirectory); d is not null; d = d.Parent)
            {
                string photos = Path.Combine(d.FullName, "shared", "photos");
                if (File.Exists(Path.Combine(photos, "target.json")))
                    return photos;
            }

            return null;
        }
    }

    public string Target => Path.Combine(Root!, "target.json");

    public string Lit => Path.Combine(Folder, "photo.jpg");

    public string Dark => Path.Combine(Folder, "photo_dark.jpg");

    public string Turned => Path.Combine(Folder, "photo_turned.jpg");

    public double IncludedDeg => Report.GetProperty("included_deg").GetDouble();

    public string NominalMm => Read("input.json").GetProperty("L_nominal_mm").GetRawText();

    private JsonElement Report => Read("truth.json").GetProperty("report");

    public static SharedPhoto Named(string name)
    {
        Assert.SkipWhen(Root is null, "The shared photographs are not beside the repository.");
        return new(Path.Combine(Root!, name));
    }

    public double AsReadDeg(string side) => Report.GetProperty("edge_bevel_as_read_deg").GetProperty(side == "left" ? "L" : "R").GetDouble();

    private JsonElement Read(string file)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, file)));
        return document.RootElement.Clone();
    }
}
