using System.Text.Json;
using Whetwright.Formats.Tests;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>The sample photographs (rendered, truth in samples/photos/README.md) work in a fresh clone.</summary>
[PictureLibrary]
public sealed class SamplePhotoTests
{
    private const double IncludedDeg = 19.97;

    private static readonly string[] First = ["read", Ran.Sample("photos", "normal", "photo.jpg"), "--target", Ran.Sample("photos", "target.json"), "--json"];

    [Fact]
    public void One_lit_photo_gives_the_included_angle_and_says_that_nobody_measured_the_distance()
    {
        Ran ran = Ran.Command(First);

        Assert.Equal(0, ran.Code);
        Assert.InRange(ran.Json.GetProperty("includedDeg").GetDouble(), IncludedDeg - 0.4, IncludedDeg + 0.4);
        Assert.Contains(ran.Json.GetProperty("reasons").EnumerateArray(), r => r.GetProperty("code").GetString() == "distance-default");
    }

    [Fact]
    public void With_the_turned_photo_the_sides_lie_within_their_uncertainty()
    {
        Ran ran = Ran.Command([.. First, "--dark", Ran.Sample("photos", "normal", "photo_dark.jpg"), "--turned", Ran.Sample("photos", "normal", "photo_turned.jpg"), "--tip", "up", "--explain"]);

        JsonElement[] sides = [.. ran.Json.GetProperty("sides").EnumerateArray()];
        Assert.InRange(sides[0].GetProperty("edgeDeg").GetDouble(), 9.63 - 0.4, 9.63 + 0.4);
        Assert.InRange(sides[1].GetProperty("edgeDeg").GetDouble(), 10.34 - 0.4, 10.34 + 0.4);
        Assert.Empty(SchemaCheck.Of("read-result").Faults(ran.Out));
        Assert.True(ran.Json.GetProperty("explain").GetArrayLength() > 0);
    }

    [Fact]
    public void The_sample_target_is_what_the_verb_writes()
    {
        using Folder folder = new();
        Ran.Command("target", "--paper", "a4", "--distance-mm", "100", "--out", Path.Combine(folder.Place, "t.pdf"));

        JsonElement sample = Json(Ran.Sample("photos", "target.json")), written = Json(Path.Combine(folder.Place, "t.json"));

        Assert.All(written.EnumerateObject(), p => Assert.Equal(p.Value.GetRawText(), sample.GetProperty(p.Name).GetRawText()));
    }

    [Fact]
    public void A_visit_takes_photos_in_place_of_marks()
    {
        using Folder folder = new();

        Ran ran = Ran.Command("visit", Ran.Sample("photos", "visit.json"), "--out", folder.Place, "--json");

        Assert.Equal(0, ran.Code);
        Assert.Empty(SchemaCheck.Of("visit-result").Faults(ran.Out));
        Assert.Empty(SchemaCheck.Of("visit").Faults(File.ReadAllText(Ran.Sample("photos", "visit.json"))));
        Assert.InRange(ran.Json.GetProperty("read").GetProperty("includedDeg").GetDouble(), IncludedDeg - 0.4, IncludedDeg + 0.4);
        Assert.Equal(2, ran.Json.GetProperty("touch").GetArrayLength());
        Assert.True(File.Exists(Path.Combine(folder.Place, "bench-sheet.pdf")));
    }

    [Theory]
    [InlineData("\"lit\": \"normal/photo.jpg\"", "\"lit\": \"normal/absent.jpg\"", "no such file")]
    [InlineData("\"lit\": \"normal/photo.jpg\",", "", "$.photos.lit")]
    [InlineData("\"tip\": \"up\"", "\"tip\": \"left\"", "$.photos.tip")]
    [InlineData("\"turned\":", "\"trned\":", "did you mean turned")]
    [InlineData("\"blade\":", "\"marks\": \"marks.json\", \"blade\":", "one of the two")]
    public void Photos_of_a_visit_that_cannot_be_are_wrong_input(string from, string to, string says)
    {
        using Folder folder = new();
        string file = folder.Write("visit.json", File.ReadAllText(Ran.Sample("photos", "visit.json"))
            .Replace("../", Ran.Sample() + "/", StringComparison.Ordinal).Replace("\"target\": \"", "\"target\": \"" + Ran.Sample("photos") + "/", StringComparison.Ordinal)
            .Replace(from, to, StringComparison.Ordinal).Replace("\"normal/", "\"" + Ran.Sample("photos") + "/normal/", StringComparison.Ordinal));

        Ran ran = Ran.Command("visit", file, "--out", folder.Place);

        Assert.Equal(2, ran.Code);
        Assert.Contains(says, ran.Err, StringComparison.Ordinal);
    }

    private static JsonElement Json(string path)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(path));
        return document.RootElement.Clone();
    }
}
