using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Reading;

namespace Whetwright.Sight.Tests;

public sealed class Reading_photographs_of_known_truth
{
    [Theory]
    [InlineData("easy_201", 0.4)]
    [InlineData("easy_202", 0.4)]
    [InlineData("normal_211", 0.4)]
    [InlineData("normal_212", 0.4)]
    [InlineData("normal_213", 0.4)]
    [InlineData("hard_221", 1.0)]
    [InlineData("hard_222", 1.0)]
    public void One_lit_photo_gives_the_included_angle(string name, double limitDeg)
    {
        SharedScene scene = SharedScene.Open(name);
        PhotoReading reading = scene.Read();
        Assert.Equal(ReadingOutcome.Read, reading.Outcome);
        Assert.InRange(reading.Included!.Value.Value.Degrees, scene.Included - limitDeg, scene.Included + limitDeg);
    }

    [Theory]
    [InlineData("easy_201")]
    [InlineData("easy_202")]
    [InlineData("normal_211")]
    [InlineData("normal_212")]
    [InlineData("normal_213")]
    public void One_lit_photo_gives_each_side_with_its_roll_in(string name)
    {
        SharedScene scene = SharedScene.Open(name);
        CombinedReading combined = scene.Read().Combined!;
        foreach (Side side in new[] { Side.Left, Side.Right })
            Assert.InRange(combined.On(side).AsRead!.Value.Value.Degrees, scene.AsRead(side) - 0.5, scene.AsRead(side) + 0.5);
    }

    [Theory]
    [InlineData("normal_211", 0.3)]
    [InlineData("hard_221", 0.6)]
    public void A_dark_photo_of_the_same_pose_makes_it_surer(string name, double limitDeg)
    {
        SharedScene scene = SharedScene.Open(name);
        PhotoReading reading = scene.Read(dark: true);
        Assert.InRange(reading.Included!.Value.Value.Degrees, scene.Included - limitDeg, scene.Included + limitDeg);
        foreach (Side side in new[] { Side.Left, Side.Right })
            Assert.InRange(reading.Combined!.On(side).AsRead!.Value.Value.Degrees, scene.AsRead(side) - 0.6, scene.AsRead(side) + 0.6);
    }

    [Theory]
    [InlineData("normal_211")]
    [InlineData("hard_221")]
    public void A_photo_turned_end_for_end_gives_the_true_sides(string name)
    {
        SharedScene scene = SharedScene.Open(name);
        CombinedReading combined = scene.Read(turned: true).Combined!;
        foreach (Side side in new[] { Side.Left, Side.Right })
            Assert.InRange(combined.On(side).Edge!.Value.Value.Degrees, scene.True(side) - 0.4, scene.True(side) + 0.4);
    }

    [Theory]
    [InlineData("normal_211", 0.4)]
    [InlineData("hard_221", 1.0)]
    public void A_laser_off_photo_stands_in_for_the_room_light(string name, double limitDeg)
    {
        SharedScene scene = SharedScene.Open(name);
        PhotoReading reading = scene.Read(off: true);
        Assert.InRange(reading.Included!.Value.Value.Degrees, scene.Included - limitDeg, scene.Included + limitDeg);
    }

    [Theory]
    [InlineData("easy_201")]
    [InlineData("easy_202")]
    [InlineData("normal_212")]
    public void The_colour_of_the_laser_need_not_be_told(string name)
    {
        SharedScene scene = SharedScene.Open(name);
        PhotoReading reading = scene.Read(tellColour: false);
        Assert.InRange(reading.Included!.Value.Value.Degrees, scene.Included - 0.4, scene.Included + 0.4);
    }

    [Fact]
    public void A_blade_that_the_beam_misses_on_both_sides_is_refused()
    {
        PhotoReading reading = SharedScene.Open("hard_301").Read();
        Assert.Equal(ReadingOutcome.Refused, reading.Outcome);
        Assert.Contains(reading.Reasons, r => r.Code is "no-marks" or "mark-missing-left" or "mark-missing-right");
    }
}
