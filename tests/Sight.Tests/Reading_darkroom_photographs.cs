using System.Text.Json.Nodes;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Marks;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

/// <summary>A small slice of what bench/Accuracy measures on hundreds of scenes.</summary>
public sealed class Reading_darkroom_photographs
{
    private static readonly int[] Seeds = [801, 802, 803, 804, 805, 806];

    [Fact]
    public void Lit_and_dark_photos_of_ordinary_scenes_give_the_included_angle_within_its_own_uncertainty()
    {
        int read = 0;
        int covered = 0;
        double worst = 0;
        foreach (int seed in Seeds)
        {
            (PhotoReading reading, JsonObject truth) = Read(Difficulty.Normal, seed);
            if (truth["report"]!["may_refuse_included"]!.GetValue<bool>())
                continue;
            if (reading.Included is not { } included)
                continue;
            read++;
            double error = Math.Abs(included.Value.Degrees - truth["report"]!["included_deg"]!.GetValue<double>());
            worst = Math.Max(worst, error);
            covered += error <= 2 * included.StandardUncertainty.Degrees ? 1 : 0;
        }

        Assert.InRange(read, 4, Seeds.Length);
        Assert.InRange(worst, 0, 0.5);
        Assert.InRange(covered, read - 1, read);
    }

    [Theory]
    [InlineData(91208, "a line's primary on one side is no edge with a micro-bevel that the other side lacks")]
    [InlineData(91110, "a wide mark that is burnt out still has its middle between its flanks")]
    public void Hard_scenes_are_read_where_the_marks_leave_no_doubt(int seed, string because)
    {
        (PhotoReading reading, JsonObject truth) = Read(Difficulty.Hard, seed);

        Assert.True(reading.Included is not null, because);
        Assert.InRange(reading.Included!.Value.Value.Degrees - truth["report"]!["included_deg"]!.GetValue<double>(), -1, 1);
    }

    [Theory]
    [InlineData(91168, "ambiguous")] // the edge's mark runs into the primary's: its micro-bevel is not the edge
    [InlineData(91119, "clipped-right")] // half of the mark lies beyond the paper
    public void Hard_scenes_are_refused_for_what_is_the_matter_and_not_read_wrong(int seed, string reason)
    {
        (PhotoReading reading, _) = Read(Difficulty.Hard, seed);

        Assert.Null(reading.Included);
        Assert.Contains(reading.Reasons, r => r.Code == reason);
    }

    private static (PhotoReading Reading, JsonObject Truth) Read(Difficulty difficulty, int seed)
    {
        var photographs = new MarkPhotographs(MarkScene.Generate(difficulty, seed), 1600);
        JsonObject truth = photographs.Truth();
        using Picture lit = Picture.Decode(photographs.Jpeg(PhotoKind.Lit));
        using Picture dark = Picture.Decode(photographs.Jpeg(PhotoKind.Dark));
        double distance = truth["L_true_mm"]!.GetValue<double>();
        PhotoReading reading = PhotoReader.Read(new()
        {
            First = new(lit, dark),
            Target = photographs.Scene.Target,
            Distance = MeasuredLength.FromMillimetres(distance, 0.002 * distance),
            Laser = photographs.Input()["laser_colour"]!.GetValue<string>() == "red" ? LaserColour.Red : LaserColour.Green,
        });
        return (reading, truth);
    }
}
