using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Tests.Pictures;

/// <summary>The pictures are to scale and say their numbers.</summary>
public sealed class PictureTests
{
    [Fact]
    public void The_committed_conventions_drawing_is_the_one_the_code_draws()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Whetwright.slnx")))
            folder = Path.GetDirectoryName(folder);
        Assert.NotNull(folder);

        string committed = File.ReadAllText(Path.Combine(folder, "docs", "conventions.svg")).ReplaceLineEndings("\n");

        Assert.Equal(SvgWriter.File(ConventionsPicture.Draw()), committed);
    }

    [Fact]
    public void The_rig_is_to_scale_wheel_bar_and_dimension_at_one_scale()
    {
        WheelAndBarView view = SampleSheets.Rig("Fine wheel", 250, 13);

        Drawing drawing = RigPicture.Draw(view, new());

        // The wheel's rim is the first polyline; the bar the last circle of more than a dot; the dimension arrow the one wide accent line.
        var rim = drawing.Items.OfType<DrawingItem.Path>().First(p => !p.Closed && p.PointsMm.Count > 50).PointsMm;
        double radius = (rim.Max(p => p.X) - rim.Min(p => p.X)) / 2;
        double scale = radius / 125;
        DrawingItem.Circle bar = drawing.Items.OfType<DrawingItem.Circle>().Last(c => c.Stroke is not null);
        DrawingItem.Path arrow = drawing.Items.OfType<DrawingItem.Path>().Single(p => !p.Closed && p.Stroke is { Ink: Ink.Accent, WidthMm: 0.6 });
        Assert.Equal(6 * scale, bar.RadiusMm, 0.01);
        Assert.Equal(view.BarFarSideToWheelMm * scale, arrow.PointsMm[0].DistanceTo(arrow.PointsMm[1]), 0.01);
        Assert.Equal(view.BarCentreToAxisMm * scale, rim.Min(p => p.Y) + radius - bar.CentreMm.Y, 0.05);
        Assert.Contains(drawing.Items.OfType<DrawingItem.Text>(), t => t.Words.Contains("13.00°", StringComparison.Ordinal));
    }

    [Fact]
    public void In_the_drawn_rig_the_edge_touches_the_rim()
    {
        WheelAndBarView view = SampleSheets.Rig("Fine wheel", 250, 13);

        Drawing drawing = RigPicture.Draw(view, new());

        var rim = drawing.Items.OfType<DrawingItem.Path>().First(p => !p.Closed && p.PointsMm.Count > 50).PointsMm;
        double radius = (rim.Max(p => p.X) - rim.Min(p => p.X)) / 2;
        Point2 axis = new((rim.Max(p => p.X) + rim.Min(p => p.X)) / 2, rim.Min(p => p.Y) + radius);
        DrawingItem.Path blade = drawing.Items.OfType<DrawingItem.Path>().Single(p => p is { Closed: true, Fill: Ink.Steel });
        Assert.Equal(radius, axis.DistanceTo(blade.PointsMm[0]), 0.02);
    }

    [Fact]
    public void A_left_handed_rig_is_the_mirror_of_the_right_handed_one()
    {
        WheelAndBarView view = SampleSheets.Rig("Fine wheel", 250, 13);

        Point2[] right = [.. RigPicture.Draw(view, new(), 90, 76).Items.OfType<DrawingItem.Path>().Single(p => p is { Closed: true, Fill: Ink.Steel }).PointsMm];
        Point2[] left = [.. RigPicture.Draw(view, new(LeftHanded: true), 90, 76).Items.OfType<DrawingItem.Path>().Single(p => p is { Closed: true, Fill: Ink.Steel }).PointsMm];

        Assert.All(right.Zip(left), pair => Assert.Equal(90, pair.First.X + pair.Second.X, 0.01));
    }

    [Fact]
    public void A_guided_rod_and_a_bench_stone_are_drawn_with_their_dimension()
    {
        double a = double.DegreesToRadians(15);
        var rod = new GuidedRodView { SupportDistanceMm = 120, AngleDeg = 15, FaceOffsetMm = 8, PivotHeightMm = (120 * Math.Tan(a)) + (8 / Math.Cos(a)), ProtrusionMm = 30 };
        var stone = new BenchStoneView { SupportDistanceMm = 42, AngleDeg = 15, LiftMm = 42 * Math.Sin(a) };

        Drawing rodDrawing = RigPicture.Draw(rod, new());
        Drawing stoneDrawing = RigPicture.Draw(stone, new());

        Assert.Contains(rodDrawing.Items.OfType<DrawingItem.Text>(), t => t.Words == new Figures(new()).Length(rod.PivotHeightMm, 2));
        Assert.Contains(stoneDrawing.Items.OfType<DrawingItem.Text>(), t => t.Words == "10.87 mm");
    }

    [Fact]
    public void The_section_is_to_scale_in_both_directions_and_what_goes_is_hatched()
    {
        SectionView view = SampleSheets.Section(15, 12, 0.4, 2, 0.05);

        Drawing drawing = SectionPicture.Draw(view, new(), 80, 60);

        DrawingItem.Path after = drawing.Items.OfType<DrawingItem.Path>().Single(p => p is { Closed: true, Fill: Ink.Steel });
        Point2 apex = after.PointsMm[2];
        Point2 shoulder = after.PointsMm[3];
        double angle = double.RadiansToDegrees(Math.Atan2(shoulder.X - apex.X, apex.Y - shoulder.Y));
        Assert.Equal(12.0, angle, 0.01);
        Assert.True(drawing.Items.OfType<DrawingItem.Path>().Count(p => p.Stroke is { WidthMm: 0.18 }) >= 6);
    }

    [Fact]
    public void The_angle_along_the_edge_names_its_largest_and_smallest()
    {
        BenchSheet sheet = SampleSheets.Kitchen();

        Drawing drawing = EdgeAnglePicture.Draw(sheet.Clamps[0].EdgeAngles!, new());

        string[] words = [.. drawing.Items.OfType<DrawingItem.Text>().Select(t => t.Words)];
        Assert.Contains("13.37°", words, StringComparer.Ordinal);
        Assert.Contains("12.63°", words, StringComparer.Ordinal);
        Assert.Contains("jaw", words, StringComparer.Ordinal);
    }

    [Fact]
    public void Marks_stand_on_their_side_of_the_target_at_their_distance_from_zero()
    {
        var view = new ReadingView { DistanceMm = 100, Marks = [new(Side.Left, "edge", 40, 10.9), new(Side.Right, "edge", 20, 5.7)] };

        Drawing drawing = ReadingPicture.Draw(view, new(), 92, 24);

        DrawingItem.Path[] arcs = [.. drawing.Items.OfType<DrawingItem.Path>().Where(p => p.PointsMm.Count == 9)];
        double left = 46 - arcs[0].PointsMm[4].X;
        double right = arcs[1].PointsMm[4].X - 46;
        Assert.True(left > 0 && right > 0);
        Assert.Equal(2.0, left / right, 0.001);
    }

    [Fact]
    public void A_pen_test_shows_bare_where_the_abrasive_touches_and_ink_on_the_rest()
    {
        var view = new PenTestView { FacetWidthMm = 1, BareFromMm = 0.75, BareToMm = 1, FirstTouch = "at the shoulder" };

        Drawing drawing = PenTestPicture.Draw(view, new(), 60, 23);

        DrawingItem.Path inked = drawing.Items.OfType<DrawingItem.Path>().Single(p => p.Fill == Ink.Steel);
        double height = inked.PointsMm.Max(p => p.Y) - inked.PointsMm.Min(p => p.Y);
        Assert.Equal(0.75 * 20, height, 0.01);
        Assert.Equal(21.5, inked.PointsMm.Max(p => p.Y), 0.01);
    }
}
