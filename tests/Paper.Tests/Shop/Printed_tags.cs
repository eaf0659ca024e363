using OpenCvSharp;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Shop;

namespace Whetwright.Paper.Tests.Shop;

/// <summary>Tags as a printer and a phone see them.</summary>
public sealed class Printed_tags
{
    [Theory]
    [InlineData(62, 29)]
    [InlineData(40, 20)]
    [InlineData(38, 90)]
    [InlineData(100, 50)]
    public void The_code_on_a_printed_tag_decodes_back_to_the_address(double widthMm, double heightMm)
    {
        Tag tag = ShopSamples.Tag with { Address = "https://b.example/t/1047-3" };
        using var page = new PrintedPage(PdfWriter.Write(TagSheet.Roll([tag], new(widthMm, heightMm), ShopSamples.English)));

        Assert.Equal("https://b.example/t/1047-3", Decoded(page.Raster(300)));
    }

    [Fact]
    public void A_tag_carries_its_number_owner_piece_and_promised_day_as_text()
    {
        using var page = new PrintedPage(PdfWriter.Write(TagSheet.Roll([ShopSamples.Tag], LabelSize.Usual, ShopSamples.German)));

        string text = page.Text();

        Assert.Contains("1047-3", text, StringComparison.Ordinal);
        Assert.Contains("Bistro Łódź", text, StringComparison.Ordinal);
        Assert.Contains("Kitchen knife", text, StringComparison.Ordinal);
        Assert.Contains("Fr 27. Nov", text, StringComparison.Ordinal);
        Assert.Contains("invented", text, StringComparison.Ordinal);
        Assert.DoesNotContain(" no ", page.Fonts().ReplaceLineEndings(" ")[200..300], StringComparison.Ordinal); // the column "emb"
    }

    [Fact]
    public void A_page_is_exactly_as_large_as_the_label()
    {
        using var page = new PrintedPage(PdfWriter.Write(TagSheet.Roll([ShopSamples.Tag], new(62, 29), ShopSamples.English)));

        GrayRaster raster = page.Raster(254);

        Assert.InRange(raster.Width, 619, 621);
        Assert.InRange(raster.Height, 289, 291);
    }

    [Fact]
    public void The_quiet_zone_of_four_modules_is_left_white_on_all_sides()
    {
        using var page = new PrintedPage(PdfWriter.Write(TagSheet.Roll([ShopSamples.Tag], LabelSize.Usual, ShopSamples.English)));
        GrayRaster raster = page.Raster(600);

        // 30 characters take version 3 at level M: 29 modules, with the quiet zone 37, in a square of 28 mm at 0.5 mm from the right and the top edge.
        const double module = 28.0 / 37;
        (double left, double top, double right, double bottom) = raster.DarkBoxMm(62 - 28.5, 0.5, 61.5, 28.5);
        Assert.Equal(33.5 + (4 * module), left, 0.06);
        Assert.Equal(0.5 + (4 * module), top, 0.06);
        Assert.Equal(61.5 - (4 * module), right, 0.06);
        Assert.Equal(28.5 - (4 * module), bottom, 0.06);
    }

    [Fact]
    public void Neighbouring_squares_of_the_code_leave_no_seam()
    {
        // The top left finder: a ring of one module, 7 across. Along its upper bar no pixel is lighter than near black.
        using var page = new PrintedPage(PdfWriter.Write(TagSheet.Roll([ShopSamples.Tag], LabelSize.Usual, ShopSamples.English)));
        GrayRaster raster = page.Raster(300);
        const double module = 28.0 / 37;
        double x = 33.5 + (4.5 * module);

        for (double y = 0.5 + (4.2 * module); y < 0.5 + (10.8 * module); y += 0.04)
            Assert.True(raster.AtMm(x, y) < 20, $"a light seam at {y:0.00} mm");
    }

    [Fact]
    public void A_sheet_holds_the_tags_at_their_size_between_cut_marks_and_leaves_used_places_free()
    {
        Tag blank = new("2001-9");
        using var page = new PrintedPage(PdfWriter.Write(TagSheet.Sheets([blank, blank], PaperFormat.A4, new(62, 29), ShopSamples.English, skip: 1)));
        GrayRaster raster = page.Raster(300);

        // Three columns of 62 mm in 210 mm: the grid begins at 12 mm; nine rows of 29 mm in 297 mm: at 18 mm. Marks at every edge.
        foreach (double x in (double[])[12, 74, 136, 198])
            Assert.Equal(x, raster.DarkMiddleAcrossMm(14, x - 1, x + 1), 0.05);
        foreach (double y in (double[])[18, 47, 76, 279])
            Assert.Equal(y, raster.DarkMiddleDownMm(8, y - 1, y + 1), 0.05);
        Assert.All(Enumerable.Range(14, 58), x => Assert.All(Enumerable.Range(20, 25), y => Assert.Equal(255, raster.AtMm(x, y))));
        Assert.Equal(2, page.Text().Split("2001-9").Length - 1);
    }

    [Fact]
    public void Tags_go_on_to_a_second_sheet()
    {
        IReadOnlyList<Drawing> sheets = TagSheet.Sheets(TagSheet.Blanks(Enumerable.Range(1, 28).Select(n => $"{n}-0")), PaperFormat.A4, new(62, 29), ShopSamples.English);

        Assert.Equal(2, sheets.Count);
        Assert.Equal(27, sheets[0].Items.OfType<DrawingItem.Text>().Count(t => t.Face == TextFace.Bold));
    }

    [Fact]
    public void Names_in_Greek_and_Cyrillic_are_printed_and_what_the_face_lacks_is_said()
    {
        Assert.Empty(UnprintableText.In("Λάμπρος, Сергій Їжакевич, Nguyễn"));
        Assert.Equal(["田", "中"], UnprintableText.In("田中 & 中"));
        Assert.Equal("▯▯ & ▯", UnprintableText.Shown("田中 & 中"));

        Receipt receipt = ShopSamples.Receipt() with { Owner = "田中" };
        Assert.Contains(ReceiptPaper.Draw(receipt, PaperFormat.A5, ShopSamples.English)[0].Items.OfType<DrawingItem.Text>(), t => t.Words.StartsWith("▯ stands for", StringComparison.Ordinal));
    }

    [Fact]
    public void Nothing_on_a_tag_passes_its_edge_however_long_the_words()
    {
        Tag tag = ShopSamples.Tag with { Owner = string.Concat(Enumerable.Repeat("Donaudampfschifffahrts", 9)), Piece = new string('W', 400), Number = "1234567890-1" };
        foreach (LabelSize size in (LabelSize[])[new(62, 29), new(40, 20), new(30, 60)])
        {
            Drawing drawing = TagSheet.Roll([tag with { Address = "https://b.example/1" }], size, ShopSamples.English)[0];

            Assert.All(drawing.Items.OfType<DrawingItem.Text>(), t => PageChecks.Inside(drawing, t));
        }
    }

    [Fact]
    public void Bad_tags_are_refused_in_words()
    {
        ShopPrint print = ShopSamples.English;
        Assert.Contains("no tag", Assert.Throws<ArgumentException>(() => TagSheet.Roll([], LabelSize.Usual, print)).Message, StringComparison.Ordinal);
        Assert.Contains("check digit", Assert.Throws<ArgumentException>(() => TagSheet.Roll([new(" ")], LabelSize.Usual, print)).Message, StringComparison.Ordinal);
        Assert.Contains("height is 8 mm", Assert.Throws<ArgumentOutOfRangeException>(() => TagSheet.Roll([new("1-1")], new(62, 8), print)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => TagSheet.Roll([new("1-1")], new(double.NaN, 29), print));
        Assert.Contains("too long", Assert.Throws<ArgumentException>(() => TagSheet.Roll([new("1-1") { Address = "https://" + new string('a', 700) }], LabelSize.Usual, print)).Message, StringComparison.Ordinal);
        Assert.Contains("roll", Assert.Throws<ArgumentException>(() => TagSheet.Sheets([new("1-1")], PaperFormat.Roll80, LabelSize.Usual, print)).Message, StringComparison.Ordinal);
        Assert.Contains("does not fit", Assert.Throws<ArgumentException>(() => TagSheet.Sheets([new("1-1")], PaperFormat.A5, new(200, 29), print)).Message, StringComparison.Ordinal);
    }

    private static string Decoded(GrayRaster raster)
    {
        using Mat mat = Mat.FromPixelData(raster.Height, raster.Width, MatType.CV_8UC1, raster.Pixels);
        using Mat framed = new();
        Cv2.CopyMakeBorder(mat, framed, 40, 40, 40, 40, BorderTypes.Constant, Scalar.All(255));
        using var detector = new QRCodeDetector();
        return detector.DetectAndDecode(framed, out _);
    }
}
