using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Core.Tests.Targets;

/// <summary>Our own target. Paper sizes: ISO 216 (secondary) and ANSI/ASME Y14.1 (memory).</summary>
public sealed class TargetLayoutTests
{
    public static TheoryData<string, double> Sheets => new()
    {
        { "a4", 60 }, { "a4", 100 }, { "a4", 250 }, { "a3", 100 }, { "a3", 200 }, { "letter", 100 }, { "tabloid", 100 }, { "tabloid", 300 },
    };

    [Theory]
    [MemberData(nameof(Sheets))]
    public void No_fiducial_with_its_quiet_margin_reaches_another_or_the_field_where_light_falls_or_the_rim(string paper, double distanceMm)
    {
        TargetSheet sheet = TargetLayout.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(distanceMm)).Sheet;
        var page = new SheetRectangle(0, 0, sheet.SizeMm.X, sheet.SizeMm.Y);

        SheetRectangle[] quiet = [.. sheet.Fiducials.Select(Quiet)];

        for (int i = 0; i < quiet.Length; i++)
        {
            Assert.False(quiet[i].Overlaps(sheet.SpotFieldMm), $"fiducial {i} and the field");
            Assert.True(quiet[i].LeftMm >= 4 && quiet[i].TopMm >= 4 && quiet[i].RightMm <= page.RightMm - 4 && quiet[i].BottomMm <= page.BottomMm - 4, $"fiducial {i} and the rim");
            for (int j = i + 1; j < quiet.Length; j++)
                Assert.False(quiet[i].Overlaps(quiet[j]), $"fiducials {i} and {j}");
        }
    }

    [Theory]
    [MemberData(nameof(Sheets))]
    public void No_fiducial_stands_on_the_reading_row(string paper, double distanceMm)
    {
        TargetSheet sheet = TargetLayout.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(distanceMm)).Sheet;

        Assert.All(sheet.Fiducials, f => Assert.True(f.BottomMm < sheet.ZeroMm.Y - 30 || f.TopMm > sheet.ZeroMm.Y + 30));
    }

    [Fact]
    public void Every_id_stands_once_and_is_in_the_dictionary_so_that_no_turn_of_the_sheet_looks_like_another()
    {
        TargetSheet sheet = TargetLayout.For(KnownPaperSizes.A4, Length.FromMillimetres(100)).Sheet;

        int[] ids = [.. sheet.Fiducials.Select(f => f.Id)];

        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.All(ids, id => Assert.InRange(id, 0, KnownFiducials.Count - 1));
        foreach (SheetFiducial f in sheet.Fiducials)
        {
            // Turned by half a turn about the sheet's middle it lands on the place of another id.
            Point2 turned = new(sheet.SizeMm.X - f.RightMm, sheet.SizeMm.Y - f.BottomMm);
            Assert.DoesNotContain(sheet.Fiducials, g => g.Id == f.Id && new Point2(g.LeftMm, g.TopMm).DistanceTo(turned) < 1);
        }
    }

    [Fact]
    public void Corners_run_clockwise_from_the_top_left()
    {
        SheetFiducial f = TargetLayout.For(KnownPaperSizes.A4, Length.FromMillimetres(100)).Sheet.Fiducials[0];

        Assert.Equal([new(f.LeftMm, f.TopMm), new(f.RightMm, f.TopMm), new(f.RightMm, f.BottomMm), new(f.LeftMm, f.BottomMm)], f.CornersMm);
    }

    [Fact]
    public void The_tick_of_15_degrees_at_100_mm_stands_where_the_tangent_of_30_degrees_says()
    {
        // Worked by hand: 100 tan 30° = 57.735 mm.
        TargetLayout layout = TargetLayout.For(KnownPaperSizes.A4, Length.FromMillimetres(100));

        DegreeTick[] ticks = [.. layout.Ticks.Where(t => Math.Abs(t.Bevel.Degrees - 15) < 1e-9)];

        Assert.Equal(2, ticks.Length);
        Assert.Equal(148.5 + 57.735, ticks.Single(t => t.TargetSide == Side.Right).AtXMm, 0.001);
        Assert.Equal(148.5 - 57.735, ticks.Single(t => t.TargetSide == Side.Left).AtXMm, 0.001);
    }

    [Theory]
    [InlineData("a4", 39)]
    [InlineData("a4", 310)]
    [InlineData("letter", 0)]
    [InlineData("letter", -100)]
    [InlineData("a3", 500)]
    public void A_distance_that_the_paper_cannot_serve_is_refused_with_the_range(string paper, double distanceMm)
    {
        ArgumentOutOfRangeException refused = Assert.Throws<ArgumentOutOfRangeException>(() =>
            TargetLayout.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(distanceMm)));

        Assert.Contains("distance must lie from 40 to", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_paper_is_refused_with_the_known_ones()
    {
        ArgumentException refused = Assert.Throws<ArgumentException>(() => KnownPaperSizes.Named("foolscap"));

        Assert.Contains("a4, a3, letter, tabloid", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(100, -1.5)]
    [InlineData(100, 0.7)]
    [InlineData(250, 2)]
    public void On_a_turned_sheet_the_thread_from_A_ends_beside_B_by_what_the_squareness_scale_says(double distanceMm, double turnDeg)
    {
        // Independent of the formula: distances in space, the sheet turned about its upright axis through zero, and bisection along it.
        SquarenessAid aid = TargetLayout.For(KnownPaperSizes.A3, Length.FromMillimetres(distanceMm)).Squareness;
        double a = (aid.BMm.X - aid.AMm.X) / 2;
        double b = aid.BMm.Y - (297.0 / 2);
        double e = double.DegreesToRadians(turnDeg);
        double FromEdge(double x) => Math.Sqrt(Math.Pow(x * Math.Cos(e), 2) + (b * b) + Math.Pow(distanceMm + (x * Math.Sin(e)), 2));
        double thread = FromEdge(-a);
        (double low, double high) = (0, 3 * a);
        for (int i = 0; i < 200; i++)
            (low, high) = FromEdge((low + high) / 2) < thread ? ((low + high) / 2, high) : (low, (low + high) / 2);

        Length shift = SquarenessAid.Shift(Length.FromMillimetres(distanceMm), Angle.FromDegrees(turnDeg));

        Assert.Equal(a - low, shift.Millimetres, 1e-6);
    }

    [Theory]
    [InlineData(double.NaN, 100)]
    [InlineData(100, 89)]
    [InlineData(111, 100)]
    public void Check_lines_that_cannot_be_a_printers_error_are_refused(double acrossMm, double downMm) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => PrintScale.FromCheckLines(Length.FromMillimetres(acrossMm), Length.FromMillimetres(downMm)));

    [Fact]
    public void Check_lines_of_99_and_101_mm_give_the_print_scale()
    {
        PrintScale scale = PrintScale.FromCheckLines(Length.FromMillimetres(99), Length.FromMillimetres(101));

        Assert.Equal(0.99, scale.Across, 1e-12);
        Assert.Equal(1.01, scale.Down, 1e-12);
    }

    private static SheetRectangle Quiet(SheetFiducial f)
    {
        double m = f.ModuleMm * TargetLayout.QuietModules;
        return new(f.LeftMm - m, f.TopMm - m, f.RightMm + m, f.BottomMm + m);
    }
}
