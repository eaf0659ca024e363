using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>What a told height and a told spine say of the heights at heel and tip: a blade on its flank floats on half its own thickness (derived: two equal bevels meet in its middle).</summary>
public sealed class How_high_the_edge_floats_as_told
{
    [Theory]
    [InlineData(1.5)]
    [InlineData(3)]
    public void A_blade_on_its_flank_floats_at_the_heel_on_half_its_spine_and_at_the_tip_on_less(double spine)
    {
        KnownHeight known = new ToldHeight(null, spine).Of(handle: false)!.Value;
        Assert.Equal(spine / 2, known.HeelMm, 1e-9);
        Assert.InRange(known.TipMm, 0.25 * spine, 0.5 * spine);
    }

    [Fact]
    public void Told_of_its_middle_too_it_is_the_tip_that_gives_way()
    {
        KnownHeight level = new ToldHeight(1.45, 3).Of(handle: false)!.Value;
        KnownHeight thinned = new ToldHeight(1.05, 3).Of(handle: false)!.Value;
        Assert.Equal(1.5, level.HeelMm, 1e-9);
        Assert.Equal(1.5, thinned.HeelMm, 1e-9);
        Assert.True(level.TipMm > thinned.TipMm + 0.2, $"{level.TipMm:0.00} and {thinned.TipMm:0.00} mm.");
        Assert.True(level.UMm < KnownHeight.ToldUMm, $"{level.UMm:0.000} mm.");
    }

    [Fact]
    public void A_blade_that_a_handle_lifts_touches_down_at_its_tip_the_higher_the_thicker_it_is()
    {
        KnownHeight thin = new ToldHeight(2.4, 1.3).Of(handle: true)!.Value;
        KnownHeight thick = new ToldHeight(2.4, 3).Of(handle: true)!.Value;
        Assert.Equal(2.4, thin.MiddleMm);
        Assert.InRange(thin.TipMm, 0.3, 0.65);
        Assert.InRange(thick.TipMm, 0.75, 1.5);
        Assert.Equal((2 * 2.4) - thick.TipMm, thick.HeelMm, 1e-9);
    }

    [Fact]
    public void A_tang_that_lies_flat_with_the_blade_lifts_nothing() =>
        Assert.Equal(new ToldHeight(null, 2.2).Of(handle: false), new ToldHeight(null, 2.2, OnFlank: true).Of(handle: true));

    [Fact]
    public void A_handle_that_was_told_lifts_a_blade_of_which_none_is_seen() =>
        Assert.Equal(new ToldHeight(1.1, 2.2).Of(handle: true), new ToldHeight(1.1, 2.2, OnFlank: false).Of(handle: false));

    [Fact]
    public void A_handle_says_nothing_of_the_heel_by_itself() => Assert.Null(new ToldHeight(null, 2.2).Of(handle: true));

    [Fact]
    public void A_handle_that_was_not_seen_is_betrayed_by_a_told_height_above_half_the_spine()
    {
        KnownHeight known = new ToldHeight(2.6, 2.2).Of(handle: false)!.Value;
        Assert.Equal(2.6, known.MiddleMm);
        Assert.True(known.HeelMm > 3.5, $"{known.HeelMm:0.00} mm.");
    }

    [Fact]
    public void Without_a_spine_a_told_height_is_taken_as_it_is()
    {
        Assert.Equal(KnownHeight.Told(1.2), new ToldHeight(1.2).Of(handle: true));
        Assert.Null(new ToldHeight().Of(handle: false));
    }

    [Theory]
    [InlineData("easy_103")]
    [InlineData("hard_306")]
    public void On_photographs_of_known_truth_the_spine_alone_tells_the_heights_of_a_blade_without_handle(string name)
    {
        SharedMat scene = SharedMat.Open(name);
        KnownHeight known = new ToldHeight(null, scene.Input.GetProperty("spineMm").GetDouble()).Of(handle: false)!.Value;
        Assert.Equal(scene.Truth.GetProperty("edgeHeight").GetProperty("atHeelMm").GetDouble(), known.HeelMm, 0.1);
        Assert.Equal(scene.Truth.GetProperty("edgeHeight").GetProperty("atTipMm").GetDouble(), known.TipMm, 0.3);
        Assert.Equal(scene.EdgeHeightMm, known.MiddleMm, 0.15);
    }
}
