using System.Globalization;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Shop;

namespace Whetwright.Paper.Tests.Shop;

/// <summary>
/// The charts read back as a person reads them: scales from the printed numbers and where they stand, curves from their ink, angles from the labels
/// at the curves' ends; held against Core's own formulas.
/// </summary>
public sealed class Nomograms
{
    private static readonly WheelAndBarRig Rig = new()
    {
        Name = "Invented rig", Box = new(20, 180, 90, 150), BarDiameterMm = 12, Seat = BarSeat.Rests, OffsetMm = 0, HolderHalfThicknessMm = 7, JawToPivotMm = 60,
        Wheels = [new("Fine wheel", new(Length.FromMillimetres(248.6), Length.FromMillimetres(0.2)))],
    };

    [Fact]
    public void Every_curve_read_off_the_wheels_chart_grinds_the_angle_it_is_labelled_with()
    {
        Drawing page = Assert.Single(Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.A4, new()));

        ReadCurve[] curves = [.. Curves(page).Where(c => c.Lowest < 190)];

        Assert.Equal(Enumerable.Range(10, 16), curves.Select(c => c.Deg).Order());
        foreach (ReadCurve curve in curves)
        {
            foreach ((double protrusion, double dial) in curve.Points)
            {
                double d = dial - 6 + 124.3; // the near point of a wheel of 248.6 mm, a bar of 12 mm
                double angle = double.RadiansToDegrees(WheelAndBar.AngleRad(124.3, d, protrusion + 60, -13));
                Assert.Equal(curve.Deg, angle, 0.02);
            }
        }
    }

    [Fact]
    public void What_the_lower_chart_adds_for_lost_diameter_keeps_the_angle()
    {
        Drawing page = Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.A4, new())[0];
        ReadCurve[] added = [.. Curves(page).Where(c => c.Lowest > 190)];

        Assert.Equal([10, 15, 20, 25], added.Select(c => c.Deg).Order());
        foreach (ReadCurve curve in added)
        {
            foreach ((double protrusion, double add) in curve.Points)
            {
                // New wheel's distance plus what was read, dialled before a wheel 10 mm smaller.
                double before = WheelAndBar.CentreDistanceMm(124.3, double.DegreesToRadians(curve.Deg), protrusion + 60, -13) - 124.3;
                double angle = double.RadiansToDegrees(WheelAndBar.AngleRad(119.3, before + add + 119.3, protrusion + 60, -13));
                Assert.Equal(curve.Deg, angle, 0.03);
            }
        }
    }

    [Fact]
    public void In_inches_the_same_distances_are_read()
    {
        Drawing page = Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.Letter, new(Inches: true))[0];

        foreach (ReadCurve curve in Curves(page).Where(c => c.Lowest < 190))
        {
            foreach ((double protrusion, double dial) in curve.Points)
            {
                double d = (dial * 25.4) - 6 + 124.3;
                Assert.Equal(curve.Deg, double.RadiansToDegrees(WheelAndBar.AngleRad(124.3, d, (protrusion * 25.4) + 60, -13)), 0.05);
            }
        }
    }

    [Fact]
    public void A_reading_off_by_the_stated_paper_error_both_ways_keeps_the_stated_angle()
    {
        // The corners of the chart, each reading off by 0.4 mm of paper up and across at once, in the ratio the statement takes (root of squares).
        Drawing page = Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.A4, new())[0];
        string stated = page.Items.OfType<DrawingItem.Text>().Select(t => t.Words).Single(w => w.StartsWith("Read to", StringComparison.Ordinal));
        double deg = double.Parse(stated.Split("which is ± ")[1].Split('°')[0], CultureInfo.InvariantCulture);

        (double up, double across) = Scales(page);
        double worst = 0;
        foreach (double p in (double[])[90, 150])
        {
            foreach (double angle in (double[])[10, 25])
            {
                double d = WheelAndBar.CentreDistanceMm(124.3, double.DegreesToRadians(angle), p, -13);
                double byDial = double.RadiansToDegrees(WheelAndBar.AngleRad(124.3, d + (Nomogram.ReadMm / up), p, -13)) - angle;
                double byProtrusion = double.RadiansToDegrees(WheelAndBar.AngleRad(124.3, d, p + (Nomogram.ReadMm / across), -13)) - angle;
                worst = Math.Max(worst, Math.Sqrt((byDial * byDial) + (byProtrusion * byProtrusion)));
            }
        }

        Assert.Equal(worst, deg, 0.012);
    }

    [Fact]
    public void A_bar_off_the_mid_plane_gives_each_side_its_own_chart()
    {
        IReadOnlyList<Drawing> pages = Nomogram.Of(Rig with { OffsetMm = 2 }, Rig.Wheels[0], PaperFormat.A4, new());

        Assert.Equal(2, pages.Count);
        Assert.Contains(pages[0].Items.OfType<DrawingItem.Text>(), t => t.Words.EndsWith("the blade's left", StringComparison.Ordinal));
        foreach ((Drawing page, double q) in pages.Zip((double[])[-15, -11]))
        {
            (double protrusion, double dial) = Curves(page).First(c => c.Deg == 15 && c.Lowest < 190).Points[30];
            Assert.Equal(15, double.RadiansToDegrees(WheelAndBar.AngleRad(124.3, dial - 6 + 124.3, protrusion + 60, q)), 0.02);
        }
    }

    [Fact]
    public void The_rods_chart_gives_the_pivots_height()
    {
        var rod = new GuidedRodRig { Name = "Invented rod", PivotHeightMm = (20, 200), Box = new(20, 180, 90, 180), FaceOffsetMm = 12 };

        Drawing page = Assert.Single(Nomogram.Of(rod, PaperFormat.A4, new(DecimalComma: true)));

        foreach (ReadCurve curve in Curves(page))
            Assert.All(curve.Points, p => Assert.Equal(curve.Deg, double.RadiansToDegrees(GuidedRod.AngleRad(p.Up, p.Across, 12)), 0.03));
    }

    [Theory]
    [InlineData(false, "a4")]
    [InlineData(true, "letter")]
    public void Words_keep_to_the_page_and_off_each_other(bool inches, string paper)
    {
        WheelAndBarRig bare = Rig with { BarDiameterMm = null, JawToPivotMm = null, HolderHalfThicknessMm = null, OffsetMm = null, Grip = GripKind.FixedJaw };
        PageChecks.Clean(Nomogram.Of(bare, bare.Wheels[0], PaperFormat.Named(paper), new(inches), "measured 2026-11-20", invented: true));
    }

    [Fact]
    public void Too_small_a_sheet_or_a_senseless_span_is_refused()
    {
        Assert.Contains("too small", Assert.Throws<ArgumentException>(() => Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.A5, new())).Message, StringComparison.Ordinal);
        Assert.Contains("from 1 to 60°", Assert.Throws<ArgumentException>(() => Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.A4, new(), span: new(100, 90))).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Nomogram.Of(Rig, Rig.Wheels[0], PaperFormat.A4, new(), span: new(double.NaN, 90)));
    }

    private sealed record ReadCurve(int Deg, double Lowest, (double Across, double Up)[] Points);

    private static (double Up, double Across) Scales(Drawing page)
    {
        DrawingItem.Text[] up = [.. Numbers(page).Where(t => t.Anchor == TextAnchor.End && t.AtMm.Y < 188)];
        DrawingItem.Text[] across = [.. Numbers(page).Where(t => t.Anchor == TextAnchor.Middle && t.AtMm.Y < 200)];
        return (Math.Abs((up[^1].AtMm.Y - up[0].AtMm.Y) / (Number(up[^1]) - Number(up[0]))), (across[^1].AtMm.X - across[0].AtMm.X) / (Number(across[^1]) - Number(across[0])));
    }

    private static IEnumerable<ReadCurve> Curves(Drawing page)
    {
        DrawingItem.Text[] numbers = [.. Numbers(page)];
        DrawingItem.Text[] ends = [.. page.Items.OfType<DrawingItem.Text>().Where(t => t.Words.Length <= 3 && t.Words.EndsWith('°'))];
        foreach (DrawingItem.Path curve in page.Items.OfType<DrawingItem.Path>().Where(p => !p.Closed && p.PointsMm.Count == 61))
        {
            Point2 end = curve.PointsMm[^1];
            DrawingItem.Text label = ends.MinBy(t => Math.Abs(t.AtMm.Y - 1 - end.Y))!;
            if (Math.Abs(label.AtMm.Y - 1 - end.Y) > 0.5)
                continue; // too close to its neighbour for a label of its own
            // The scales beside and under this curve: the numbers whose frame it runs in.
            double bottom = numbers.Where(t => t.Anchor == TextAnchor.Middle && t.AtMm.Y > end.Y).Min(t => t.AtMm.Y);
            double ceiling = numbers.Where(t => t.Anchor == TextAnchor.Middle && t.AtMm.Y < end.Y).Select(t => t.AtMm.Y).DefaultIfEmpty(0).Max();
            DrawingItem.Text[] across = [.. numbers.Where(t => t.Anchor == TextAnchor.Middle && t.AtMm.Y == bottom)];
            DrawingItem.Text[] up = [.. numbers.Where(t => t.Anchor == TextAnchor.End && t.AtMm.Y < bottom && t.AtMm.Y > ceiling)];
            double X(double x) => Linear(x, across[0].AtMm.X, Number(across[0]), across[^1].AtMm.X, Number(across[^1]));
            double Y(double y) => Linear(y, up[0].AtMm.Y - 1, Number(up[0]), up[^1].AtMm.Y - 1, Number(up[^1]));
            yield return new(int.Parse(label.Words[..^1], CultureInfo.InvariantCulture), curve.PointsMm.Max(p => p.Y), [.. curve.PointsMm.Select(p => (X(p.X), Y(p.Y)))]);
        }
    }

    private static double Linear(double at, double from, double fromValue, double to, double toValue) => fromValue + ((at - from) / (to - from) * (toValue - fromValue));

    private static IEnumerable<DrawingItem.Text> Numbers(Drawing page) =>
        page.Items.OfType<DrawingItem.Text>().Where(t => t.Anchor != TextAnchor.Start && double.TryParse(t.Words.Replace(',', '.'), CultureInfo.InvariantCulture, out _));

    private static double Number(DrawingItem.Text text) => double.Parse(text.Words.Replace(',', '.'), CultureInfo.InvariantCulture);
}
