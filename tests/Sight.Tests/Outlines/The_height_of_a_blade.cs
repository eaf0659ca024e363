using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// A spine's two rims over the mat, and heights between edge and spine, worked by hand: seen is true + v·z at each end, v how far outward a point appears per
/// millimetre of its height (similar triangles, docs/sources.md).
/// </summary>
public sealed class The_height_of_a_blade
{
    [Fact]
    public void A_told_spine_is_taken_for_the_thickness_of_a_blade_that_a_handle_lifts()
    {
        var told = new SpineRims(4, 0.75, Lifted: true, SpineMm: 3);
        Assert.Equal(4 + 1.5, told.TopAt(0), 1e-9);
        Assert.Equal(4 - 1.5, told.LowAt(0), 1e-9);
        Assert.True(told.ThickUMm < new SpineRims(4, 0.75, Lifted: true).ThickUMm / 2);
    }

    [Fact]
    public void A_blade_on_its_flank_touches_the_mat_with_its_spine_which_is_twice_as_thick_as_the_edge_is_high()
    {
        var rims = new SpineRims(1.2, 0.8, Lifted: false);
        Assert.Equal(2.4, rims.SeenAt(0, view: 0.2), 1e-9);
        Assert.Equal(0, rims.SeenAt(0, view: -0.2), 1e-9);
        Assert.Equal(1.6, rims.SeenAt(1, view: 0.2), 1e-9);
    }

    [Fact]
    public void A_handle_lifts_both_rims_of_a_spine_of_usual_thickness()
    {
        var rims = new SpineRims(4, 0.75, Lifted: true);
        double thick = rims.SeenAt(0, view: 0.2) - rims.SeenAt(0, view: -0.2);
        Assert.InRange(thick, 1.5, 2.7); // common practice, no source
        Assert.Equal(4, rims.SeenAt(0, view: 0.2) - (thick / 2), 1e-9);
    }

    [Fact]
    public void Between_edge_and_spine_the_rims_part_evenly()
    {
        var rims = new SpineRims(1, 1, Lifted: false);
        Assert.Equal(1, rims.SeenAt(0.5, view: 0.2, depth: 0), 1e-9);
        Assert.Equal(1.5, rims.SeenAt(0.5, view: 0.2, depth: 0.4), 1e-9);
        Assert.Equal(2, rims.SeenAt(0.5, view: 0.2, depth: 1), 1e-9);
    }

    [Fact]
    public void A_chord_that_rises_to_the_tip_does_not_lengthen_what_a_calliper_reads()
    {
        // 40 mm high, 200 long, the edge flat for 120 mm and rising by 24 to the tip: the chord leans by 6.8°, 0.3 mm more square to it.
        double Rise(double s) => s < 120 ? 0 : 24 * Math.Pow((s - 120) / 80, 2);
        List<Point2> outline = [.. Enumerable.Range(0, 401).Select(i => new Point2(i / 2.0, -Rise(i / 2.0)))];
        int edge = outline.Count;
        outline.AddRange(Enumerable.Range(1, 200).Select(i => 200.0 - i).Select(s => new Point2(s, s > 150 ? -40 + (16 * Math.Pow((s - 150) / 50, 2)) : -40)));
        outline.Add(new(0, -40));
        var frame = new BladeFrame(outline[0], outline[edge - 1], new(0, 1));
        Point2[] blade = [.. outline.Select(frame.ToBlade)];

        List<HeightStation> stations = BladeOnly.Heights(blade, blade[..edge], (_, _) => 0.1);

        Assert.Equal(40, BladeOnly.Largest(blade, blade[..edge])!.Value.HeightMm, 0.02);
        Assert.True(stations.Max(h => h.HeightMm) > 40.2, $"{stations.Max(h => h.HeightMm):0.00} mm square to the chord.");
    }

    [Fact]
    public void Seen_from_straight_above_its_edge_and_spine_a_height_does_not_depend_on_how_high_they_float()
    {
        var rims = new SpineRims(1.2, 0.8, Lifted: true);
        HeightBudget above = HeightBudget.Of(0.1, 0.15, 0.15, 0, 0, 0.4, rims);
        Assert.Equal(Math.Sqrt((2 * 0.01) + (2 * 0.0225)), above.TotalMm, 1e-9);

        // From beside it both are shifted alike, but the spine's thickness is not known.
        HeightBudget beside = HeightBudget.Of(0.1, 0.15, 0.15, -0.3, 0.3, 0.4, rims);
        Assert.Equal(0, beside.LiftMm, 1e-9);
        Assert.Equal(0.3 * rims.ThickUMm, beside.ThickMm, 1e-9);
    }

    [Fact]
    public void A_lamp_that_shades_the_paper_beside_the_edge_cannot_shade_it_beside_the_spine()
    {
        EdgeLight edge = EdgeLight.Usual with { Sky = 0.4, Lamps = [new(0.4, 0.5, 0, 0.12)] };
        EdgeLight beside = edge.ForSpine(2, 1.5, wallMm: 0);
        double WithShadow(EdgeLight told) => (told with { Lamps = [new(0.4, 0.4, 0, 0.12)] }).Prior(new(1.75, 0.3), told);
        Assert.True(WithShadow(beside) > WithShadow(edge.ForBare(2, 1.5)) + 5, "0.4 of the sky, 0.4 of a lamp on either side are more light than there is.");
    }

    [Fact]
    public void Jags_of_a_ragged_end_are_not_the_spine()
    {
        // An edge of 90 mm, a spine 99 mm over it, so that every place of the edge is nearer to the end between them, which runs in and out by 3 mm, wider than high.
        Point2[] edge = [.. Enumerable.Range(0, 91).Select(i => new Point2(i, 0))];
        Point2[] end = [.. Enumerable.Range(1, 48).Select(k => new Point2(k % 2 == 0 ? 90 : 87, -2.0 * k))];
        Point2[] spine = [.. Enumerable.Range(0, 91).Select(i => new Point2(90 - i, -99))];
        Assert.Equal(99, BladeOnly.Largest([.. edge, .. end, .. spine], edge)!.Value.HeightMm, 0.01);
    }

    [Fact]
    public void One_station_that_holds_a_handles_neck_does_not_make_the_blade_higher()
    {
        // Edge along y = 0, spine at −30; from 2 to 4 mm a neck at −37.
        Point2[] edge = [new(0, 0), new(60, 0)];
        Point2[] blade = [.. edge, new(60, -30), new(4, -30), new(4, -37), new(2, -37), new(2, -30), new(0, -30)];

        Assert.Equal(30, BladeOnly.Largest(blade, edge)!.Value.HeightMm, 0.01);
    }
}
