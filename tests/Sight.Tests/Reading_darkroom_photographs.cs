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
            var photographs = new MarkPhotographs(MarkScene.Generate(Difficulty.Normal, seed), 1600);
            JsonObject truth = photographs.Truth();
            if (truth["report"]!["may_refuse_included"]!.GetValue<bool>())
                continue;
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
}
