using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>
/// A thin plate's point over paper, drawn here from sharp steps, 25 samples to a pixel, the sky's share counted direction by direction over a dome weighted by the cosine (Lambert),
/// a lamp's shadow the plate itself shifted; four pixels to a millimetre, blurred by one pixel, two codes of noise. What was supposed beforehand is wrong on purpose.
/// </summary>
public sealed class Finding_the_tip_in_the_photo_around_it
{
    private const double PxPerMm = 4;
    private const int WidthPx = 240, HeightPx = 160;
    private const double HeightMm = 0.7;
    private const double Sky = 0.45;
    private const double BevelMm = 0.6;
    private static readonly Point2 s_tip = new(40.3, 20.2);

    [Theory]
    [InlineData(35, 0.25, 0.3, 0.9)] // slender and dark, supposed too far out
    [InlineData(35, 0.25, 0.3, -0.9)] // too far in
    [InlineData(70, 0.9, 0.35, 0.6)] // brighter than the paper behind a dark bevel
    [InlineData(95, 0.3, 0.4, 0.6)] // a cleaver's corner
    public void The_tip_is_found_to_two_tenths_of_a_millimetre_where_it_was_supposed_up_to_one_off(double angleDeg, double flank, double bevel, double supposed)
    {
        SeenTip? tip = Find(angleDeg, flank, bevel, supposed, default, share: 0);

        Assert.NotNull(tip);
        Assert.True(tip.Place.DistanceTo(s_tip) < 0.2, $"{tip.Place.DistanceTo(s_tip):0.00} mm off.");
        Assert.InRange(tip.UMm, 0.02, 0.25);
    }

    [Theory]
    [InlineData(35, 4, 4)] // all of it mirrors a lamp
    [InlineData(50, 0.5, 4)] // its bevel alone does
    public void Light_that_the_camera_cut_off_does_not_draw_the_tip_out(double angleDeg, double flank, double bevel)
    {
        SeenTip? tip = Find(angleDeg, flank, bevel, supposed: 0.6, default, share: 0);

        Assert.NotNull(tip);
        Assert.True(tip.Place.DistanceTo(s_tip) < 0.15, $"{tip.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Fact]
    public void A_shadow_of_the_steels_own_tone_beyond_the_spine_does_not_draw_the_tip_out()
    {
        // The lamp's share and the sky's leave the paper as dark as the steel; both sides' lines were taken along the shadow's rim.
        var shift = new Vector2(0.35, 0.25);
        SeenTip? tip = Find(55, 0.32, 0.3, supposed: 0.7, shift, share: 0.5);

        Assert.NotNull(tip);
        Assert.True(tip.Place.DistanceTo(s_tip) < 0.25, $"{tip.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Theory]
    [InlineData(0.45)]
    [InlineData(0.8)]
    public void A_line_ruled_on_the_mat_just_beyond_the_tip_does_not_draw_it_out(double beyondMm)
    {
        // Steel nearly as bright as the paper, a line 0.3 mm broad across before its point.
        double Ink(double x) => Math.Abs(x - s_tip.X - beyondMm) < 0.15 ? 0.2 : 0;
        double[] profile = [.. Enumerable.Range(0, 33).Select(j => Enumerable.Range(-40, 81).Average(k => Ink(s_tip.X + beyondMm + ((j - 16) * RuledLines.LateralMm) + (0.0125 * k)) * Math.Exp(-0.5 * Math.Pow(0.0125 * k / 0.25, 2))) * 81 * 0.0125 / (0.25 * Math.Sqrt(2 * Math.PI)))];
        var known = RuledInk.Of([new(Down: true, s_tip.X + beyondMm)], profile);

        double without = Find(70, flank: 0.8, bevel: 0.75, supposed: 0.5, default, share: 0, ink: Ink)?.Place.DistanceTo(s_tip) ?? 9;
        double with = Find(70, flank: 0.8, bevel: 0.75, supposed: 0.5, default, share: 0, ink: Ink, known: known)?.Place.DistanceTo(s_tip) ?? 9;

        Assert.True(with < 0.2 && with < without / 2, $"{with:0.00} mm off, {without:0.00} not knowing the line.");
    }

    [Fact]
    public void Steel_of_the_papers_own_tone_that_keeps_no_light_off_it_leaves_the_tip_in_doubt()
    {
        SeenTip? tip = Find(55, flank: 1, bevel: 1, supposed: 0.5, default, share: 0, sky: 0);

        Assert.True(tip is null || tip.UMm > SeenTip.DoubtfulMm, $"Said to be known to {tip?.UMm:0.00} mm.");
    }

    [Theory]
    [InlineData(0.3)]
    [InlineData(-0.5)]
    public void A_strip_of_stain_along_a_cleavers_front_is_not_taken_for_a_shadow_on_paper(double supposed)
    {
        // Steel mostly darker for a millimetre along its front, with blots as bright as the paper behind it: an even steel could have neither.
        static double Stain(double x, double y) => 1 + (0.35 * Math.Sin((2.6 * y) + 0.5)) + Blot(x + 2, y - 1.8, 1.6) + Blot(x + 2.3, y - 4, 1.4);
        static double Blot(double x, double y, double over) => over * Math.Exp(-0.5 * ((x * x) + (y * y)) / 0.36);
        SeenTip? tip = Find(95, 0.4, 0.3, supposed, default, share: 0, stain: Stain);

        Assert.NotNull(tip);
        Assert.True(tip.Place.DistanceTo(s_tip) < 0.15, $"{tip.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Fact]
    public void A_point_whose_flank_is_as_bright_as_the_paper_is_found_though_the_outline_goes_back_along_its_bevel()
    {
        using Picture photo = Draw(double.DegreesToRadians(30), flank: 0.9, bevel: 0.3, default, share: 0, Sky);
        (PhotoSampler sampler, LensMap map) = On(photo);
        Point2[] line = [.. Enumerable.Range(0, 180).Select(i => new Point2(2 + (i * 0.2), s_tip.Y))];
        Point2 end = s_tip + new Vector2(-0.6, 0.2);
        Point2[] there = [.. Enumerable.Range(0, 150).Select(i => new Point2(end.X - ((150 - i) * 0.2), s_tip.Y))];
        Point2[] back = [.. Enumerable.Range(1, 150).Select(i => new Point2(end.X - (i * 0.2), s_tip.Y + BevelMm))];
        Point2[] outline = [new(10, 35), .. there, end, .. back];

        EndedLine ended = new TipEnd(sampler, map, 1, 1 / PxPerMm, null, outline, 1 + there.Length).Of(line, new(HeightMm, HeightMm, Sky, 1, BevelMm, []), null);

        Assert.True(ended.Line[^1].DistanceTo(s_tip) < 0.2, $"{ended.Line[^1].DistanceTo(s_tip):0.00} mm off.");
        Assert.InRange(ended.TipUMm, 0.02, 0.5); // the outline ends 0.6 mm short: that leaves some doubt
    }

    [Fact]
    public void Stains_leave_a_shadow_beyond_the_spine_what_it_is()
    {
        // As even as paper in a lamp's shadow is, and as dark as the steel, which is blotched.
        static double Stain(double x, double y) => 1 + (0.5 * Math.Sin(2.9 * x) * Math.Sin((2.3 * y) + 0.7));
        SeenTip? tip = Find(55, 0.32, 0.3, supposed: 0.7, new(0.35, 0.25), share: 0.5, stain: Stain);

        Assert.NotNull(tip);
        Assert.True(tip.Place.DistanceTo(s_tip) < 0.25, $"{tip.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(-0.7)]
    public void A_heels_corner_is_found_as_a_tip_is_from_the_other_end(double supposed)
    {
        SeenTip? heel = FindHeel(supposed, default, light: 0);

        Assert.NotNull(heel);
        Assert.True(heel.Place.DistanceTo(s_tip) < 0.2, $"{heel.Place.DistanceTo(s_tip):0.00} mm off.");
        Assert.InRange(heel.Along.X, 0.99, 1);
    }

    [Fact]
    public void A_lamp_known_along_the_edge_throws_the_shadow_of_the_heels_face_to_the_same_side()
    {
        // 0.42 mm beyond the face, toward the handle, and as dark as the steel; the face's line was taken along its rim.
        SeenTip? heel = FindHeel(supposed: 0.42, new(0.42, -0.35), light: 0.5);

        Assert.NotNull(heel);
        Assert.Equal(0.42, heel.Best.Shape.Lamps[0].U, 0.08);
        Assert.True(heel.Place.DistanceTo(s_tip) < 0.2, $"{heel.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Fact]
    public void A_lamp_that_the_edge_has_leaning_the_wrong_way_along_it_is_put_right_where_the_edge_ends()
    {
        // An edge's light hardly tells how a lamp leans along it: here 0.9 mm toward the tip was said, and the shadow falls 0.9 mm toward the handle.
        SeenTip? heel = FindHeel(supposed: 0.9, new(0.9, -0.35), light: 0.5, saidAlong: -0.9);

        Assert.NotNull(heel);
        Assert.Equal(0.9, heel.Best.Shape.Lamps[0].U, 0.15);
        Assert.True(heel.Place.DistanceTo(s_tip) < 0.2, $"{heel.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Theory]
    [InlineData(0.8, 0.8, 0.3)] // the line runs beyond the heel
    [InlineData(-0.8, -0.8, 0.3)] // or stops short of it
    [InlineData(-7, 0.8, 1.0)] // or was taken to end where a bevel as bright as the paper looks like an unsharpened length
    public void A_heel_without_a_face_is_found_by_its_corner_alone_and_the_line_is_carried_on_to_it(double lineEndsMm, double supposed, double bevel)
    {
        (SeenTip Seen, Point2[] Line)? heel = FindWithoutFace(lineEndsMm, supposed, bevel: bevel);

        Assert.NotNull(heel);
        Assert.True(heel.Value.Seen.Place.DistanceTo(s_tip) < 0.2, $"{heel.Value.Seen.Place.DistanceTo(s_tip):0.00} mm off.");
        Assert.True(heel.Value.Line[0].DistanceTo(s_tip) < 0.2, $"The line begins {heel.Value.Line[0].DistanceTo(s_tip):0.00} mm off.");
    }

    [Theory]
    [InlineData(-10, -10, 0)] // along the edge nothing ends
    [InlineData(-7, 0, 0.6)] // an unsharpened length's corner stands back from the edge's line, in its own shade
    public void Where_the_edges_own_line_has_no_corner_none_is_found(double lineEndsMm, double supposed, double lineOutMm) =>
        Assert.Null(FindWithoutFace(lineEndsMm, supposed, lineOutMm));

    [Fact]
    public void A_heel_well_outside_of_where_the_outline_begins_is_found_where_the_handle_ends()
    {
        (SeenTip Seen, Point2[] Line)? heel = FindWithoutFace(lineEndsMm: -9, supposed: 0.8, bevel: 1, handle: true);

        Assert.NotNull(heel);
        Assert.True(heel.Value.Line[0].DistanceTo(s_tip) < 0.2, $"The line begins {heel.Value.Line[0].DistanceTo(s_tip):0.00} mm off.");
    }

    [Theory]
    [InlineData(-0.8, 0, 0)] // the line begins where the handle ends
    [InlineData(-9, -4, 0)] // along the edge before the handle nothing ends
    [InlineData(-9, 0, 0.6)] // an unsharpened length
    public void No_heel_is_carried_on_to_a_handle_that_it_does_not_reach(double lineEndsMm, double handleMm, double lineOutMm) =>
        Assert.Null(FindWithoutFace(lineEndsMm, handleMm, lineOutMm, bevel: 1, handle: true));

    private static (SeenTip Seen, Point2[] Line)? FindWithoutFace(double lineEndsMm, double supposed, double lineOutMm = 0, double bevel = 0.3, bool handle = false)
    {
        using Picture photo = Draw(Math.PI / 2, flank: 0.32, bevel, default, share: 0, Sky);
        (PhotoSampler sampler, LensMap map) = On(photo);
        Point2[] line = [.. Enumerable.Range(0, 180).Select(i => s_tip + new Vector2(lineEndsMm - (i * 0.2), -lineOutMm))];
        var light = new EdgeLight(HeightMm, HeightMm, Sky, 1, BevelMm, []);
        TipSearch Search(EdgeLight l) => new(sampler, map, 1, 1 / PxPerMm, null, l) { AngleSpreadRad = HeelCorner.AnySpreadRad, ReachMm = HeelCorner.ShortReachMm };
        (Point2 at, Point2 spine) = (s_tip + new Vector2(supposed, 1), new Point2(10, 35));
        return handle ? HeelCorner.AtHandlesEnd(line, light, at, spine, Search, p => sampler.At(map.ToPhoto(p)).G) : HeelCorner.WithoutFace(line, light, at, spine, Search, p => sampler.At(map.ToPhoto(p)).G);
    }

    [Theory]
    [InlineData(0.5, 0.4)] // blur rounds a point off by as much
    [InlineData(3.0, 1.5)]
    public void A_tip_from_lines_that_meet_beyond_the_outlines_end_is_in_doubt_by_half_of_what_lies_between(double beyondMm, double uMm) =>
        Assert.Equal(uMm, TipEnd.ByLinesUMm(new(100, 50), new(100 - beyondMm, 50)), 1e-9);

    [Fact]
    public void A_face_that_the_corner_contradicts_gives_way_to_another_that_it_bears_out()
    {
        Assert.NotNull(FindHeel(supposed: 0, default, light: 0, turnedDeg: 25, otherFaceDeg: 0));
    }

    [Fact]
    public void A_face_torn_by_shadows_does_not_say_how_the_corner_is_turned()
    {
        SeenTip? heel = FindHeel(supposed: 0.5, default, light: 0, turnedDeg: 25, scatterMm: 0.4);

        Assert.NotNull(heel);
        Assert.True(heel.Place.DistanceTo(s_tip) < 0.2, $"{heel.Place.DistanceTo(s_tip):0.00} mm off.");
    }

    [Fact]
    public void A_plain_corner_is_believed_against_a_face_that_only_the_outline_tells_where_the_outline_turns_too()
    {
        SeenTip heel = FindHeel(supposed: 0.3, default, light: 0)!;
        Assert.True(HeelCorner.StandsAlone(heel, s_tip + new Vector2(1, 0.5)));
        Assert.False(HeelCorner.StandsAlone(heel, s_tip + new Vector2(3, 0.5)));
        Assert.False(HeelCorner.StandsAlone(heel with { UMm = 0.5 }, s_tip));
    }

    [Fact]
    public void A_face_too_short_or_turned_against_the_corner_that_is_seen_tells_no_corner()
    {
        Assert.Null(FindHeel(supposed: 0, default, light: 0, faceMm: 2.5));
        Assert.Null(FindHeel(supposed: 0, default, light: 0, turnedDeg: 25));
    }

    // The same plate as a blade whose heel is the corner: its edge runs from there to the left, its face down.
    private static SeenTip? FindHeel(double supposed, Vector2 shift, double light, double faceMm = 10, double turnedDeg = 0, double? saidAlong = null, double? otherFaceDeg = null, double scatterMm = 0.03)
    {
        using Picture photo = Draw(Math.PI / 2, flank: 0.32, bevel: 0.3, shift, light, Sky);
        (PhotoSampler sampler, LensMap map) = On(photo);
        EdgeLamp[] lamps = light > 0 ? [new(light, -shift.Y / HeightMm, (saidAlong ?? shift.X) / HeightMm, 0.1)] : [];
        Point2 at = s_tip + new Vector2(supposed, 0);
        Point2[] line = [.. Enumerable.Range(0, 180).Select(i => at + new Vector2(i * -0.2, 0))];
        static Vector2 Down(double deg) => new(-Math.Sin(double.DegreesToRadians(deg)), Math.Cos(double.DegreesToRadians(deg)));
        Vector2 down = Down(turnedDeg);
        var face = new HeelFace(new(at + (down * 1.5), down), scatterMm, [.. Enumerable.Range(0, 1 + (int)(faceMm / 0.5)).Select(i => at + (down * (1.5 + (0.5 * i))))], new(-1, 0), 0);
        return HeelCorner.Of(line, new(HeightMm, HeightMm, Sky, 1, BevelMm, lamps), face, otherFaceDeg is { } deg ? [face.Line, new(at, Down(deg))] : [face.Line], new(10, 35), l => new(sampler, map, 1, 1 / PxPerMm, null, l));
    }

    private static (PhotoSampler Sampler, LensMap Map) On(Picture photo)
    {
        const double focal = 0.75 * WidthPx;
        return (PhotoSampler.Around(photo, [new(0, 0), new(WidthPx, HeightPx)], 0), LensMap.From([PxPerMm / focal, 0, -(WidthPx - 1) / 2.0 / focal, 0, PxPerMm / focal, -(HeightPx - 1) / 2.0 / focal, 0, 0, 0, 0], WidthPx, HeightPx));
    }

    private static SeenTip? Find(double angleDeg, double flank, double bevel, double supposed, Vector2 shift, double share, double sky = Sky, Func<double, double, double>? stain = null, Func<double, double>? ink = null, RuledInk? known = null)
    {
        using Picture photo = Draw(double.DegreesToRadians(angleDeg), flank, bevel, shift, share, sky, stain, ink);
        (PhotoSampler sampler, LensMap map) = On(photo);
        sampler = sampler.With(known);
        var light = new EdgeLight(HeightMm, HeightMm, sky, 1, BevelMm, []);
        Point2[] line = [.. Enumerable.Range(0, 180).Select(i => new Point2(2 + (i * 0.2), s_tip.Y))];
        (double sin, double cos) = Math.SinCos(double.DegreesToRadians(angleDeg));
        Point2 at = s_tip + new Vector2(supposed, 0);
        var spine = new StraightLine(at + (new Vector2(-cos, sin) * 3), new(-cos, sin));
        return new TipSearch(sampler, map, 1, 1 / PxPerMm, null, light).Of(line, at, spine, new(10, 35));
    }

    // The edge runs along y = tip to the right, the steel below it.
    private static Picture Draw(double angle, double flank, double bevel, Vector2 shift, double share, double sky, Func<double, double, double>? stain = null, Func<double, double>? ink = null)
    {
        (double sin, double cos) = Math.SinCos(angle);
        bool Steel(double x, double y) => y > s_tip.Y && (-sin * (x - s_tip.X)) - (cos * (y - s_tip.Y)) > 0;
        const int directions = 300;
        (double X, double Y)[] dome = [.. Enumerable.Range(0, directions).Select(i =>
        {
            double s = Math.Sqrt((i + 0.5) / directions);
            double run = HeightMm * s / Math.Sqrt(1 - (s * s));
            return (run * Math.Cos(i * 2.399963), run * Math.Sin(i * 2.399963));
        })];
        using var mat = new Mat(HeightPx, WidthPx, MatType.CV_32FC1);
        for (int row = 0; row < HeightPx; row++)
        {
            for (int column = 0; column < WidthPx; column++)
            {
                (double x, double y) = (column / PxPerMm, row / PxPerMm);
                bool near = Math.Abs(x - s_tip.X) < 11 && Math.Abs(y - s_tip.Y) < 9;
                double open = 1 - (near && sky > 0 ? sky * dome.Count(d => Steel(x + d.X, y + d.Y)) / directions : 0);
                double sum = 0;
                for (int part = 0; part < 25; part++)
                {
                    double px = x + (((part % 5) - 2) / (5 * PxPerMm));
                    double py = y + (((part / 5) - 2) / (5 * PxPerMm));
                    sum += Steel(px, py) ? (py < s_tip.Y + BevelMm ? bevel : flank * (stain?.Invoke(px - s_tip.X, py - s_tip.Y) ?? 1)) : (1 - (ink?.Invoke(px) ?? 0)) * (open - (share > 0 && Steel(px - shift.X, py - shift.Y) ? share : 0));
                }

                mat.Set(row, column, (float)(0.75 * sum / 25));
            }
        }

        using var soft = new Mat();
        Cv2.GaussianBlur(mat, soft, new Size(0, 0), 1);
        var picture = new Mat(HeightPx, WidthPx, MatType.CV_8UC3);
        var random = new Random(11);
        for (int row = 0; row < HeightPx; row++)
        {
            for (int column = 0; column < WidthPx; column++)
            {
                double light = soft.Get<float>(row, column);
                double code = 255 * (light <= 0.0031308 ? 12.92 * light : (1.055 * Math.Pow(light, 1 / 2.4)) - 0.055);
                byte Noisy() => (byte)Math.Clamp(Math.Round(code) + random.Next(-2, 3), 0, 255);
                picture.Set(row, column, new Vec3b(Noisy(), Noisy(), Noisy()));
            }
        }

        return Picture.Own(picture);
    }
}
