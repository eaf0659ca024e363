using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

public sealed class Finding_the_blade
{
    [Fact]
    public void Words_printed_beside_the_edge_are_no_part_of_the_blade()
    {
        TracedOutline traced = DrawnBlade.Trace(words: true);

        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 0.5);
        Assert.InRange(traced.TipOnMatMm.DistanceTo(DrawnBlade.Tip), 0, 0.5);
        Assert.Equal(4, traced.EdgeMm.Max(p => p.Y), 0.2);
    }

    [Fact]
    public void A_check_line_and_its_words_that_run_under_the_blade_are_no_part_of_it()
    {
        TracedOutline traced = DrawnBlade.Trace(checkLine: true);

        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 0.5);
        Assert.InRange(traced.TipOnMatMm.DistanceTo(DrawnBlade.Tip), 0, 0.5);
        Assert.Equal(4, traced.EdgeMm.Max(p => p.Y), 0.2);
    }

    [Fact]
    public void A_dark_handle_as_wide_as_the_blade_is_told_by_its_tone()
    {
        TracedOutline traced = DrawnBlade.Trace(gripMm: 85);

        Assert.Equal(TraceOutcome.Traced, traced.Outcome);
        Assert.InRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 0.7);
        Assert.InRange(traced.TipOnMatMm.DistanceTo(DrawnBlade.Tip), 0, 0.5);
    }

    [Fact]
    public void A_blade_told_to_lie_on_its_flank_has_no_handle_as_wide_as_itself()
    {
        TracedOutline traced = DrawnBlade.Trace(gripMm: 85, onFlank: true, edge: MatSide.Top);

        Assert.NotInRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 40);
    }

    [Fact]
    public void Dark_steel_whose_tone_changes_aslant_is_no_handle()
    {
        TracedOutline traced = DrawnBlade.Trace(gripMm: 85, gripSlantMm: 40);

        Assert.NotInRange(traced.HeelOnMatMm.DistanceTo(DrawnBlade.Heel), 0, 40);
    }

    [Fact]
    public void A_bay_wider_than_its_mouth_is_steel_as_bright_as_the_paper()
    {
        // 120 by 40 cells of rim, inside taken for paper, open over 20 cells at one end.
        using Mat things = new(200, 300, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(50, 50, 180, 80), Scalar.All(255), -1);
        Cv2.Rectangle(things, new Rect(60, 60, 160, 60), Scalar.All(0), -1);
        Cv2.Rectangle(things, new Rect(215, 78, 20, 20), Scalar.All(0), -1);

        SilhouetteBays.Fill(things);

        Assert.Equal(255, things.At<byte>(90, 120));
        Assert.Equal(0, things.At<byte>(90, 260));
    }

    [Theory]
    [InlineData(380)]
    [InlineData(440)] // runs off the mat and so divides the paper in two
    public void Dark_steel_whose_rim_has_a_gap_where_it_passes_the_papers_tone_belongs_to_the_blade(int steelTo)
    {
        // Steel from column 0 on, rows 100 to 169: bright, the paper's tone at column 120, then ever darker; of the dark part only the rim is known.
        var random = new Random(7);
        const int rows = 270;
        const int columns = 440;
        using Mat tones = new(rows, columns, MatType.CV_32FC3, Scalar.All(0));
        using Mat things = new(rows, columns, MatType.CV_8UC1, Scalar.All(0));
        using Mat level = new(tones.Size(), MatType.CV_32FC3, Scalar.All(0));
        using Mat valid = new(tones.Size(), MatType.CV_8UC1, Scalar.All(255));
        for (int row = 0; row < rows; row++)
        {
            for (int column = 0; column < columns; column++)
            {
                bool steel = row is >= 100 and < 170 && column < steelTo;
                bool rim = row is < 103 or >= 167 || column >= steelTo - 3;
                double tone = steel ? (120 - column) / 400.0 : 0;
                float noisy = (float)(tone + (0.006 * (random.NextDouble() - 0.5)));
                tones.Set(row, column, new Vec3f(noisy, noisy, noisy));
                if (steel && (tone > 0.05 || (rim && tone < -0.06)))
                    things.Set(row, column, (byte)255);
            }
        }

        RimFill.Fill(things, tones, level, valid, []);

        Assert.All(Enumerable.Range(180, 190), column => Assert.Equal(255, things.At<byte>(135, column)));
        Assert.All(Enumerable.Range(0, columns), column => Assert.Equal(0, things.At<byte>(92, column)));
        Assert.All(Enumerable.Range(0, columns), column => Assert.Equal(0, things.At<byte>(178, column)));
    }

    [Fact]
    public void A_step_that_rises_slowly_tells_a_handle_too()
    {
        // A handle 20 mm broad over 110 mm; the edge's side, below, rises by 2.1 mm over 5.4.
        List<Point2> p = [];
        Draw(p, new(0, 0), new(110, 0), 0.25);
        Draw(p, new(110, 0), new(115.4, -2.1), 0.25);
        Draw(p, new(115.4, -2.1), new(230, -2.1), 0.25);
        Draw(p, new(230, -2.1), new(260, 12), 0.25);
        Draw(p, new(260, 12), new(230, 20), 0.25);
        Draw(p, new(230, 20), new(0, 20), 0.25);
        Draw(p, new(0, 20), new(0, 0), 0.25);

        BladeLie lie = BladeLie.Of([.. p]);

        Assert.Equal(112, lie.BladeFromMm, 6.0);
    }

    [Fact]
    public void A_notch_before_a_handle_is_mat()
    {
        using Mat things = new(200, 300, MatType.CV_8UC1, Scalar.All(0));
        Cv2.Rectangle(things, new Rect(120, 50, 120, 80), Scalar.All(255), -1);
        Cv2.Rectangle(things, new Rect(20, 50, 120, 30), Scalar.All(255), -1);

        SilhouetteBays.Fill(things);

        Assert.Equal(0, things.At<byte>(100, 100));
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

    [Theory]
    [InlineData(25, true)] // two coins of 26 mm side by side
    [InlineData(100, false)] // the same rounds joined by a bar, as a blade that narrows in its middle
    public void Two_coins_that_touch_are_no_blade(double apartMm, bool rounds)
    {
        List<Point2> p = [];
        for (double deg = 10; deg < 350; deg += 2)
            p.Add(new(13 * Math.Cos(deg * Math.PI / 180), 13 * Math.Sin(deg * Math.PI / 180)));
        for (double x = 13; x < apartMm - 13; x += 0.5)
            p.Add(new(x, -2.3));
        for (double deg = 190; deg < 530; deg += 2)
            p.Add(new(apartMm + (13 * Math.Cos(deg * Math.PI / 180)), 13 * Math.Sin(deg * Math.PI / 180)));
        for (double x = apartMm - 13; x > 13; x -= 0.5)
            p.Add(new(x, 2.3));

        Assert.Equal(rounds, new ThingOnMat(p, 1000, apartMm + 26, 26, Cut: false).TwoRounds);
    }

    private static Point2[] Through(bool turned, params Point2[] corners)
    {
        List<Point2> p = [];
        for (int i = 1; i < corners.Length; i++)
            Draw(p, corners[i - 1], corners[i], 0.25);
        return turned ? [.. p.Select(q => new Point2(-q.X, -q.Y))] : [.. p];
    }

    private static Point2[] Necked(double neckMm, bool turned, double chipMm = 0)
    {
        List<Point2> p = [];
        void Through(params Point2[] corners)
        {
            for (int i = 1; i < corners.Length; i++)
                Draw(p, corners[i - 1], corners[i], 0.25);
        }

        Through(new(0, 0), new(90, 0), new(90, neckMm + chipMm), new(94, neckMm + chipMm), new(94, 0), new(150, 0), new(175, 20), new(170, 21));
        Through(new(170, 21), new(94, 21), new(94, 20 - neckMm), new(90, 20 - neckMm), new(90, 20), new(0, 20), new(0, 0));
        return turned ? [.. p.Select(q => new Point2(175 - q.X, 21 - q.Y))] : [.. p];
    }

    [Fact]
    public void A_shadow_beside_the_heels_face_does_not_move_the_heel()
    {
        // The edge along y = 0 to the heel at the origin; beside the face, 1.4 mm off, the rim of its shadow, from 1.2 mm above the corner on.
        Point2[] stations = [.. Enumerable.Range(0, 600).Select(i => new Point2(i * 0.1, 0))];
        List<Point2> line = [];
        Draw(line, new(-1.4, 20), new(-1.4, 1.2));
        Draw(line, new(-1.4, 1.2), new(0, 1.2));
        Draw(line, new(0, 1.2), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));
        var face = new HeelFace(new(new(-1.4, 2), new(0, 1)), 0.03, [], new(1, 0), 0);

        Point2[] ended = EdgeEnds.AtHeel(stations, face, [.. line], heelAt);

        Assert.Equal(0, ended[0].X, 0.15);
        Assert.Equal(0, ended[0].Y, 0.1);
    }

    [Theory]
    [InlineData(4.5, 2.2)] // what lies within a millimetre of its top may be the handle's corner
    [InlineData(12, 9.7)]
    public void The_heels_face_ends_where_the_outline_turns_along_the_handle(double faceMm, double atLeastMm)
    {
        // Up the face, which leans by a twentieth, then along the handle's side, which leaves the edge by a tenth.
        List<Point2> line = [];
        double top = faceMm / 20;
        Draw(line, new(-40, faceMm + 4), new(top, faceMm));
        Draw(line, new(top, faceMm), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));

        List<Point2> face = BareSteel.Up([.. line], heelAt, new(0, 0), new(1, 0), new(0, 1));

        Assert.True(face[0].DistanceTo(face[^1]) > atLeastMm - 0.5, $"Only {face[0].DistanceTo(face[^1]):0.0} mm of it.");
        Assert.All(face, p => Assert.Equal(p.Y / 20, p.X, 0.1));
    }

    [Fact]
    public void A_torn_outline_that_winds_on_the_face_has_not_left_it()
    {
        // Six times to and fro across the face within half a millimetre of it: eight millimetres of way, no further up.
        List<Point2> line = [];
        Draw(line, new(0, 14), new(0, 5));
        for (int i = 0; i < 6; i++)
            Draw(line, new(i % 2 == 0 ? 0 : 1.3, 5 - (0.1 * i)), new(i % 2 == 0 ? 1.3 : 0, 4.9 - (0.1 * i)));
        Draw(line, new(0, 4.4), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));

        List<Point2> face = BareSteel.Up([.. line], heelAt, new(0, 0), new(1, 0), new(0, 1));

        Assert.True(face[^1].Y > 12, $"It ends {face[^1].Y:0.0} mm up.");
    }

    [Fact]
    public void A_band_that_was_no_shadow_gives_the_face_back_to_the_outline()
    {
        // The outline of the face along x = 0; 3.2 mm were taken off for a shadow, bright patina in truth.
        var face = new HeelFace(new(new(3.2, 2), new(0, 1)), 0.03, [.. Enumerable.Range(2, 20).Select(i => new Point2(0, i * 0.5))], new(1, 0), 3.2);

        HeelFace own = face.WithoutBand();

        Assert.Equal(0, own.Line.At.X, 0.01);
        Assert.Equal(1, Math.Abs(own.Line.Direction.Y), 0.001);
        Assert.Equal(0, own.BandMm);
    }

    [Fact]
    public void The_edge_ends_on_the_heels_face_where_the_outlines_corner_was_torn()
    {
        // Stations that run 2 mm past the face and dip, as a torn corner leaves them.
        Point2[] stations = [.. Enumerable.Range(-20, 600).Select(i => new Point2(i * 0.1, i < 0 ? -i * 0.04 : 0))];
        List<Point2> line = [];
        Draw(line, new(0, 20), new(0, 0));
        int heelAt = line.Count;
        Draw(line, new(0, 0), new(60, 0));

        Point2[] ended = EdgeEnds.AtHeel(stations, new HeelFace(new(new(0, 2), new(0, 1)), 0.02, [], new(1, 0), 0), [.. line], heelAt);

        Assert.Equal(0, ended[0].X, 0.1);
        Assert.Equal(0, ended[0].Y, 0.1);
    }

    [Theory]
    [InlineData(60.4, 60.2)] // both agree: midway
    [InlineData(61.5, 60)] // the meeting runs off: the outline's own end
    public void A_sharp_tip_lies_between_the_outlines_end_and_where_its_sides_meet_under_the_light(double meetsAt, double tip)
    {
        // A point of 45° whose outline ends at x = 60.
        Point2[] stations = [.. Enumerable.Range(0, 590).Select(i => new Point2(i * 0.1, 0))];
        List<Point2> line = [];
        Draw(line, new(0, 0), new(60, 0));
        int tipAt = line.Count - 1;
        Draw(line, new(60, 0), new(40, 20));
        var spine = new StraightLine(new(meetsAt - 3, 3), new Vector2(-1, 1).Normalized());

        Point2[] ended = TipLines.Of(stations, [.. line], tipAt, spine);

        Assert.Equal(tip, ended[^1].X, 0.12);
        Assert.Equal(0, ended[^1].Y, 0.05);
    }

    [Fact]
    public void One_station_that_holds_a_handles_neck_does_not_make_the_blade_higher()
    {
        // Edge along y = 0, spine at −30; from 2 to 4 mm a neck at −37.
        Point2[] edge = [new(0, 0), new(60, 0)];
        Point2[] blade = [.. edge, new(60, -30), new(4, -30), new(4, -37), new(2, -37), new(2, -30), new(0, -30)];

        Assert.Equal(30, BladeOnly.Largest(blade, edge)!.Value.HeightMm, 0.01);
    }

    private static void Draw(List<Point2> into, Point2 from, Point2 to, double step = 0.1)
    {
        double length = from.DistanceTo(to);
        for (double s = 0; s < length; s += step)
            into.Add(from + ((to - from) * (s / length)));
    }
}
