using System.Text.Json;
using Whetwright.Formats.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>target and mat: two files each, the description as its schema says.</summary>
public sealed class SheetCommandTests
{
    [Theory]
    [InlineData("a4", "297")]
    [InlineData("A3", "420")]
    [InlineData("letter", "279.4")]
    [InlineData("tabloid", "431.8")]
    public void Target_writes_the_sheet_and_its_description(string paper, string width)
    {
        using Folder folder = new();
        string pdf = Path.Combine(folder.Place, "mine.pdf");

        Ran ran = Ran.Command("target", "--paper", paper, "--distance-mm", "80,5", "--out", pdf, "--json");

        Assert.Equal(0, ran.Code);
        string written = File.ReadAllText(Path.Combine(folder.Place, "mine.json"));
        Assert.Equal(written, ran.Out);
        Assert.Empty(SchemaCheck.Of("target").Faults(written));
        Assert.Equal(width, ran.Json.GetProperty("sizeMm")[0].GetRawText());
        Assert.Equal(80.5, ran.Json.GetProperty("distanceMm").GetDouble());
        Assert.Equal("%PDF"u8.ToArray(), File.ReadAllBytes(pdf)[..4]);
    }

    [Fact]
    public void Measured_check_lines_become_the_print_scale()
    {
        using Folder folder = new();

        Ran ran = Ran.Command("target", "--across-mm", "99.6", "--down-mm", "99,8", "--out", Path.Combine(folder.Place, "t.pdf"), "--json");

        JsonElement scale = ran.Json.GetProperty("printScale");
        Assert.Equal(0.996, scale[0].GetDouble(), 1e-9);
        Assert.Equal(0.998, scale[1].GetDouble(), 1e-9);
    }

    [Theory]
    [InlineData(1, 10)]
    [InlineData(3, 30)]
    public void Mat_writes_one_page_per_sheet_and_one_description(int sheets, int fiducials)
    {
        using Folder folder = new();

        Ran ran = Ran.Command("mat", "--paper", "a4", "--sheets", $"{sheets}", "--out", Path.Combine(folder.Place, "mat.pdf"), "--json");

        Assert.Equal(0, ran.Code);
        Assert.Empty(SchemaCheck.Of("mat").Faults(File.ReadAllText(Path.Combine(folder.Place, "mat.json"))));
        Assert.Equal(fiducials, ran.Json.GetProperty("fiducials").GetArrayLength());
    }

    [Fact]
    public void A_plain_mat_is_the_same_sheet_without_its_fine_lines()
    {
        using Folder folder = new();
        (string ruled, string plain) = (Path.Combine(folder.Place, "ruled.pdf"), Path.Combine(folder.Place, "plain.pdf"));

        Ran with = Ran.Command("mat", "--out", ruled, "--json");
        Ran without = Ran.Command("mat", "--plain", "--out", plain, "--json");

        Assert.Equal((0, 0), (with.Code, without.Code));
        Assert.Equal(with.Out, without.Out);
        Assert.True(new FileInfo(plain).Length < new FileInfo(ruled).Length, "The plain mat draws as much as the ruled one.");
    }

    [Theory]
    [InlineData("--paper", "a7")]
    [InlineData("--distance-mm", "2000")]
    [InlineData("--distance-mm", "1,000")]
    [InlineData("--across-mm", "99.6")]
    [InlineData("--across-mm", "80", "--down-mm", "100")]
    [InlineData("--out", "target.json")]
    public void What_cannot_be_printed_is_refused_and_nothing_is_written(params string[] args)
    {
        using Folder folder = new();
        string[] to = args[0] == "--out" ? ["--out", Path.Combine(folder.Place, args[1])] : [.. args, "--out", Path.Combine(folder.Place, "t.pdf")];

        Ran ran = Ran.Command(["target", .. to]);

        Assert.Equal(2, ran.Code);
        Assert.Contains(args[0], ran.Err, StringComparison.Ordinal);
        Assert.Empty(Directory.GetFiles(folder.Place));
    }

    [Theory]
    [InlineData("0")]
    [InlineData("4")]
    [InlineData("1.5")]
    public void A_mat_has_one_to_three_sheets(string sheets)
    {
        using Folder folder = new();

        Ran ran = Ran.Command("mat", "--sheets", sheets, "--out", Path.Combine(folder.Place, "m.pdf"));

        Assert.Equal(2, ran.Code);
        Assert.Contains("--sheets is " + sheets, ran.Err, StringComparison.Ordinal);
    }
}
