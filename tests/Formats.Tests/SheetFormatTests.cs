using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Reading;

namespace Whetwright.Formats.Tests;

/// <summary>target.json and mat.json: written, read back, any other layout read, damage refused with field and remedy.</summary>
public sealed class SheetFormatTests
{
    [Fact]
    public void A_target_written_is_read_back_the_same()
    {
        TargetSheet sheet = TargetLayout.For(KnownPaperSizes.Letter, Length.FromMillimetres(120)).Sheet with { PrintScale = new(0.995, 1.002) };

        TargetSheet back = Assert.IsType<FormatOutcome<TargetSheet>.Read>(TargetFormat.Read(TargetFormat.Text(sheet))).Value;

        Assert.Equal(sheet with { Fiducials = [] }, back with { Fiducials = [] });
        Assert.Equal(sheet.Fiducials.Select(f => f.Id), back.Fiducials.Select(f => f.Id));
        Assert.All(sheet.Fiducials.Zip(back.Fiducials), pair => Assert.All(pair.First.CornersMm.Zip(pair.Second.CornersMm), c => Assert.Equal(0, c.First.DistanceTo(c.Second), 1e-8)));
    }

    [Fact]
    public void A_mat_of_three_joined_sheets_written_is_read_back_the_same()
    {
        MatSheet sheet = MatLayout.For(KnownPaperSizes.A4, 3).Sheet;

        MatSheet back = Assert.IsType<FormatOutcome<MatSheet>.Read>(MatFormat.Read(MatFormat.Text(sheet))).Value;

        Assert.Equal(843, back.SizeMm.X, 1e-9);
        Assert.Equal(30, back.Fiducials.Count);
    }

    [Fact]
    public void A_layout_that_is_not_ours_is_read_too()
    {
        TargetSheet sheet = Assert.IsType<FormatOutcome<TargetSheet>.Read>(TargetFormat.Read(Foreign())).Value;

        Assert.Equal(4, sheet.Fiducials.Count);
        Assert.Equal(80, sheet.DistanceMm);
        Assert.Null(sheet.PrintScale);
    }

    [Theory]
    [InlineData("\"distanceMm\": 80", "\"distanceMm\": -80", "distanceMm")]
    [InlineData("\"distanceMm\": 80", "\"distance\": 80", "distance")]
    [InlineData("\"zeroMm\": [100, 70]", "\"zeroMm\": [300, 70]", "zeroMm")]
    [InlineData("\"spotFieldMm\": [30, 40, 170, 100]", "\"spotFieldMm\": [170, 40, 30, 100]", "spotFieldMm")]
    [InlineData("\"sizeMm\": [200, 140]", "\"sizeMm\": [200]", "sizeMm")]
    [InlineData("\"4x4_50\"", "\"5x5_100\"", "fiducialDictionary")]
    [InlineData("\"id\": 3", "\"id\": 2", "id")]
    [InlineData("\"id\": 3", "\"id\": 50", "id")]
    [InlineData("\"id\": 3", "\"id\": 2.5", "id")]
    [InlineData("[[5,115],[25,115],[25,135],[5,135]]", "[[5,115],[5,135],[25,135],[25,115]]", "cornersMm")]
    [InlineData("[[5,115],[25,115],[25,135],[5,135]]", "[[5,115],[25,115],[25,135]]", "cornersMm")]
    [InlineData("[[5,115],[25,115],[25,135],[5,135]]", "[[5,125],[25,125],[25,145],[5,145]]", "cornersMm")]
    [InlineData(", {\"id\": 3, \"cornersMm\": [[5,115],[25,115],[25,135],[5,135]]}", "", "fiducials")]
    [InlineData("\"paper\": \"own\"", "\"paper\": \"own\", \"printScale\": [1.3, 1]", "printScale")]
    public void Damage_is_refused_naming_the_field(string was, string becomes, string field)
    {
        string damaged = Foreign().Replace(was, becomes, StringComparison.Ordinal);
        Assert.False(Foreign().Equals(damaged, StringComparison.Ordinal), "the sample holds what the case replaces");

        FormatOutcome<TargetSheet>.Refused refused = Assert.IsType<FormatOutcome<TargetSheet>.Refused>(TargetFormat.Read(damaged));

        Assert.Contains(refused.Errors, e => e.ToString().Contains(field, StringComparison.Ordinal));
    }

    private static string Foreign() => """
        { "formatVersion": 1, "paper": "own", "sizeMm": [200, 140], "zeroMm": [100, 70], "spotFieldMm": [30, 40, 170, 100], "distanceMm": 80, "fiducialDictionary": "4x4_50",
          "fiducials": [ {"id": 0, "cornersMm": [[5,5],[25,5],[25,25],[5,25]]}, {"id": 1, "cornersMm": [[175,5],[195,5],[195,25],[175,25]]},
            {"id": 2, "cornersMm": [[175,115],[195,115],[195,135],[175,135]]}, {"id": 3, "cornersMm": [[5,115],[25,115],[25,135],[5,135]]} ] }
        """;
}
