using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Sheets;

/// <summary>The bench sheet as one A4 page, upright, to hang at the bench: readable at arm's length, the number to dial largest.</summary>
public static class BenchSheetPdf
{
    internal const double PageWidth = 210;
    internal const double PageHeight = 297;
    internal const double Left = 10;
    internal const double Right = 200;

    /// <summary>The sheet as PDF bytes.</summary>
    /// <exception cref="ArgumentException">No clamp, or a clamp without a setting.</exception>
    public static byte[] Write(BenchSheet sheet) => PdfWriter.Write([Draw(sheet)]);

    /// <summary>The sheet as a drawing.</summary>
    public static Drawing Draw(BenchSheet sheet)
    {
        BenchSheetWords.Check(sheet);
        var words = new BenchSheetWords(sheet);
        var page = new Drawing(PageWidth, PageHeight, $"Bench sheet {sheet.Reference}: {sheet.Title}", "What to clamp, what to dial, what to look for, for one piece.");
        int rows = sheet.Clamps.Sum(c => BenchSheetWords.Rows(c).Count);
        double y = Header(page, sheet, rows <= 6 ? 6.8 : 4.8); // under the size of the numbers to dial
        double dialHeight = rows <= 3 ? 72 : 86;
        BenchSheetDials.Draw(page, sheet, words, y, dialHeight);
        y += dialHeight + 3;
        y = BenchSheetClamps.Draw(page, sheet, words, y, rows <= 3 ? 49 : 37);
        double bottom = BenchSheetFoot.Draw(page, sheet, words, y + 48, withNotes: rows > 3);
        BenchSheetColumns.Draw(page, sheet, words, y, bottom - 2, withNotes: rows <= 3);
        return page;
    }

    private static double Header(Drawing page, BenchSheet sheet, double referenceMm)
    {
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        double size = bold.SizeToFit(Printable.Of(sheet.Reference), referenceMm, 62);
        page.Text(Right, 18, sheet.Reference, size, TextAnchor.End, TextFace.Bold);
        page.Text(Right, 23, sheet.Date ?? "", 3.2, TextAnchor.End);
        double room = Right - Left - bold.WidthMm(Printable.Of(sheet.Reference), size) - 6;
        double titleSize = Math.Max(4, bold.SizeToFit(Printable.Of(sheet.Title), referenceMm - 0.8, room));
        page.Text(Left, 16.5, bold.OneLine(sheet.Title, titleSize, room), titleSize, TextAnchor.Start, TextFace.Bold);
        string[] second = [.. new[] { sheet.Owner, sheet.Wish is { } wish ? "wanted: " + wish : null, sheet.RigName is { } rig ? "rig: " + rig : null }.OfType<string>()];
        string line = Printable.Of(string.Join(" · ", second));
        page.Paragraph(Left, 22, 166, line, Math.Max(2.8, FontMetrics.Of(TextFace.Regular).SizeToFit(line, 3.5, 165)), maxLines: 1);
        double y = 25;
        if (sheet.InventedNote is { } invented)
        {
            page.Paragraph(Left, 26.5, 190, invented, 3, TextFace.Regular, Ink.Muted, maxLines: 1);
            y = 28;
        }

        page.Line(Left, y, Right, y, new Stroke(0.6));
        return y + 2;
    }
}
