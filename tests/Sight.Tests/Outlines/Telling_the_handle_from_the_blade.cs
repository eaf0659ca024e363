using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;
using static Whetwright.Sight.Tests.Outlines.DrawnOutline;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Where a handle or tang ends and the blade begins, by the outline alone.</summary>
public sealed class Telling_the_handle_from_the_blade
{
    [Fact]
    public void A_step_that_rises_slowly_tells_a_handle_too()
    {
        // A handle 20 mm broad over 110 mm; the edge's side, below, rises by 2.1 mm over 5.4.
        BladeLie lie = BladeLie.Of(Through(false, new(0, 0), new(110, 0), new(115.4, -2.1), new(230, -2.1), new(260, 12), new(230, 20), new(0, 20), new(0, 0)));

        Assert.Equal(112, lie.BladeFromMm, 6.0);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(4)]
    [InlineData(9)]
    [InlineData(-4)]
    [InlineData(-6)]
    public void A_cleavers_handle_is_found_however_much_broader_the_blade_is_and_however_its_heel_slants(double slantMm)
    {
        // Spine and one side of the handle along y = 100, the handle 15 mm wide with a rounded end, the blade 95 mm, narrowing to the far end; the edge above.
        List<Point2> p = [];
        Draw(p, new(0, 97), new(10, 85), 0.25);
        Draw(p, new(10, 85), new(100, 85), 0.25);
        Draw(p, new(100, 85), new(100 - slantMm, 5), 0.25);
        Draw(p, new(100 - slantMm, 5), new(260, 12), 0.25);
        Draw(p, new(260, 12), new(265, 100), 0.25);
        Draw(p, new(265, 100), new(0, 100), 0.25);
        Draw(p, new(0, 100), new(0, 97), 0.25);

        BladeLie lie = BladeLie.Of([.. p]);

        Assert.True(lie.HasHandle);
        Assert.Equal(100 - (slantMm / 2), lie.BladeFromMm, 8.0);
        Assert.InRange(Math.Max(lie.DropMm.Low, lie.DropMm.High), 60, 90);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_handle_as_broad_as_the_blade_is_told_by_the_neck_between_them(bool turned)
    {
        // A handle 20 mm broad over 90 mm, a neck of 14 mm over 4 mm, a blade of 20 mm that stands 1 mm out below and narrows to its tip.
        Point2[] p = Necked(neckMm: 3, turned);

        BladeLie lie = BladeLie.Of(p);

        Assert.True(lie.HasHandle);
        Assert.Equal(94, lie.BladeFromMm, 1.0);
        Assert.Equal(turned ? -1 : 1, lie.Axis.X, 0.05);
        Assert.Equal(1, Math.Max(lie.DropMm.Low, lie.DropMm.High), 0.5);
    }

    [Theory]
    [InlineData(0.9, false)]
    [InlineData(1.7, true)]
    public void A_handle_broader_than_the_blade_steps_out_and_an_edge_that_bows_to_its_heel_beside_a_shadows_rim_has_none(double stepMm, bool handle)
    {
        // 163 mm long, 36 mm broad; 68 mm from the heel's end the outline steps out, to a shadow's rim or to a handle; toward it the edge bows a little.
        List<Point2> p = [];
        Draw(p, new(0, -1 - stepMm), new(68, -0.6 - stepMm), 0.25);
        Draw(p, new(68, -0.6 - stepMm), new(68, -0.6), 0.25);
        Draw(p, new(68, -0.6), new(85, 0), 0.25);
        Draw(p, new(85, 0), new(130, 0), 0.25);
        Draw(p, new(130, 0), new(163, 22), 0.25);
        Draw(p, new(163, 22), new(163, 36), 0.25);
        Draw(p, new(163, 36), new(0, 36), 0.25);
        Draw(p, new(0, 36), new(0, -1 - stepMm), 0.25);

        BladeLie lie = BladeLie.Of([.. p]);

        Assert.Equal(handle, lie.HasHandle);
        Assert.Equal(handle ? 68 : 0, lie.BladeFromMm, 2.0);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_step_at_the_handle_says_more_than_a_neck_that_shadows_rims_make_far_out_on_the_blade(bool turned)
    {
        // A handle 15 mm broad over 110 mm, a blade 44 mm broad over 157 mm, edge below; 58 mm from the tip both sides leave a shadow's rim for 3 mm.
        Point2[] p = Through(turned, new(0, 0), new(110, 0), new(110, -2), new(207, -2), new(207, -0.5), new(210, -0.5), new(210, -2), new(262, -2), new(267, 20), new(262, 42), new(210, 42), new(210, 40.5), new(207, 40.5), new(207, 42), new(110, 42), new(110, 15), new(0, 15), new(0, 0));

        BladeLie lie = BladeLie.Of(p);

        Assert.True(lie.HasHandle);
        Assert.Equal(110, lie.BladeFromMm, 2.0);
        Assert.Equal(turned ? -1 : 1, lie.Axis.X, 0.05);
    }

    [Theory]
    [InlineData(170, 97)] // onto a shadow's rim beside the spine and back
    [InlineData(330, 108)] // a tang that steps twice
    public void A_side_that_steps_out_and_comes_back_is_no_heel(double backMm, double fromMm)
    {
        // A handle 21 mm broad over 97 mm; the edge above, its heel 11 mm out over it; the other side goes on for 11 mm more and then steps out by 5.
        Point2[] p = Through(false, new(0, 21), new(108, 21), new(108, 26), new(Math.Min(backMm, 320), 26), new(Math.Min(backMm, 320), 21), new(330, 0), new(300, -8), new(240, -11), new(97, -11), new(97, 0), new(0, 0), new(0, 21));

        Assert.Equal(fromMm, BladeLie.Of(p).BladeFromMm, 3.0);
    }

    [Fact]
    public void A_notch_before_a_handle_that_lies_on_the_edges_line_tells_the_heel()
    {
        // The edge along y = 0 from its heel at x = 100 on, its first 12 mm drawn onto a shadow's rim; the handle 0.35 mm behind that line, the notch before it 2.5 mm wide.
        List<Point2> p = [];
        Draw(p, new(0, 0.35), new(97.5, 0.35), 0.25);
        Draw(p, new(97.5, 0.35), new(97.5, 4), 0.25);
        Draw(p, new(97.5, 4), new(100, 4), 0.25);
        Draw(p, new(100, 4), new(100, -2.2), 0.25);
        Draw(p, new(100, -2.2), new(112, -2.2), 0.25);
        Draw(p, new(112, -2.2), new(112, 0), 0.25);
        Draw(p, new(112, 0), new(200, 0), 0.25);
        Draw(p, new(200, 0), new(240, 20), 0.25);
        Draw(p, new(240, 20), new(230, 25), 0.25);
        Draw(p, new(230, 25), new(0, 24.5), 0.25);
        Draw(p, new(0, 24.5), new(0, 0.35), 0.25);
        Point2[] outline = [.. p];
        BladeLie lie = BladeLie.Of(outline);

        EdgeSide edge = EdgeSide.Of(outline, lie, high: lie.DropMm.High > lie.DropMm.Low)!;

        Assert.Equal(100, outline[edge.From].X, 1.0);
        Assert.InRange(outline[edge.From].Y, -2.3, 1);
    }

    [Fact]
    public void A_chip_on_one_side_is_no_neck() => Assert.False(BladeLie.Of(Necked(neckMm: 0, turned: false, chipMm: 3)).HasHandle);

    [Fact]
    public void What_no_hand_could_close_around_is_no_handle()
    {
        // A blank of 200 by 90 mm that lost 12 mm of its breadth over its first 100 mm, where steel as bright as the paper was not seen.
        List<Point2> p = [];
        Draw(p, new(0, 12), new(100, 12), 0.25);
        Draw(p, new(100, 12), new(100, 0), 0.25);
        Draw(p, new(100, 0), new(200, 0), 0.25);
        Draw(p, new(200, 0), new(200, 90), 0.25);
        Draw(p, new(200, 90), new(0, 90), 0.25);
        Draw(p, new(0, 90), new(0, 12), 0.25);

        Assert.False(BladeLie.Of([.. p]).HasHandle);
    }

    [Theory]
    [InlineData(68, 46, false)] // the rear part of a blade, which a shadow beside its heel broadens
    [InlineData(110, 30, true)] // a handle as broad as its blade, which reaches out over it
    public void A_handle_as_broad_as_its_blade_is_slender(double fromMm, double broadMm, bool handle)
    {
        // Some 95 mm of blade behind what stands out by 2 mm, edge above, its spine bent down to the tip.
        List<Point2> p = [];
        Draw(p, new(0, 0), new(fromMm, 0), 0.25);
        Draw(p, new(fromMm, 0), new(fromMm + 3, 2), 0.25);
        Draw(p, new(fromMm + 3, 2), new(fromMm + 95, 2), 0.25);
        Draw(p, new(fromMm + 95, 2), new(fromMm + 75, (0.6 * broadMm) + 2), 0.25);
        Draw(p, new(fromMm + 75, (0.6 * broadMm) + 2), new(fromMm + 50, broadMm), 0.25);
        Draw(p, new(fromMm + 50, broadMm), new(0, broadMm), 0.25);
        Draw(p, new(0, broadMm), new(0, 0), 0.25);

        Assert.Equal(handle, BladeLie.Of([.. p]).HasHandle);
        Assert.False(BladeLie.Of([.. p], onFlank: true).HasHandle); // it would lift the blade
    }

    private static Point2[] Necked(double neckMm, bool turned, double chipMm = 0)
    {
        Point2[] p = Through(
            false, new(0, 0), new(90, 0), new(90, neckMm + chipMm), new(94, neckMm + chipMm), new(94, 0), new(150, 0), new(175, 20), new(170, 21), new(94, 21), new(94, 20 - neckMm), new(90, 20 - neckMm), new(90, 20), new(0, 20), new(0, 0));
        return turned ? [.. p.Select(q => new Point2(175 - q.X, 21 - q.Y))] : p;
    }
}
