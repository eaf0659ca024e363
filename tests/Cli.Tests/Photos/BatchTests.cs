using Whetwright.Cli.Photos;
using Whetwright.Formats.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>read --batch: a row for every photo, whatever became of it.</summary>
public sealed class BatchTests
{
    [Theory]
    [InlineData("plain", "plain")]
    [InlineData("=1+1.jpg", "\"'=1+1.jpg\"")]
    [InlineData("+a", "\"'+a\"")]
    [InlineData("-a", "\"'-a\"")]
    [InlineData("@a", "\"'@a\"")]
    [InlineData("a, \"b\"", "\"a, \"\"b\"\"\"")]
    public void A_text_cell_is_never_a_formula(string text, string cell) => Assert.Equal(cell, BatchCsv.Text(text));

    [Fact]
    public void Where_none_can_be_read_the_table_says_why_and_it_ends_with_3()
    {
        using Folder folder = new();
        Ran.Command("target", "--out", Path.Combine(folder.Place, "target.pdf"));
        folder.Write("=cmd.jpg", "words");
        folder.Write("old.heic", "\0\0\0\u0018ftypheic\0\0\0\0");
        Directory.CreateDirectory(Path.Combine(folder.Place, "knife"));
        folder.Write(Path.Combine("knife", "photo.jpg"), "");
        folder.Write(Path.Combine("knife", "photo_dark.jpg"), "");
        folder.Write(Path.Combine("knife", "other.jpg"), "");
        string csv = Path.Combine(folder.Place, "out.csv");

        Ran ran = Ran.Command("read", "--batch", folder.Place, "--csv", csv, "--target", Path.Combine(folder.Place, "target.json"), "--json");

        Assert.Equal(3, ran.Code);
        Assert.Empty(SchemaCheck.Of("batch-result").Faults(ran.Out));
        string[] rows = File.ReadAllText(csv).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(4, rows.Length);
        Assert.StartsWith("photo,outcome,includedDeg,includedUDeg,leftBlade", rows[0], StringComparison.Ordinal);
        Assert.StartsWith("\"'=cmd.jpg\",refused,", rows[1], StringComparison.Ordinal);
        Assert.Contains("picture-heic", rows[2], StringComparison.Ordinal);
        Assert.StartsWith("knife,refused,", rows[3], StringComparison.Ordinal);
        Assert.Contains("3 of 3", ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void One_photo_read_among_refused_ones_ends_with_0()
    {
        SharedPhoto photo = SharedPhoto.Named("easy_202");
        using Folder folder = new();
        File.Copy(photo.Lit, Path.Combine(folder.Place, "knife.jpg"));
        folder.Write("words.jpg", "words");
        string csv = Path.Combine(folder.Place, "out.csv");

        Ran ran = Ran.Command("read", "--batch", folder.Place, "--csv", csv, "--target", photo.Target, "--distance-mm", photo.NominalMm);

        Assert.Equal(0, ran.Code);
        string[] row = File.ReadAllText(csv).Split("\r\n")[1].Split(',');
        Assert.Equal("knife.jpg", row[0]);
        Assert.Equal("read", row[1]);
        Assert.InRange(double.Parse(row[2], System.Globalization.CultureInfo.InvariantCulture), photo.IncludedDeg - 0.4, photo.IncludedDeg + 0.4);
    }

    [Fact]
    public void A_folder_without_photos_is_wrong_input()
    {
        using Folder folder = new();
        Ran.Command("target", "--out", Path.Combine(folder.Place, "target.pdf"));

        Ran ran = Ran.Command("read", "--batch", folder.Place, "--csv", Path.Combine(folder.Place, "o.csv"), "--target", Path.Combine(folder.Place, "target.json"));

        Assert.Equal(2, ran.Code);
        Assert.False(File.Exists(Path.Combine(folder.Place, "o.csv")));
    }
}
