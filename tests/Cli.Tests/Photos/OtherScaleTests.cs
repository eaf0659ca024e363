using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Tests;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>
/// read PHOTO --graduations: the sample photo read as if its sheet had a degree scale and no fiducials. The scale's own law, x = L tan 2θ, says
/// where its graduations lie.
/// </summary>
[PictureLibrary]
public sealed class OtherScaleTests
{
    private static readonly string Photo = Ran.Sample("photos", "normal", "photo.jpg");

    [Fact]
    public void Graduations_pointed_out_read_the_same_edge()
    {
        using Folder folder = new();
        string graduations = Graduations(folder, bare: false);

        Ran ran = Ran.Command("read", Photo, "--graduations", graduations, "--tip", "up", "--json", "--explain");

        Assert.Equal(0, ran.Code);
        Assert.Empty(SchemaCheck.Of("read-result").Faults(ran.Out));
        Assert.Empty(SchemaCheck.Of("graduations").Faults(File.ReadAllText(graduations)));
        Assert.InRange(ran.Json.GetProperty("includedDeg").GetDouble(), 19.97 - 0.8, 19.97 + 0.8);
        JsonElement edge = ran.Json.GetProperty("marks").EnumerateArray().First(m => m.GetProperty("role").GetString() == "edge");
        Assert.Equal(JsonValueKind.Array, edge.GetProperty("photoPx").ValueKind);
    }

    [Fact]
    public void A_bare_list_of_graduations_will_do()
    {
        using Folder folder = new();

        Ran ran = Ran.Command("read", Photo, "--graduations", Graduations(folder, bare: true), "--json");

        Assert.Equal(0, ran.Code);
    }

    [Theory]
    [InlineData("""[{ "px": [1, 2], "deg": 0 }]""", "four or more")]
    [InlineData("""[{ "px": [1, 2], "degs": 0 }, { "px": [2, 2], "deg": 1 }, { "px": [3, 2], "deg": 2 }, { "px": [4, 2], "deg": 3 }]""", "did you mean deg")]
    [InlineData("""[{ "px": [100, 2], "deg": 0 }, { "px": [300, 2], "deg": 1 }, { "px": [200, 2], "deg": 2 }, { "px": [400, 2], "deg": 3 }]""", "which is which")]
    public void Graduations_that_make_no_scale_are_wrong_input(string json, string says)
    {
        using Folder folder = new();

        Ran ran = Ran.Command("read", Photo, "--graduations", folder.Write("g.json", json));

        Assert.Equal(2, ran.Code);
        Assert.Contains(says, ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void Target_and_graduations_do_not_go_together()
    {
        using Folder folder = new();

        Ran ran = Ran.Command("read", Photo, "--graduations", Graduations(folder, bare: true), "--target", Ran.Sample("photos", "target.json"));

        Assert.Equal(2, ran.Code);
        Assert.Contains("--target goes with a printed target", ran.Err, StringComparison.Ordinal);
    }

    private static string Graduations(Folder folder, bool bare)
    {
        TargetSheet sheet = Assert.IsType<FormatOutcome<TargetSheet>.Read>(TargetFormat.Read(File.ReadAllText(Ran.Sample("photos", "target.json")))).Value;
        using Picture photo = Picture.Read(Photo);
        LensMap map = SheetFinder.Find(photo, sheet.Fiducials).Sheet!.Map;
        string list = string.Join(", ", ((double[])[-18, -14, -10, -6, 0, 6, 10, 14, 18]).Select(deg =>
        {
            Point2 px = map.ToPhoto(new(sheet.ZeroMm.X + (sheet.DistanceMm * Math.Tan(double.DegreesToRadians(2 * deg))), sheet.ZeroMm.Y));
            return string.Create(CultureInfo.InvariantCulture, $$"""{ "px": [{{px.X:0.0}}, {{px.Y:0.0}}], "deg": {{deg}} }""");
        }));
        return folder.Write("graduations.json", bare ? $"[{list}]" : $$"""{ "formatVersion": 1, "scale": "bevel", "graduations": [{{list}}] }""");
    }
}
