using System.Text.Json;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Tests;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>trace: the contract's document from the sample photographs (rendered, truth in samples/mats/README.md).</summary>
[PictureLibrary]
public sealed class TraceTests
{
    private static readonly string Photo = Ran.Sample("mats", "photo.jpg");
    private static readonly string Mat = Ran.Sample("mats", "mat.json");

    [Fact]
    public void A_told_edge_height_gives_the_blade_in_millimetres_and_a_blade_file()
    {
        using Folder folder = new();
        string file = Path.Combine(folder.Place, "blade.json");

        Ran ran = Ran.Command("trace", Photo, "--mat", Mat, "--edge-height-mm", "0,9", "--blade", file, "--json", "--explain");

        Assert.Equal(0, ran.Code);
        Assert.Empty(SchemaCheck.Of("trace-result").Faults(ran.Out));
        JsonElement json = ran.Json;
        Assert.Equal("traced", json.GetProperty("outcome").GetString());
        Assert.InRange(json.GetProperty("lengthMm").GetDouble(), 182.3 - 0.8, 182.3 + 0.8);
        Assert.Equal(0.9, json.GetProperty("edgeHeightMm").GetDouble(), 1e-9);
        Assert.Equal(0, json.GetProperty("edgeMm")[0][0].GetDouble(), 1e-9);
        Assert.True(json.GetProperty("edgeOnMatMm").GetArrayLength() > 50);
        string blade = File.ReadAllText(file);
        Assert.Empty(SchemaCheck.Of("blade").Faults(blade));
        Core.Blades.Blade read = Assert.IsType<FormatOutcome<Core.Blades.Blade>.Read>(BladeFormat.Read(blade)).Value;
        Assert.Equal("photo", read.Name);
    }

    [Fact]
    public void The_annotated_photo_is_written_as_a_picture_and_never_over_the_photo_itself()
    {
        using Folder folder = new();
        string file = Path.Combine(folder.Place, "drawn.png");

        Ran ran = Ran.Command("trace", Photo, "--mat", Mat, "--annotate", file, "--json");

        Assert.Equal(0, ran.Code);
        Assert.Equal([0x89, 0x50, 0x4E, 0x47], File.ReadAllBytes(file)[..4]);
        Assert.Contains("drawn.png", ran.Err, StringComparison.Ordinal);
        Ran wrong = Ran.Command("trace", Photo, "--mat", Mat, "--annotate", Path.ChangeExtension(file, ".jpg"));
        Assert.Equal(2, wrong.Code);
        Assert.Contains(".png", wrong.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--edge")]
    [InlineData("--heel")]
    public void The_sides_of_the_mat_that_edge_and_heel_point_to_are_asked_for_in_words_that_are_right(string option)
    {
        Ran ran = Ran.Command("trace", Photo, "--mat", Mat, option, "north");

        Assert.Equal(2, ran.Code);
        Assert.Contains(option + " is north", ran.Err, StringComparison.Ordinal);
        Assert.Contains("top, bottom, left or right", ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void One_photo_without_a_height_carries_the_doubt()
    {
        JsonElement json = Ran.Command("trace", Photo, "--mat", Mat, "--json").Json;

        Assert.Equal(JsonValueKind.Null, json.GetProperty("edgeHeightMm").ValueKind);
        Assert.True(json.GetProperty("edgeHeightUMm").GetDouble() > 0.5);
        Assert.Contains(json.GetProperty("reasons").EnumerateArray(), r => r.GetProperty("code").GetString() == "edge-height-unknown");
    }

    [Fact]
    public void Two_photos_measure_the_height()
    {
        JsonElement json = Ran.Command("trace", Photo, Ran.Sample("mats", "photo2.jpg"), "--mat", Mat, "--json").Json;

        Assert.InRange(json.GetProperty("edgeHeightMm").GetDouble(), 0.2, 1.6);
    }

    [Fact]
    public void A_photo_without_the_mat_is_refused_with_3_the_document_and_no_blade_file()
    {
        using Folder folder = new();
        string file = Path.Combine(folder.Place, "blade.json");

        Ran ran = Ran.Command("trace", Ran.Sample("photos", "normal", "photo.jpg"), "--mat", Mat, "--blade", file, "--json");

        Assert.Equal(3, ran.Code);
        Assert.Empty(SchemaCheck.Of("trace-result").Faults(ran.Out));
        Assert.Equal("too-few-fiducials", ran.Json.GetProperty("reasons")[0].GetProperty("code").GetString());
        Assert.False(File.Exists(file));
    }

    [Theory]
    [InlineData("--mat is missing", "PHOTO")]
    [InlineData("did you mean sizeMm", "PHOTO", "--mat", "WRONG")]
    [InlineData("--edge-height-mm is -1", "PHOTO", "--mat", "MAT", "--edge-height-mm", "-1")]
    [InlineData("--spine-mm is 0", "PHOTO", "--mat", "MAT", "--spine-mm", "0")]
    [InlineData("at most half its spine, 1.2 mm", "PHOTO", "--mat", "MAT", "--spine-mm", "2.4", "--on-flank", "--edge-height-mm", "2")]
    [InlineData("no such file", "absent.jpg", "--mat", "MAT")]
    [InlineData("ends in .json", "PHOTO", "--mat", "MAT", "--blade", "PHOTO")]
    public void Arguments_that_do_not_fit_end_with_2_and_say_what_would(string says, params string[] args)
    {
        using Folder folder = new();
        string wrong = folder.Write("mat.json", File.ReadAllText(Mat).Replace("\"sizeMm\"", "\"sizMm\"", StringComparison.Ordinal));

        Ran ran = Ran.Command(["trace", .. args.Select(a => a switch { "PHOTO" => Photo, "MAT" => Mat, "WRONG" => wrong, _ => a })]);

        Assert.Equal(2, ran.Code);
        Assert.Contains(says, ran.Err, StringComparison.Ordinal);
    }
}
