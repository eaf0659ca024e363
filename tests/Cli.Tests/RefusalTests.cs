namespace Whetwright.Cli.Tests;

/// <summary>Bad input and impossible work: the exit code, the field and the remedy, and nothing half-written.</summary>
public sealed class RefusalTests
{
    private const string Rig = """{ "kind": "wheel-and-bar", "wheels": [{ "name": "coarse", "diameterMm": 250 }], "pivotXMm": [30, 190], "pivotDistanceMm": [62, 110] }""";
    private const string Blade = """{ "shape": { "lengthMm": 200, "heightMm": 45, "bellyFromMm": 150, "tipDropMm": 4 }, "primaryHalfDeg": 2 }""";
    private const string Section = """{ "behindEdgeMm": 0.35, "primaryHalfDeg": 2, "old": { "leftDeg": 15, "rightDeg": 15 }, "new": { "leftDeg": 13, "rightDeg": 13 }, "lengthMm": 200, "heightMm": 40 }""";

    [Theory]
    [InlineData("section")]
    [InlineData("nonsense")]
    [InlineData("set", "blade.json")]
    [InlineData("read", "--mraks", "x")]
    [InlineData("section", "x.json", "--units", "furlong")]
    [InlineData("section", "no-such-file.json")]
    [InlineData("read")]
    [InlineData]
    public void Wrong_arguments_end_with_2_and_say_so_on_standard_error(params string[] args)
    {
        Ran ran = Ran.Command(args);

        Assert.Equal(2, ran.Code);
        Assert.Equal("", ran.Out);
        Assert.True(ran.Err.Length > 10);
    }

    [Fact]
    public void A_mistyped_option_is_answered_with_the_nearest_one() =>
        Assert.Contains("--marks", Ran.Command("read", "--mraks", "x").Err, StringComparison.Ordinal);

    [Theory]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": -200", "$.lengthMm is -200")]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": \"NaN\"", "not a finite number")]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": NaN", "not valid JSON")]
    [InlineData("\"lengthMm\": 200", "\"lenghtMm\": 200", "did you mean lengthMm")]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": \"1,000\"", "may be 1 or 1000")]
    public void Wrong_input_ends_with_2_and_names_field_and_remedy(string from, string to, string named)
    {
        Ran ran = Ran.WithInput(Section.Replace(from, to, StringComparison.Ordinal), "section", "-", "--json");

        Assert.Equal(2, ran.Code);
        Assert.Equal("", ran.Out);
        Assert.Contains(named, ran.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"leftDeg\": 13", "\"leftDeg\": 1.5", "facet flatter than the flank")]
    [InlineData("\"heightMm\": 40", "\"heightMm\": 40, \"chipMm\": 41", "chip deeper than the blade")]
    [InlineData(", \"heightMm\": 40", ", \"chipMm\": 500", "chip that is no sharpening, height not known")]
    [InlineData(", \"heightMm\": 40", ", \"recessionMm\": 78", "recession that is no sharpening, height not known")]
    [InlineData("{ \"leftDeg\": 13, \"rightDeg\": 13 }", "{ \"leftDeg\": 17, \"rightDeg\": 17 }", "steeper, and not said what for")]
    public void Impossible_sections_end_with_2_or_3_and_reasons(string from, string to, string because)
    {
        Ran ran = Ran.WithInput(Section.Replace(from, to, StringComparison.Ordinal), "section", "-", "--json");

        Assert.True(ran.Code is 2 or 3, because);
        Assert.True(ran.Err.Length > 20, because);
        if (ran.Code == 3)
        {
            Assert.Equal("refused", ran.Json.GetProperty("outcome").GetString());
            Assert.True(ran.Json.GetProperty("reasons").GetArrayLength() > 0);
        }
    }

    [Fact]
    public void Marks_that_contradict_each_other_are_refused_and_the_JSON_is_still_printed()
    {
        const string marks = """{ "scale": "bevel", "resolutionDeg": 0.5, "mounts": [ { "tip": "up", "left": { "edge": [5], "primary": [14] }, "right": { "edge": [5], "primary": [14] } } ] }""";
        Ran ran = Read(marks);

        Assert.Equal(3, ran.Code);
        Assert.Equal("refused", ran.Json.GetProperty("outcome").GetString());
        Assert.True(ran.Json.GetProperty("reasons").GetArrayLength() > 0);
    }

    [Fact]
    public void One_side_alone_is_done_and_not_refused()
    {
        Ran ran = Read("""{ "scale": "bevel", "resolutionDeg": 0.5, "mounts": [ { "tip": "up", "left": { "edge": [15] } } ] }""");

        Assert.Equal(0, ran.Code);
        Assert.Equal("one-side", ran.Json.GetProperty("outcome").GetString());
    }

    [Theory]
    [InlineData("""{ "edgeMm": [] }""")]
    [InlineData("""{ "edgeMm": [[0,0],[100,0],[50,10],[50,-10]] }""")]
    [InlineData("""{ "edgeMm": [[0,0],[100,"NaN"]] }""")]
    [InlineData("""{ "edgeMm": [[0,0],[100,0]], "colour": "red" }""")]
    public void An_outline_that_cannot_be_is_wrong_input(string blade)
    {
        using Folder folder = new();
        Ran ran = Ran.Command("set", folder.Write("b.json", blade), "--rig", folder.Write("r.json", Rig), "--angle-deg", "15");

        Assert.Equal(2, ran.Code);
        Assert.Equal("", ran.Out);
    }

    [Theory]
    [InlineData("1,000", "may be 1 or 1000")]
    [InlineData("12..5", "12..5")]
    [InlineData("-3", "above 0")]
    [InlineData("NaN", "NaN")]
    public void An_angle_that_is_no_angle_is_wrong_input(string angle, string named)
    {
        using Folder folder = new();
        Ran ran = Ran.Command("set", folder.Write("b.json", Blade), "--rig", folder.Write("r.json", Rig), "--angle-deg", angle);

        Assert.Equal(2, ran.Code);
        Assert.Contains("--angle-deg", ran.Err, StringComparison.Ordinal);
        Assert.Contains(named, ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void A_comma_decimal_is_the_same_as_a_point_and_never_ten_times_as_much()
    {
        using Folder folder = new();
        string blade = folder.Write("b.json", Blade), rig = folder.Write("r.json", Rig);

        Ran comma = Ran.Command("set", blade, "--rig", rig, "--angle-deg", "12,5", "--json");
        Ran point = Ran.Command("set", blade, "--rig", rig, "--angle-deg", "12.5", "--json");

        Assert.Equal(0, comma.Code);
        Assert.Equal(point.Out, comma.Out);
        Assert.Equal(12.5, comma.Json.GetProperty("clamps")[0].GetProperty("settings")[0].GetProperty("wantedDeg").GetDouble(), 9);
    }

    [Fact]
    public void Flatter_than_the_flank_is_refused_with_the_JSON_printed()
    {
        using Folder folder = new();
        Ran ran = Ran.Command("set", folder.Write("b.json", Blade), "--rig", folder.Write("r.json", Rig), "--angle-deg", "1,5", "--json");

        Assert.Equal(3, ran.Code);
        Assert.Equal("refused", ran.Json.GetProperty("outcome").GetString());
        Assert.Contains("flank", ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bar_distance_without_a_pose_is_refused()
    {
        using Folder folder = new();
        Ran ran = Ran.Command(
            "set", folder.Write("b.json", Blade), "--rig", folder.Write("r.json", Rig), "--angle-deg", "15", "--pivot-mm", "100,-80", "--setting-mm", "600", "--json");

        Assert.Equal(3, ran.Code);
        Assert.True(ran.Json.GetProperty("reasons").GetArrayLength() > 0);
    }

    [Fact]
    public void A_jaw_that_does_not_clear_is_refused()
    {
        using Folder folder = new();
        string rig = folder.Write("r.json", """
            { "kind": "wheel-and-bar", "wheels": [{ "name": "coarse", "diameterMm": 250 }], "pivotXMm": [30, 190], "pivotDistanceMm": [62, 110],
              "jawToPivotMm": 60, "jawDepthMm": 20, "holderHalfThicknessMm": 30, "grip": "self-centring" }
            """);
        Ran ran = Ran.Command("set", folder.Write("b.json", Blade), "--rig", rig, "--angle-deg", "8", "--json");

        Assert.Equal(3, ran.Code);
        Assert.Contains("clear", ran.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void A_refused_visit_writes_no_sheet()
    {
        using Folder folder = new();
        folder.Write("blade.json", Blade);
        folder.Write("rig.json", Rig);
        string visit = folder.Write("visit.json", """{ "blade": "blade.json", "rig": "rig.json", "wish": { "angleDeg": 1 } }""");
        string into = Path.Combine(folder.Place, "out");

        Ran ran = Ran.Command("visit", visit, "--out", into, "--json");

        Assert.Equal(3, ran.Code);
        Assert.Equal("refused", ran.Json.GetProperty("outcome").GetString());
        Assert.False(Directory.Exists(into));
    }

    [Fact]
    public void A_calibration_that_fails_leaves_the_old_file_as_it_was()
    {
        using Folder folder = new();
        string file = folder.Write("instrument.json", """{ "distanceMm": 100 }""");

        Ran ran = Ran.Command("instrument", "step", "--before-mm", "60", "--after-mm", "50", "--step-mm", "100", "--instrument", file, "--out", file);

        Assert.Equal(2, ran.Code);
        Assert.Equal("""{ "distanceMm": 100 }""", File.ReadAllText(file));
        Assert.Equal([file], Directory.GetFiles(folder.Place));
    }

    private static Ran Read(string marks)
    {
        using Folder folder = new();
        return Ran.Command("read", "--marks", folder.Write("marks.json", marks), "--json");
    }
}
