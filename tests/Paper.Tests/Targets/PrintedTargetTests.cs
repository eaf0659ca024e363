using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Paper.Targets;

namespace Whetwright.Paper.Tests.Targets;

/// <summary>
/// The target as it comes off a printer, measured on a 300 dpi raster: a pixel is 0.085 mm, a tick's middle is known to about a tenth of that.
/// </summary>
public sealed class PrintedTargetTests
{
    public static TheoryData<string> Papers => ["a4", "a3", "letter", "tabloid"];

    [Theory]
    [MemberData(nameof(Papers))]
    public void Both_check_lines_measure_100_mm_to_a_tenth(string paper)
    {
        TargetLayout layout = TargetLayout.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(100));
        using var page = new PrintedPage(TargetPrint.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(100)).Pdf);

        GrayRaster raster = page.Raster(300);
        (Point2 a, Point2 d) = (layout.CheckAcrossFromMm, layout.CheckDownFromMm);
        double across = raster.DarkMiddleAcrossMm(a.Y + 1.3, a.X + 98, a.X + 102) - raster.DarkMiddleAcrossMm(a.Y + 1.3, a.X - 2, a.X + 2);
        double down = raster.DarkMiddleDownMm(d.X - 0.9, d.Y + 98, d.Y + 102) - raster.DarkMiddleDownMm(d.X - 0.9, d.Y - 2, d.Y + 2);

        Assert.Equal(100.0, across, 0.1);
        Assert.Equal(100.0, down, 0.1);
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void The_page_is_exactly_the_paper_and_alone(string paper)
    {
        PaperSize size = KnownPaperSizes.Named(paper);
        using var page = new PrintedPage(TargetPrint.For(size, Length.FromMillimetres(100)).Pdf);

        string info = page.Info();

        Assert.Matches(@"Pages:\s+1\n", info);
        string[] mediaBox = info.Split('\n').First(l => l.StartsWith("MediaBox:", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(size.WidthMm / 25.4 * 72, double.Parse(mediaBox[3], System.Globalization.CultureInfo.InvariantCulture), 0.02);
        Assert.Equal(size.HeightMm / 25.4 * 72, double.Parse(mediaBox[4], System.Globalization.CultureInfo.InvariantCulture), 0.02);
    }

    [Theory]
    [MemberData(nameof(Papers))]
    public void Every_printed_module_of_every_fiducial_is_as_the_dictionary_says(string paper)
    {
        TargetPrint print = TargetPrint.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(100));
        using var page = new PrintedPage(print.Pdf);

        GrayRaster raster = page.Raster(150);

        foreach (SheetFiducial fiducial in print.Sheet.Fiducials)
        {
            for (int row = -1; row <= 6; row++)
            {
                for (int column = -1; column <= 6; column++)
                {
                    double x = fiducial.LeftMm + ((column + 0.5) * fiducial.ModuleMm);
                    double y = fiducial.TopMm + ((row + 0.5) * fiducial.ModuleMm);
                    bool outside = row is < 0 or > 5 || column is < 0 or > 5;
                    bool white = outside || KnownFiducials.IsWhite(fiducial.Id, row, column);
                    Assert.True(white == raster.AtMm(x, y) > 128, $"Fiducial {fiducial.Id}, row {row}, column {column} is printed wrong.");
                }
            }
        }
    }

    [Theory]
    [InlineData("a4", 60)]
    [InlineData("a4", 100)]
    [InlineData("letter", 100)]
    [InlineData("a3", 200)]
    [InlineData("tabloid", 150)]
    public void Within_the_quiet_margins_nothing_is_printed(string paper, double distanceMm)
    {
        TargetPrint print = TargetPrint.For(KnownPaperSizes.Named(paper), Length.FromMillimetres(distanceMm));
        using var page = new PrintedPage(print.Pdf);

        GrayRaster raster = page.Raster(150);

        foreach (SheetFiducial f in print.Sheet.Fiducials)
        {
            double m = f.ModuleMm * TargetLayout.QuietModules;
            for (double t = -m; t <= (f.RightMm - f.LeftMm) + m; t += 0.3)
            {
                foreach (double s in (double[])[0.4, m / 2, m - 0.1])
                {
                    Assert.True(raster.AtMm(f.LeftMm + t, f.TopMm - s) > 200, $"Ink above fiducial {f.Id}.");
                    Assert.True(raster.AtMm(f.LeftMm + t, f.BottomMm + s) > 200, $"Ink below fiducial {f.Id}.");
                    Assert.True(raster.AtMm(f.LeftMm - s, f.TopMm + t) > 200, $"Ink left of fiducial {f.Id}.");
                    Assert.True(raster.AtMm(f.RightMm + s, f.TopMm + t) > 200, $"Ink right of fiducial {f.Id}.");
                }
            }
        }
    }

    [Fact]
    public void The_reading_row_is_bare_paper_so_that_no_print_is_taken_for_a_mark()
    {
        TargetPrint print = TargetPrint.For(KnownPaperSizes.A4, Length.FromMillimetres(100));
        using var page = new PrintedPage(print.Pdf);

        GrayRaster raster = page.Raster(150);

        SheetRectangle field = print.Sheet.SpotFieldMm;
        for (double x = field.LeftMm + 3; x < field.RightMm - 3; x += 0.17)
            Assert.True(raster.AtMm(x, print.Sheet.ZeroMm.Y) > 250, $"Ink on the reading row at {x} mm.");
    }

    [Fact]
    public void Sides_distance_laser_caution_and_print_advice_stand_on_it_in_embedded_fonts()
    {
        using var page = new PrintedPage(TargetPrint.For(KnownPaperSizes.A4, Length.FromMillimetres(100)).Pdf);

        string text = page.Text();

        foreach (string said in (string[])["LEFT", "RIGHT", "100 mm", "Never look into the beam", "100 %", "check line"])
            Assert.Contains(said, text, StringComparison.Ordinal);
        string[] fonts = page.Fonts().Split('\n', StringSplitOptions.RemoveEmptyEntries)[2..];
        Assert.NotEmpty(fonts);
        Assert.All(fonts, line => Assert.Matches(@"DejaVu ?Sans.*\syes\s+yes\s+yes", line));
    }

    [Fact]
    public void Only_black_white_and_grey_are_used()
    {
        Whetwright.Paper.Drawings.Drawing drawing = TargetPrint.Draw(TargetLayout.For(KnownPaperSizes.A4, Length.FromMillimetres(100)));

        Assert.DoesNotContain(drawing.Items, item => item switch
        {
            Whetwright.Paper.Drawings.DrawingItem.Path p => Coloured(p.Fill) || Coloured(p.Stroke?.Ink),
            Whetwright.Paper.Drawings.DrawingItem.Text t => Coloured(t.Ink),
            _ => false,
        });

        static bool Coloured(Whetwright.Paper.Drawings.Ink? ink) => ink is Whetwright.Paper.Drawings.Ink.Accent or Whetwright.Paper.Drawings.Ink.Stone;
    }
}
