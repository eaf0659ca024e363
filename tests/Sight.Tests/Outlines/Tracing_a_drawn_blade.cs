using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

public sealed class Tracing_a_drawn_blade
{
    private static readonly TracedOutline s_whole = DrawnBlade.Trace();

    private static readonly Lazy<TracedOutline> s_told = new(() => DrawnBlade.Trace(height: Length.FromMillimetres(0)));

    [Fact]
    public void Heel_and_tip_are_found_to_half_a_millimetre()
    {
        Assert.Equal(TraceOutcome.Traced, s_whole.Outcome);
        Assert.InRange(s_whole.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 0.5);
        Assert.InRange(s_whole.TipOnMatMm.DistanceTo(DrawnBlade.Tip), 0, 0.5);
    }

    [Fact]
    public void The_edge_is_told_from_the_spine_and_bulges_outward()
    {
        Assert.Equal(4, s_whole.EdgeMm.Max(p => p.Y), 0.15);
        Assert.Equal(34, s_whole.HeightMm, 0.6);
    }

    [Fact]
    public void A_lamps_shadow_beside_the_spine_does_not_make_the_blade_higher()
    {
        TracedOutline traced = DrawnBlade.Trace(spineShadowMm: 1.2);
        Assert.Equal(s_whole.HeightMm, traced.HeightMm, 0.5); // the shadow is 1.2 mm wide, and drawn without the sky's that goes with it
        Assert.Equal(s_whole.Heights[20].HeightMm, traced.Heights[20].HeightMm, 0.5);
    }

    [Fact]
    public void A_height_carries_its_uncertainty_smaller_where_the_edges_height_is_told()
    {
        TracedOutline told = s_told.Value;
        Assert.InRange(told.HeightUMm, 0.1, s_whole.HeightUMm - 0.01);
        Assert.All(told.Heights, h => Assert.InRange(h.UMm, 0.1, 1));
        Assert.Contains(told.Explain(), d => d.Name == "uncertainty of the blade's height" && d.Value == told.HeightUMm);
    }

    [Fact]
    public void A_length_carries_its_uncertainty_smaller_where_the_edges_height_is_told()
    {
        TracedOutline told = s_told.Value;
        Assert.InRange(told.LengthUMm, 0.1, s_whole.LengthUMm - 0.01);
        Assert.InRange(Math.Abs(told.LengthMm - DrawnBlade.Heel.DistanceTo(DrawnBlade.Tip)), 0, 2 * told.LengthUMm);
        Assert.Contains(told.Explain(), d => d.Name == "uncertainty of the blade's length" && d.Value == told.LengthUMm);
    }

    [Fact]
    public void A_whole_edge_has_no_chips() => Assert.Empty(s_whole.Chips);

    [Fact]
    public void A_chip_is_found_with_place_depth_and_width()
    {
        TracedOutline traced = DrawnBlade.Trace(chips: [(50, 1.0, 3.0)]);
        TracedChip chip = Assert.Single(traced.Chips);
        Assert.Equal(50, chip.AtMm, 0.5);
        Assert.Equal(1.0, chip.DepthMm, 0.3);
        Assert.InRange(chip.WidthMm, 1.5, 3.6);
    }

    [Fact]
    public void A_second_photo_makes_a_chips_depth_surer_where_the_height_is_told_and_is_left_out_where_the_blade_was_moved()
    {
        TracedOutline Trace(double movedMm)
        {
            using Picture photo = DrawnBlade.Photo(blade: true, [(50, 1.0, 3.0)], 0, 0.8, false, 0);
            using Picture second = DrawnBlade.Photo(blade: true, [(50, 1.0, 3.0)], 0.06, 0.8, false, movedMm);
            return OutlineTracer.Trace(photo, second, DrawnBlade.Mat, Length.FromMillimetres(0), told: new(MatSide.Top));
        }

        TracedOutline both = Trace(movedMm: 0);
        TracedOutline apart = Trace(movedMm: 8);
        Assert.InRange(Assert.Single(both.Chips).DepthUMm / Assert.Single(apart.Chips).DepthUMm, 0.6, 0.95);
        Assert.DoesNotContain(both.Reasons, r => r.Code == "photos-disagree");
        Assert.Contains(apart.Reasons, r => r.Code == "photos-disagree");
    }

    [Fact]
    public void One_photo_without_a_height_carries_the_doubt()
    {
        Assert.Equal(EdgeHeightSource.Unknown, s_whole.EdgeHeightFrom);
        Assert.Contains(s_whole.Reasons, r => r.Code == "edge-height-unknown");
        TracedOutline told = s_told.Value;
        Assert.True(told.UMm < s_whole.UMm);
    }

    [Fact]
    public void A_told_height_moves_the_edge_toward_the_point_under_the_camera()
    {
        TracedOutline told = DrawnBlade.Trace(height: Length.FromMillimetres(4));
        Point2 before = told.EdgeAsSeenMm[told.EdgeAsSeenMm.Count / 2];
        Point2 after = told.EdgeOnMatMm[told.EdgeOnMatMm.Count / 2];
        double expected = before.DistanceTo(told.CameraOnMatMm) * 4 / told.CameraHeightMm;
        Assert.Equal(before.DistanceTo(told.CameraOnMatMm) - expected, after.DistanceTo(told.CameraOnMatMm), 0.05);
    }

    [Fact]
    public void A_told_spine_alone_does_not_tell_the_height_of_a_blade_with_a_tang_that_may_lift_it()
    {
        TracedOutline traced = DrawnBlade.Trace(spine: Length.FromMillimetres(2.4));
        Assert.Equal(EdgeHeightSource.Unknown, traced.EdgeHeightFrom);
        Assert.Contains(traced.Reasons, r => r.Code == "edge-height-unknown");
        Assert.Equal("edgeHeight", Assert.Throws<ArgumentOutOfRangeException>(() => DrawnBlade.Trace(height: Length.FromMillimetres(2), spine: Length.FromMillimetres(2.4), onFlank: true)).ParamName);
        Assert.Equal("spine", Assert.Throws<ArgumentOutOfRangeException>(() => DrawnBlade.Trace(spine: Length.FromMillimetres(0))).ParamName);
    }

    [Theory]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    [InlineData(61)]
    public void A_height_that_cannot_be_is_refused_by_name(double mm)
    {
        if (double.IsNaN(mm))
            Assert.Throws<ArgumentOutOfRangeException>(() => DrawnBlade.Trace(height: Length.FromMillimetres(mm)));
        else
            Assert.Equal("edgeHeight", Assert.Throws<ArgumentOutOfRangeException>(() => DrawnBlade.Trace(height: Length.FromMillimetres(mm))).ParamName);
    }

    [Fact]
    public void Where_the_bevel_is_as_bright_as_the_paper_the_edge_runs_on_along_its_curve()
    {
        TracedOutline traced = DrawnBlade.Trace(height: Length.FromMillimetres(0.3), bevelMm: 1.3);
        Assert.All(traced.EdgeMm.Where(p => p.X is > 3 and < 122), p => Assert.Equal(4 * Math.Sin(Math.PI * p.X / DrawnBlade.Heel.DistanceTo(DrawnBlade.Tip)), p.Y, 0.35));
    }

    [Fact]
    public void The_annotated_picture_shows_the_edge_where_it_was_traced_and_nothing_where_it_was_refused()
    {
        using Picture photo = DrawnBlade.Photo(blade: true, [], 0, 0.8, false, 0);
        Point2 middle = s_whole.Sheet!.Map.ToPhoto(s_whole.EdgeAsSeenMm[s_whole.EdgeAsSeenMm.Count / 2]);
        Assert.True(Coloured(OutlineAnnotation.ToPng(photo, DrawnBlade.Mat, s_whole), middle), "the edge is drawn in colour");
        Assert.False(Coloured(OutlineAnnotation.ToPng(photo, DrawnBlade.Mat, TracedOutline.Refuse(new Reason("no-blade", "none"))), middle), "a refusal draws no edge");
    }

    private static bool Coloured(byte[] png, Point2 at)
    {
        using OpenCvSharp.Mat drawn = OpenCvSharp.Mat.ImDecode(png, OpenCvSharp.ImreadModes.Color);
        OpenCvSharp.Vec3b pixel = drawn.At<OpenCvSharp.Vec3b>((int)Math.Round(at.Y), (int)Math.Round(at.X));
        return Math.Max(pixel.Item0, Math.Max(pixel.Item1, pixel.Item2)) - Math.Min(pixel.Item0, Math.Min(pixel.Item1, pixel.Item2)) > 60;
    }

    [Fact]
    public void A_cloth_over_the_tip_is_refused_as_something_that_lies_there()
    {
        TracedOutline traced = DrawnBlade.Trace(cloth: DrawnBlade.Tip);
        Assert.Equal(TraceOutcome.Refused, traced.Outcome);
        Assert.Contains(traced.Reasons[0].Code, new[] { "tip-covered", "end-covered", "edge-broken" });
        Assert.Contains("lies", traced.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(2.5)]
    [InlineData(6)]
    public void However_far_a_shadow_reaches_beyond_the_heel_the_steel_shows_where_it_ends(double shadowMm)
    {
        TracedOutline traced = DrawnBlade.Trace(shadowMm: shadowMm, height: Length.FromMillimetres(0));
        Vector2 along = (DrawnBlade.Tip - DrawnBlade.Heel).Normalized();
        Assert.Equal(0, (traced.HeelOnMatMm - DrawnBlade.Heel).Dot(along), 0.4);
    }

    [Fact]
    public void A_person_may_say_to_which_side_of_the_mat_the_edge_points()
    {
        TracedOutline bottom = DrawnBlade.Trace(edge: MatSide.Bottom);
        Assert.True(bottom.HeelOnMatMm.Y > DrawnBlade.Heel.Y + 20, "the other long side, the spine, is traced when the person says so");
    }

    [Fact]
    public void An_edge_told_to_point_along_the_blade_is_refused_with_the_sides_that_would_be_right()
    {
        TracedOutline traced = DrawnBlade.Trace(edge: MatSide.Left);
        Refused("edge-not-there", traced);
        Assert.Contains("top or bottom", traced.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_blade_without_handle_and_with_ends_alike_is_refused_for_that_and_asks_where_the_heel_lies()
    {
        TracedOutline traced = DrawnBlade.Trace(slab: true);
        Refused("ends-alike", traced);
        Assert.Contains("toward which side of the mat the heel lies", traced.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(MatSide.Left, 90, 220)]
    [InlineData(MatSide.Right, 220, 90)]
    public void A_person_may_say_toward_which_side_of_the_mat_the_heel_lies(MatSide heel, double heelX, double tipX)
    {
        TracedOutline traced = DrawnBlade.Trace(slab: true, edge: MatSide.Bottom, heel: heel);
        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(traced.HeelOnMatMm.DistanceTo(new(heelX, 125)), 0, 0.7);
        Assert.InRange(traced.TipOnMatMm.DistanceTo(new(tipX, 125)), 0, 0.7);
    }

    [Theory]
    [InlineData(true, 0, 125)]
    [InlineData(false, 0.006, 80)]
    public void The_side_that_takes_sky_light_from_the_paper_further_out_stands_high_and_is_the_spine_however_a_lamps_light_falls_off(bool tallAbove, double fallsOff, double edgeY)
    {
        TracedOutline traced = DrawnBlade.Trace(slab: true, heel: MatSide.Left, tallAbove: tallAbove, tallBelow: !tallAbove, fallsOff: fallsOff);
        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.Equal(edgeY, traced.TipOnMatMm.Y, 1.0);
    }

    [Fact]
    public void A_handle_and_the_shadow_along_a_spine_whose_steel_was_not_seen_are_no_blade() => Refused("rim-not-seen", DrawnBlade.Trace(blade: false, tailMm: 2));

    [Fact]
    public void A_tang_is_broader_than_a_shadow() => Assert.DoesNotContain(DrawnBlade.Trace(blade: false, tailMm: 9).Reasons, r => r.Code == "rim-not-seen");

    [Fact]
    public void With_no_cue_on_either_side_edge_and_spine_are_alike() => Refused("sides-alike", DrawnBlade.Trace(slab: true, heel: MatSide.Left));

    [Fact]
    public void A_lamps_light_that_falls_off_along_the_mat_is_no_halo() => Refused("sides-alike", DrawnBlade.Trace(slab: true, heel: MatSide.Left, fallsOff: 0.006));

    [Fact]
    public void What_one_photo_leaves_open_the_other_tells()
    {
        // The first shows a slab alone; in the second sky light is taken from the paper above it.
        using Picture first = DrawnBlade.Photo(false, [], 0, 0.8, false, 0, slab: true);
        using Picture second = DrawnBlade.Photo(false, [], 0.1, 0.8, false, 0, slab: true, tallAbove: true);

        TracedOutline traced = OutlineTracer.Trace(first, second, DrawnBlade.Mat, Length.FromMillimetres(0.5), told: new(null, MatSide.Left));

        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.Contains(traced.Reasons, r => r.Code == "lie-from-second");
        Assert.Equal(125, traced.TipOnMatMm.Y, 1.0);
    }

    [Fact]
    public void A_heel_told_to_lie_across_the_blade_is_refused_with_the_sides_that_would_be_right()
    {
        TracedOutline traced = DrawnBlade.Trace(heel: MatSide.Top);
        Refused("heel-not-there", traced);
        Assert.Contains("left or right", traced.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_empty_mat_is_refused() => Refused("no-blade", DrawnBlade.Trace(blade: false));

    [Fact]
    public void Two_blades_are_refused() => Refused("several-blades", DrawnBlade.Trace(second: true));

    [Fact]
    public void A_blurred_photo_is_refused() => Refused("blurred", DrawnBlade.Trace(blurPx: 5));

    [Fact]
    public void A_tip_off_the_mat_is_refused()
    {
        TracedOutline traced = DrawnBlade.Trace(shiftMm: 65);
        Assert.Equal(TraceOutcome.Refused, traced.Outcome);
        Assert.True(traced.Reasons[0].Code is "tip-outside" or "edge-not-found", traced.Reasons[0].Text);
    }

    private static void Refused(string code, TracedOutline traced)
    {
        Assert.Equal(TraceOutcome.Refused, traced.Outcome);
        Assert.Equal(code, Assert.Single(traced.Reasons).Code);
        Assert.Empty(traced.EdgeMm);
    }
}
