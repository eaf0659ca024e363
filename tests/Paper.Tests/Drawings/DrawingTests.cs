using System.Text;
using System.Xml.Linq;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Tests.Drawings;

/// <summary>The drawing surface and its two writers.</summary>
public sealed class DrawingTests
{
    [Fact]
    public void The_same_drawing_gives_the_same_SVG_with_title_description_and_page_colours()
    {
        var drawing = new Drawing(20, 10, "A & B", "one line");
        drawing.Line(1, 2, 3, 4, Stroke.Outline).Text(5, 5, "x < y", 3).Arc(10, 5, 3, 0, 90, Stroke.Thin).Circle(4, 4, 1, null, Ink.Steel);

        string svg = SvgWriter.Inline(drawing);

        Assert.Equal(svg, SvgWriter.Inline(drawing));
        XElement root = XElement.Parse(svg);
        XNamespace ns = "http://www.w3.org/2000/svg";
        Assert.Equal("A & B", root.Element(ns + "title")!.Value);
        Assert.Equal("one line", root.Element(ns + "desc")!.Value);
        Assert.Contains("var(--ww-ink,currentColor)", svg, StringComparison.Ordinal);
        Assert.Contains("M1,2 3,4", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_in_SVG_have_a_point_whatever_the_persons_culture()
    {
        System.Globalization.CultureInfo before = System.Globalization.CultureInfo.CurrentCulture;
        try
        {
            System.Globalization.CultureInfo.CurrentCulture = System.Globalization.CultureInfo.GetCultureInfo("de-DE");

            Assert.Contains("M1.5,2.25 3,4", SvgWriter.Inline(new Drawing(20, 10, "t").Line(1.5, 2.25, 3, 4, Stroke.Outline)), StringComparison.Ordinal);
        }
        finally
        {
            System.Globalization.CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void A_place_that_is_no_number_is_refused(double bad)
    {
        var drawing = new Drawing(10, 10, "t");

        Assert.Throws<ArgumentOutOfRangeException>(() => drawing.Line(0, 0, bad, 1, Stroke.Outline));
        Assert.Throws<ArgumentOutOfRangeException>(() => drawing.Polyline([new Point2(0, bad), new Point2(1, 1)], Stroke.Outline));
        Assert.Throws<ArgumentOutOfRangeException>(() => drawing.Text(0, bad, "x", 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Drawing(bad, 1, "t"));
        Assert.Empty(drawing.Items);
    }

    [Fact]
    public void Hatching_stays_inside_and_covers_the_area_times_one_over_the_spacing()
    {
        // A square of 10 mm hatched level every 1 mm: lines at 0.5 steps apart inside; total length about area / spacing.
        Point2[] ell = [new(0, 0), new(10, 0), new(10, 4), new(4, 4), new(4, 10), new(0, 10)];
        var drawing = new Drawing(20, 20, "t");

        drawing.Hatch(ell, 0.1, 30, Stroke.Thin);

        DrawingItem.Path[] lines = [.. drawing.Items.Cast<DrawingItem.Path>()];
        double total = lines.Sum(l => l.PointsMm[0].DistanceTo(l.PointsMm[1]));
        Assert.Equal((40 + 24) / 0.1, total, 5.0);
        Assert.All(lines, l =>
        {
            Point2 middle = new((l.PointsMm[0].X + l.PointsMm[1].X) / 2, (l.PointsMm[0].Y + l.PointsMm[1].Y) / 2);
            Assert.True(middle is { X: >= -1e-9 and <= 10.000001, Y: >= -1e-9 and <= 10.000001 } && !(middle.X > 4.000001 && middle.Y > 4.000001));
        });
    }

    [Fact]
    public void Text_is_as_wide_as_the_PDF_library_makes_it()
    {
        // Two readers of the same font file: ours, and PDFsharp's own.
        BundledFonts.Register();
        foreach (TextFace face in Enum.GetValues<TextFace>())
        {
            var font = new PdfSharp.Drawing.XFont(BundledFonts.FamilyName(face), 10, BundledFonts.Style(face));
            using var document = new PdfSharp.Pdf.PdfDocument();
            using var graphics = PdfSharp.Drawing.XGraphics.FromPdfPage(document.AddPage());
            const string words = "Ärmel Größe ½″ Ø 248.6 ± 0.5 mm → α 13.00° ☐";

            Assert.Equal(graphics.MeasureString(words, font).Width, FontMetrics.Of(face).WidthMm(words, 10), 0.02);
        }
    }

    [Fact]
    public void The_bundled_faces_hold_every_sign_the_sheets_use()
    {
        const string needed = "αβθρδ°±µμØ½¼¾³²×·–—−″′→←▶◀⚠…ÄÖÜäöüßéèñçåøłśžŐőŞş€£";
        foreach (TextFace face in Enum.GetValues<TextFace>())
            Assert.All(needed.EnumerateRunes(), rune => Assert.True(FontMetrics.Of(face).Has(rune), $"{face} lacks {rune}"));
    }

    [Fact]
    public void Lines_never_exceed_the_width_and_lose_no_word()
    {
        const string words = "Never look into the laser or its reflection from a polished bevel; Donaudampfschifffahrtsgesellschaftskapitän.";

        IReadOnlyList<string> lines = FontMetrics.Of(TextFace.Regular).Lines(words, 3, 30);

        Assert.All(lines, line => Assert.True(FontMetrics.Of(TextFace.Regular).WidthMm(line, 3) <= 30));
        Assert.Equal(words.Replace(" ", "", StringComparison.Ordinal), string.Concat(lines).Replace(" ", "", StringComparison.Ordinal));
    }

    [Fact]
    public void A_paragraph_cut_short_says_so()
    {
        IReadOnlyList<string> lines = FontMetrics.Of(TextFace.Regular).Lines("one two three four five six seven eight nine ten", 3, 20, maxLines: 2);

        Assert.Equal(2, lines.Count);
        Assert.EndsWith("…", lines[1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_PDF_asks_the_viewer_to_print_at_true_size()
    {
        string pdf = Encoding.Latin1.GetString(PdfWriter.Write([new Drawing(100, 50, "t").Text(5, 5, "x", 3)]));

        Assert.Contains("/PrintScaling", pdf, StringComparison.Ordinal);
        Assert.Contains("/None", pdf, StringComparison.Ordinal);
    }
}
