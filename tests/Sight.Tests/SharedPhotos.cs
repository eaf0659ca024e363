using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

/// <summary>The photographs of known truth that lie beside the repository; tests that need them skip visibly where they are absent.</summary>
internal sealed record SharedScene(string Folder, JsonElement Truth, JsonElement Input)
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

    public static SharedScene Open(string name)
    {
        string? root = Root;
        Assert.SkipWhen(root is null, "The shared photographs are not beside the repository.");
        string folder = Path.Combine(root!, name);
        JsonElement Read(string file) => JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, file))).RootElement;
        return new(folder, Read("truth.json"), Read("input.json"));
    }

    public double Included => Truth.GetProperty("report").GetProperty("included_deg").GetDouble();

    public double AsRead(Side side) => Truth.GetProperty("report").GetProperty("edge_bevel_as_read_deg").GetProperty(side == Side.Left ? "L" : "R").GetDouble();

    public double True(Side side) => Truth.GetProperty("report").GetProperty("edge_bevel_deg").GetProperty(side == Side.Left ? "L" : "R").GetDouble();

    public static TargetSheet Target(string root)
    {
        using JsonDocument json = JsonDocument.Parse(File.ReadAllText(Path.Combine(root, "target.json")));
        JsonElement e = json.RootElement;
        static double[] Numbers(JsonElement a) => [.. a.EnumerateArray().Select(x => x.GetDouble())];
        double[] field = Numbers(e.GetProperty("spotFieldMm"));
        double[] size = Numbers(e.GetProperty("sizeMm"));
        double[] zero = Numbers(e.GetProperty("zeroMm"));
        return new()
        {
            Paper = e.GetProperty("paper").GetString()!,
            SizeMm = new(size[0], size[1]),
            ZeroMm = new(zero[0], zero[1]),
            SpotFieldMm = new(field[0], field[1], field[2], field[3]),
            DistanceMm = e.GetProperty("distanceMm").GetDouble(),
            Fiducials = [.. e.GetProperty("fiducials").EnumerateArray().Select(f => new SheetFiducial(
                f.GetProperty("id").GetInt32(),
                [.. f.GetProperty("cornersMm").EnumerateArray().Select(c => new Point2(c[0].GetDouble(), c[1].GetDouble()))]))],
        };
    }

    public PhotoReading Read(bool dark = false, bool turned = false, bool off = false, bool tellColour = true)
    {
        Picture Open(string name) => Picture.Read(Path.Combine(Folder, name));
        using Picture lit = Open("photo.jpg");
        using Picture? darkPhoto = dark ? Open("photo_dark.jpg") : null;
        using Picture? offPhoto = off ? Open("photo_off.jpg") : null;
        using Picture? turnedPhoto = turned ? Open("photo_turned.jpg") : null;
        double nominal = Input.GetProperty("L_nominal_mm").GetDouble();
        return PhotoReader.Read(new()
        {
            First = new(lit, darkPhoto, offPhoto),
            Turned = turnedPhoto is null ? null : new(turnedPhoto),
            Target = Target(Root!),
            Tip = TipDirection.Up,
            Distance = MeasuredLength.FromMillimetres(nominal, 0.01 * nominal),
            Laser = !tellColour ? LaserColour.Unknown : Input.GetProperty("laser_colour").GetString() == "red" ? LaserColour.Red : LaserColour.Green,
        });
    }
}
