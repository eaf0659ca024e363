namespace Whetwright.Cli.Tests;

/// <summary>The main job on the sample: one command, all the numbers, three files.</summary>
public sealed class VisitTests
{
    [Fact]
    public void The_sample_visit_writes_the_sheet_and_one_document()
    {
        using Folder folder = new();

        Ran ran = Ran.Command("visit", Ran.Sample("kitchen-knife", "visit.json"), "--out", folder.Place, "--json");

        Assert.Equal(0, ran.Code);
        Assert.Equal(["bench-sheet.html", "bench-sheet.pdf", "visit.json"], Directory.GetFiles(folder.Place).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal).ToArray());
        Assert.Empty(Formats.Tests.SchemaCheck.Of("visit-result").Faults(ran.Out));
        Assert.Equal(ran.Out, File.ReadAllText(Path.Combine(folder.Place, "visit.json")));
        Assert.Equal("%PDF"u8.ToArray(), File.ReadAllBytes(Path.Combine(folder.Place, "bench-sheet.pdf"))[..4]);
        Assert.Contains("K7-204", File.ReadAllText(Path.Combine(folder.Place, "bench-sheet.html")), StringComparison.Ordinal);
        foreach (string part in new[] { "read", "set", "section" })
            Assert.Equal(System.Text.Json.JsonValueKind.Object, ran.Json.GetProperty(part).ValueKind);
        Assert.Equal(2, ran.Json.GetProperty("touch").GetArrayLength());
    }

    [Theory]
    [InlineData("\"heightMm\": 47,", "\"heightMm\": 47,", "deeper-than-blade")]
    [InlineData("\"heightMm\": 47,", "", "too-deep")]
    [InlineData("\"behindEdgeMm\": 0.38,", "", "deeper-than-blade")]
    public void A_chip_that_cannot_be_of_the_blade_is_refused_and_nothing_is_written(string from, string to, string code)
    {
        using Folder folder = new();
        foreach (string file in Directory.GetFiles(Ran.Sample("kitchen-knife")))
            folder.Write(Path.GetFileName(file), File.ReadAllText(file));
        folder.Write("blade.json", File.ReadAllText(Path.Combine(folder.Place, "blade.json")).Replace(from, to, StringComparison.Ordinal));
        folder.Write("visit.json", File.ReadAllText(Path.Combine(folder.Place, "visit.json")).Replace("\"chipMm\": 0.15", "\"chipMm\": 500", StringComparison.Ordinal));

        Ran ran = Ran.Command("visit", Path.Combine(folder.Place, "visit.json"), "--out", Path.Combine(folder.Place, "out"), "--json");

        Assert.Equal(3, ran.Code);
        Assert.Contains(code, ran.Out, StringComparison.Ordinal);
        Assert.Contains("chipMm = 500", ran.Err, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(folder.Place, "out")));
    }

    [Fact]
    public void The_tables_show_reading_setting_plot_section_and_pen_test_with_the_numbers_of_the_document()
    {
        using Folder folder = new();

        Ran text = Ran.Command("visit", Ran.Sample("kitchen-knife", "visit.json"), "--out", folder.Place);
        Ran json = Ran.Command("visit", Ran.Sample("kitchen-knife", "visit.json"), "--out", folder.Place, "--json");

        foreach (string part in new[] { "Reading", "Setting", "angle along the edge", "Section", "Pen test", "Measure next", "Written" })
            Assert.Contains(part, text.Out, StringComparison.Ordinal);
        double bar = json.Json.GetProperty("set").GetProperty("clamps")[0].GetProperty("settings")[0].GetProperty("barFarSideToWheelMm").GetDouble();
        Assert.Contains(bar.ToString("F2", System.Globalization.CultureInfo.InvariantCulture) + " mm", text.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_rod_whose_jaw_nobody_described_moves_up_and_the_sheet_gives_its_pivot_and_no_jaw()
    {
        using Folder folder = new();
        foreach (string file in Directory.GetFiles(Ran.Sample("kitchen-knife")))
            folder.Write(Path.GetFileName(file), File.ReadAllText(file));
        folder.Write("rig.json", """
            { "kind": "guided-rod", "faceOffsetMm": 8, "pivotHeightMm": [20, 120], "pivotXMm": [20, 180], "pivotDistanceMm": [90, 220], "now": { "pivotHeightMm": 50 } }
            """);

        Ran ran = Ran.Command("visit", Path.Combine(folder.Place, "visit.json"), "--out", Path.Combine(folder.Place, "out"));

        Assert.Equal(0, ran.Code);
        string sheet = File.ReadAllText(Path.Combine(folder.Place, "out", "bench-sheet.html"));
        Assert.Matches(@"from now: \+[0-9.]+ mm up", sheet);
        Assert.Contains("jaw not described: pivot", sheet, StringComparison.Ordinal);
        Assert.DoesNotContain("edge out of the jaw", sheet, StringComparison.Ordinal);
    }
}
