using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>On photographs that the project did not render; their truth is the edge on the mat, with and without parallax.</summary>
public sealed class Tracing_photographs_of_known_truth
{
    [Theory]
    [InlineData("easy_103")]
    [InlineData("normal_205")]
    [InlineData("hard_306")]
    public void The_edge_as_seen_lies_within_a_quarter_of_a_millimetre(string name)
    {
        SharedMat scene = SharedMat.Open(name);
        TracedOutline traced = scene.Trace(tellHeight: false);
        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(SharedMat.Rms(scene.SeenEdge, traced.EdgeAsSeenMm), 0, 0.25);
        Assert.Contains(traced.Reasons, r => r.Code == "edge-height-unknown");
    }

    [Theory]
    [InlineData("easy_103")]
    [InlineData("normal_205")]
    [InlineData("hard_306")]
    public void With_its_height_told_the_edge_lies_within_a_third_of_a_millimetre_of_the_truth(string name)
    {
        SharedMat scene = SharedMat.Open(name);
        TracedOutline traced = scene.Trace(tellHeight: true);
        Assert.InRange(SharedMat.Rms(scene.Edge, traced.EdgeOnMatMm), 0, 0.35);
        Assert.Equal(EdgeHeightSource.Told, traced.EdgeHeightFrom);
    }

    [Theory]
    [InlineData("easy_103")]
    [InlineData("hard_306")]
    public void Length_is_right_to_less_than_half_a_millimetre(string name)
    {
        SharedMat scene = SharedMat.Open(name);
        Assert.Equal(scene.Truth.GetProperty("lengthMm").GetDouble(), scene.Trace(tellHeight: true).LengthMm, 0.4);
    }

    [Fact]
    public void On_its_flank_a_blades_told_spine_is_as_good_as_its_edges_told_height()
    {
        SharedMat scene = SharedMat.Open("hard_306");
        TracedOutline traced = scene.TraceBySpine();
        Assert.Contains(traced.Reasons, r => r.Code == "height-from-spine");
        Assert.Equal(EdgeHeightSource.Told, traced.EdgeHeightFrom);
        Assert.True(SharedMat.Rms(scene.Edge, traced.EdgeOnMatMm) < 0.35, $"RMS {SharedMat.Rms(scene.Edge, traced.EdgeOnMatMm):0.000} mm.");
        Assert.Equal(scene.Truth.GetProperty("lengthMm").GetDouble(), traced.LengthMm, 0.4);
    }

    [Theory]
    [InlineData("normal_205")]
    [InlineData("hard_306")]
    public void Chips_are_found_with_their_places_on_the_mat_and_depths(string name)
    {
        SharedMat scene = SharedMat.Open(name);
        IReadOnlyList<TracedChip> found = scene.Trace(tellHeight: true).Chips;
        Assert.Equal(scene.Chips.Count, found.Count);
        Assert.All(scene.Chips, c => Assert.Contains(found, f => f.PlaceOnMatMm.DistanceTo(c.PlaceMm) < 1.2 && Math.Abs(f.DepthMm - c.DepthMm) < 0.4));
    }

    [Fact]
    public void No_chip_is_invented_on_a_whole_edge()
    {
        SharedMat scene = SharedMat.Open("easy_103");
        Assert.Empty(scene.Chips);
        Assert.Empty(scene.Trace(tellHeight: true).Chips);
    }

    [Fact]
    public void In_the_blade_frame_the_edge_runs_from_the_origin_along_x()
    {
        TracedOutline traced = SharedMat.Open("hard_306").Trace(tellHeight: true);
        Assert.Equal(0, traced.EdgeMm[0].X, 1e-9);
        Assert.Equal(0, traced.EdgeMm[0].Y, 1e-9);
        Assert.Equal(traced.LengthMm, traced.EdgeMm[^1].X, 1e-9);
        Assert.Equal(0, traced.EdgeMm[^1].Y, 1e-9);
        Assert.True(traced.EdgeMm.Average(p => p.Y) > 0, "A belly bulges outward from the chord.");
        Assert.True(traced.BladeOutlineMm.Average(p => p.Y) < 0, "The steel lies behind the edge.");
    }

    [Fact]
    public void The_uncertainty_explains_itself()
    {
        TracedOutline traced = SharedMat.Open("easy_103").Trace(tellHeight: true);
        var u = traced.Explain()[0];
        Assert.Equal(traced.UMm, u.Value, 1e-9);
        Assert.Equal(u.Value * u.Value, u.Inputs.Sum(i => i.Value * i.Value), 1e-9);
    }
}
