using Whetwright.Core.Targets;
using Whetwright.Paper.Targets;

namespace Whetwright.Paper.Tests.Targets;

/// <summary>The mat as it comes off a printer.</summary>
public sealed class PrintedMatTests
{
    [Fact]
    public void A_mat_of_two_sheets_is_two_pages_and_says_which_lengths_fit()
    {
        MatPrint print = MatPrint.For(KnownPaperSizes.A4, 2);
        using var page = new PrintedPage(print.Pdf);

        Assert.Matches(@"Pages:\s+2\n", page.Info());
        string text = page.Text();
        Assert.Contains("sheet 1 of 2", text, StringComparison.Ordinal);
        Assert.Contains(print.Layout.LongestEdgeMm.ToString(System.Globalization.CultureInfo.InvariantCulture), text, StringComparison.Ordinal);
        Assert.Contains("cut here", text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a4")]
    [InlineData("tabloid")]
    public void Both_check_lines_measure_100_mm_to_a_tenth(string paper)
    {
        MatPrint print = MatPrint.For(KnownPaperSizes.Named(paper));
        using var page = new PrintedPage(print.Pdf);

        GrayRaster raster = page.Raster(300);
        (var a, var d) = (print.Layout.CheckAcrossFromMm, print.Layout.CheckDownFromMm);
        double across = raster.DarkMiddleAcrossMm(a.Y + 1.3, a.X + 98, a.X + 102) - raster.DarkMiddleAcrossMm(a.Y + 1.3, a.X - 2, a.X + 2);
        double down = raster.DarkMiddleDownMm(d.X - 0.9, d.Y + 98, d.Y + 102) - raster.DarkMiddleDownMm(d.X - 0.9, d.Y - 2, d.Y + 2);

        Assert.Equal(100.0, across, 0.1);
        Assert.Equal(100.0, down, 0.1);
    }

    [Theory]
    [InlineData("a4", 1)]
    [InlineData("letter", 2)]
    public void Fine_lines_are_ruled_over_the_field_every_10_mm_and_nothing_else(string paper, int sheets)
    {
        MatPrint print = MatPrint.For(KnownPaperSizes.Named(paper), sheets);
        using var page = new PrintedPage(print.Pdf);

        GrayRaster raster = page.Raster(300);

        SheetRectangle field = print.Layout.FieldMm;
        double y = (10 * Math.Ceiling((field.TopMm + 10) / 10)) + 5;
        for (double x = 20; x < print.Layout.Paper.WidthMm - 20; x += 10)
        {
            Assert.Equal(x, Middle(at => raster.AtMm(at, y), x), 0.1);
            Assert.True(raster.AtMm(x + 5, y) > 250, $"Ink between the lines at {x + 5}, {y} mm.");
        }

        for (y = 10 * Math.Ceiling((field.TopMm + 3) / 10); y < field.BottomMm - 3; y += 10)
            Assert.Equal(y, Middle(at => raster.AtMm(25, at), y), 0.1);
    }

    [Fact]
    public void Where_the_blade_lies_a_plain_mat_is_bare_paper()
    {
        MatPrint print = MatPrint.For(KnownPaperSizes.A4, ruled: false);
        using var page = new PrintedPage(print.Pdf);

        GrayRaster raster = page.Raster(100);

        SheetRectangle field = print.Layout.FieldMm;
        for (double x = field.LeftMm; x < field.RightMm; x += 0.5)
        {
            for (double y = field.TopMm; y < field.BottomMm; y += 0.5)
                Assert.True(raster.AtMm(x, y) > 250, $"Ink in the field at {x}, {y} mm.");
        }
    }

    // Middle of what little ink lies within 2 mm of a place; a line that is there darkens a pixel by a tenth at least.
    private static double Middle(Func<double, double> tone, double near)
    {
        double[] at = [.. Enumerable.Range(-40, 81).Select(k => near + (0.05 * k))];
        double[] ink = [.. at.Select(v => Math.Max(0, 250 - tone(v)))];
        Assert.True(ink.Max() > 20, $"No line near {near} mm.");
        return at.Zip(ink, (v, w) => v * w).Sum() / ink.Sum();
    }
}
