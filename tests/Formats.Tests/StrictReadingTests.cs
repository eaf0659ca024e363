using Whetwright.Core.Blades;
using Whetwright.Core.Sections;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats.Tests;

/// <summary>Files are read strictly: what is wrong is named by its path, its value, and what would be right.</summary>
public sealed class StrictReadingTests
{
    private const string Good = """{ "behindEdgeMm": 0.35, "primaryHalfDeg": 2, "old": { "leftDeg": 15, "rightDeg": 15 }, "new": { "leftDeg": 13, "rightDeg": 13 }, "lengthMm": 200 }""";

    [Fact]
    public void A_good_file_is_read() => Assert.IsType<FormatOutcome<SectionInput>.Read>(SectionFormat.Read(Good));

    [Theory]
    [InlineData("\"behindEdgeMm\": 0.35", "\"behindEgdeMm\": 0.35", "$.behindEgdeMm", "did you mean behindEdgeMm")]
    [InlineData("\"leftDeg\": 15", "\"leftDegree\": 15", "$.old.leftDegree", "did you mean leftDeg")]
    [InlineData("0.35", "-0.35", "$.behindEdgeMm", "above 0")]
    [InlineData("0.35", "true", "$.behindEdgeMm", "a number")]
    [InlineData("0.35", "\"NaN\"", "$.behindEdgeMm", "not a finite number")]
    [InlineData("0.35", "1e999", "$.behindEdgeMm", "a number")]
    [InlineData("0.35", "\"12..5\"", "$.behindEdgeMm", "12.5")]
    [InlineData("200", "\"1,000\"", "$.lengthMm", "may be 1 or 1000")]
    [InlineData("200", "\"8 furlong\"", "$.lengthMm", "unknown unit")]
    [InlineData(", \"lengthMm\": 200", "", "$.lengthMm", "missing")]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": 200, \"lengthMm\": 210", "$.lengthMm", "twice")]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": 200, \"until\": \"ful\"", "$.until", "did you mean \"full\"")]
    [InlineData("{ \"leftDeg\": 13, \"rightDeg\": 13 }", "13", "$.new", "an object")]
    [InlineData("\"lengthMm\": 200", "\"lengthMm\": 200, \"formatVersion\": 9", "$.formatVersion", "reads version 1")]
    public void A_fault_is_named(string from, string to, string path, string named)
    {
        IReadOnlyList<FormatError> errors = Refused(SectionFormat.Read(Good.Replace(from, to, StringComparison.Ordinal)));

        Assert.Contains(errors, e => e.Path == path && e.ToString().Contains(named, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("{ \"lengthMm\": NaN }")]
    [InlineData("{ // no\n }")]
    [InlineData("{ \"lengthMm\": 1, }")]
    public void What_is_not_plain_JSON_is_refused_with_its_place(string json) =>
        Assert.Contains("line", Assert.Single(Refused(SectionFormat.Read(json))).Text, StringComparison.Ordinal);

    [Fact]
    public void A_list_where_an_object_should_be_is_refused() => Assert.Contains(Refused(SectionFormat.Read("[]")), e => e.Path == "$");

    [Fact]
    public void All_faults_are_told_at_once() =>
        Assert.True(Refused(SectionFormat.Read("""{ "behindEdgeMm": -1, "primaryHalfDeg": 99, "colour": 1 }""")).Count >= 6);

    [Theory]
    [InlineData("\"12,5\"", 12.5)]
    [InlineData("12.5", 12.5)]
    [InlineData("\"3/8 in\"", 9.525)]
    [InlineData("\"1 1/2 in\"", 38.1)]
    [InlineData("\"14 cm\"", 140)]
    public void A_length_may_be_a_number_or_a_typed_text(string typed, double mm)
    {
        var read = Assert.IsType<FormatOutcome<SectionInput>.Read>(SectionFormat.Read(Good.Replace("200", typed, StringComparison.Ordinal)));

        Assert.Equal(mm, read.Value.LengthMm, 10);
    }

    [Fact]
    public void An_angle_may_be_typed_in_minutes()
    {
        var read = Assert.IsType<FormatOutcome<SectionInput>.Read>(SectionFormat.Read(Good.Replace("\"leftDeg\": 15", "\"leftDeg\": \"15°30′\"", StringComparison.Ordinal)));

        Assert.Equal(15.5, read.Value.Old.LeftDeg, 10);
    }

    [Theory]
    [InlineData("""{ "edgeMm": [] }""", "edgeMm")]
    [InlineData("""{ "edgeMm": [[0,0],[100,0],[50,10],[50,-10]] }""", "edgeMm")]
    [InlineData("""{ "edgeMm": [[0,0],[1]] }""", "edgeMm[1]")]
    [InlineData("""{ "edgeMm": [[0,0],[100,"NaN"]] }""", "edgeMm[1][1]")]
    [InlineData("""{ }""", "edgeMm")]
    [InlineData("""{ "edgeMm": [[0,0],[90,0]], "shape": { "lengthMm": 1, "heightMm": 1, "bellyFromMm": 0, "tipDropMm": 0 } }""", "edgeMm")]
    [InlineData("""{ "shape": { "lengthMm": -90, "heightMm": 20, "bellyFromMm": 50, "tipDropMm": 5 } }""", "shape.lengthMm")]
    [InlineData("""{ "edgeMm": [[0,0],[90,0]], "spineMm": 1, "behindEdgeMm": 2 }""", "behindEdgeMm")]
    [InlineData("""{ "edgeMm": [[0,0],[90,0]], "kind": "doubel-bevel" }""", "kind")]
    public void A_blade_that_cannot_be_is_refused_by_field(string json, string field) =>
        Assert.Contains(Refused(BladeFormat.Read(json)), e => e.Path.StartsWith("$." + field, StringComparison.Ordinal));

    [Fact]
    public void An_outline_is_shifted_to_begin_at_the_heel()
    {
        var read = Assert.IsType<FormatOutcome<Blade>.Read>(BladeFormat.Read("""{ "edgeMm": [[10,5],["110 mm",5]] }"""));

        Assert.Equal(0, read.Value.Edge.Heel.X, 9);
        Assert.Equal(100, read.Value.Edge.LengthMm, 9);
    }

    [Theory]
    [InlineData("""{ "kind": "wheel-and-bar", "wheels": [{ "name": "a", "diameterMm": 250 }], "pivotXMm": [0, 100], "pivotDistanceMm": [60, 100], "pivotHeightMm": [1, 2] }""", "$.pivotHeightMm")]
    [InlineData("""{ "kind": "wheel-and-bar", "wheels": [], "pivotXMm": [0, 100], "pivotDistanceMm": [60, 100] }""", "$.wheels")]
    [InlineData("""{ "kind": "wheel-and-bar", "wheels": [{ "name": "a", "diameterMm": 250, "rpms": 1 }], "pivotXMm": [0, 100], "pivotDistanceMm": [60, 100] }""", "$.wheels[0].rpms")]
    [InlineData("""{ "kind": "wheel-and-bar", "wheels": [{ "name": "a", "diameterMm": 250 }], "pivotXMm": [100, 0], "pivotDistanceMm": [60, 100] }""", "$.pivotXMm")]
    [InlineData("""{ "kind": "wheel" }""", "$.kind")]
    [InlineData("""{ "kind": "guided-rod", "pivotXMm": [0, 100], "pivotDistanceMm": [60, 100] }""", "$.pivotHeightMm")]
    public void A_rig_that_cannot_be_is_refused_by_field(string json, string path) =>
        Assert.Contains(Refused(RigFormat.Read(json)), e => e.Path == path);

    private static IReadOnlyList<FormatError> Refused<T>(FormatOutcome<T> outcome) => Assert.IsType<FormatOutcome<T>.Refused>(outcome).Errors;
}
