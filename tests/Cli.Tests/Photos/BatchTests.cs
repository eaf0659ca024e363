using Whetwright.Cli.Photos;
using Whetwright.Formats.Tests;
using Whetwright.Sight.Tests;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>read --batch: a row for every photo, whatever became of it.</summary>
[PictureLibrary]
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

    [Theory]
    [InlineData("distances.csv", "photo,distanceMm,distanceUMm\nnear.jpg,100,0.2\nfar,118,0.2\n")]
    [InlineData("distances.csv", "photo;distanceMm;distanceUMm\nnear.jpg;100,0;0,2\n\"far.jpg\";118,0;0,2\n")]
    [InlineData("distances.json", """{ "photos": [ { "photo": "near.jpg", "distanceMm": 100, "distanceUMm": 0.2 }, { "photo": "far", "distanceMm": "118", "distanceUMm": 0.2 } ] }""")]
    public void Every_photo_is_read_at_its_own_distance(string file, string text)
    {
        using Folder folder = new();
        foreach (string name in new[] { "near.jpg", "far.jpg", "untold.jpg" })
            File.Copy(Ran.Sample("photos", "normal", "photo.jpg"), Path.Combine(folder.Place, name));
        folder.Write(file, text);
        string csv = Path.Combine(folder.Place, "out", "angles.csv");

        Ran ran = Ran.Command("read", "--batch", folder.Place, "--csv", csv, "--target", Ran.Sample("photos", "target.json"), "--distance-mm", "100", "--distance-u-mm", "0.2");

        Assert.Equal(0, ran.Code);
        double[] included = [.. File.ReadAllLines(csv).Skip(1).Select(row => double.Parse(row.Split(',')[2], System.Globalization.CultureInfo.InvariantCulture))];
        (double far, double near, double untold) = (included[0], included[1], included[2]);
        Assert.Equal(near, untold, 3);
        // The same mark farther away is a smaller angle: tan of it goes as 1/L.
        Assert.InRange(far, near * 100 / 118 * 0.99, near * 100 / 118 * 1.03);
    }

    [Theory]
    [InlineData("distances.csv", "photo,distanceMm\nnaer.jpg,100\n", "naer.jpg is no photo of this folder; near.jpg would be right")]
    [InlineData("distances.csv", "photo,distanceMm\nnear.jpg,-3\n", "line 2, distanceMm is -3")]
    [InlineData("distances.csv", "photo,distanceMm\nnear.jpg,100\nnear,100\n", "stands here twice")]
    [InlineData("distances.csv", "name,mm\nnear.jpg,100\n", "the header photo,distanceMm,distanceUMm would be right")]
    [InlineData("distances.json", """{ "photos": [ { "photo": "other.jpg", "distanceMm": 100 } ] }""", "other.jpg is no photo of this folder")]
    [InlineData("distances.json", """{ "photos": [ { "photo": "near.jpg", "distance": 100 } ] }""", "did you mean distanceMm")]
    public void Distances_that_cannot_be_are_wrong_input_and_nothing_is_written(string file, string text, string says)
    {
        using Folder folder = new();
        folder.Write("near.jpg", "words");
        folder.Write(file, text);
        string csv = Path.Combine(folder.Place, "out.csv");

        Ran ran = Ran.Command("read", "--batch", folder.Place, "--csv", csv, "--target", Ran.Sample("photos", "target.json"));

        Assert.Equal(2, ran.Code);
        Assert.Contains(says, ran.Err, StringComparison.Ordinal);
        Assert.False(File.Exists(csv));
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
