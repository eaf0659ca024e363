using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Depth and width of a chip, from the notch that fits and from the rim of the dark line along the edge.</summary>
public sealed class Telling_a_chips_size
{
    private const double StepMm = 0.1;

    [Fact]
    public void A_small_chip_that_bright_steel_makes_look_large_is_told_small_for_the_dark_lines_rim_hardly_dips()
    {
        NotchShape fitted = new(2.8, 8.0, false);
        NotchShape told = ChipSize.Of(fitted, footMm: 0.1, halfwayMm: 0.5);
        Assert.InRange(told.DepthMm, 0.6, 1.1);
        Assert.InRange(told.WidthMm, 3, 6);
        Assert.False(told.Pointed);
    }

    [Fact]
    public void A_deep_chip_whose_ground_lies_in_shadow_is_told_deep_for_the_rim_steps_in_all_the_way()
    {
        NotchShape told = ChipSize.Of(new(1.3, 3.4, true), footMm: 2.2, halfwayMm: 2.3);
        Assert.InRange(told.DepthMm, 2.3, 2.9);
        Assert.True(told.WidthMm > 3.4);
    }

    [Theory]
    [InlineData(0.4, 3.0)] // one rim runs off over bright steel, the other does not
    [InlineData(3.0, 0.4)]
    [InlineData(null, null)] // no dark line before bright steel
    public void One_measure_that_is_far_off_does_not_matter(double? footMm, double? halfwayMm)
    {
        // 0.2 + 0.9 · 1.5 = 1.55 is the middle one, or the only one.
        NotchShape told = ChipSize.Of(new(1.5, 3.0, true), footMm, halfwayMm);
        Assert.Equal(1.55, told.DepthMm, 1e-9);
        Assert.Equal(3.0, told.WidthMm, 1e-9);
    }

    [Theory]
    [InlineData(0.6)]
    [InlineData(1.2)]
    [InlineData(2.4)]
    public void The_rim_steps_in_as_far_as_the_chip_is_deep(double depthMm)
    {
        var notch = new NotchShape(depthMm, 2 * depthMm, false);
        EdgeStrip strip = Drawn((x, v) => v < notch.At(x - 30) ? 0.8f : v < 0 ? 0.8f : v < notch.At(x - 30) + 0.4 ? 0.1f : 0.4f);
        (RimDips foot, RimDips halfway) = RimDips.Of(strip, new StripTones(strip));
        Assert.Equal(depthMm, foot.DepthMm(30, 0.9 * depthMm)!.Value, 0.12);
        Assert.Equal(depthMm, halfway.DepthMm(30, 0.9 * depthMm)!.Value, 0.12);
        Assert.Equal(0, halfway.DepthMm(15, 0.9 * depthMm)!.Value, 0.12);
    }

    [Fact]
    public void Where_no_rim_is_seen_none_is_told()
    {
        // The dark line is gone over 6 mm before steel as bright as the paper.
        EdgeStrip strip = Drawn((x, v) => v < 0 ? 0.8f : Math.Abs(x - 30) < 3 ? 0.8f : v < 0.4 ? 0.1f : 0.4f);
        (_, RimDips halfway) = RimDips.Of(strip, new StripTones(strip));
        Assert.Null(halfway.DepthMm(30, 2));
    }

    private static EdgeStrip Drawn(Func<double, double, float> tone) => new(60, StepMm, (x, v) => (tone(x, v), tone(x, v), tone(x, v)));
}
