using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Sheets;

/// <summary>The lower part of the page: cautions, what is left out, what the numbers promise. It grows upward as far as it must.</summary>
internal static class BenchSheetFoot
{
    private const double Bottom = 287.5;

    /// <summary>Draws the foot, no higher than told, and returns where it begins.</summary>
    internal static double Draw(Drawing page, BenchSheet sheet, BenchSheetWords words, double highest, bool withNotes)
    {
        string[] cautions = [.. sheet.Cautions.Select(c => "• " + c)];
        string[] gaps = [.. (withNotes ? words.ReadingNotes() : []).Concat(words.Gaps()).Select(g => "• " + g)];
        bool both = gaps.Length > 0 && cautions.Length > 0;
        double cautionWidth = both ? 104 : 186;
        double gapWidth = both ? 78 : 186;
        double size = 3.1;
        double Height(string[] lines, double width) => lines.Sum(l => FontMetrics.Of(TextFace.Condensed).Lines(Printable.Of(l), size, width).Count) * size * 1.22;
        double Needed() => Math.Max(Height(cautions, cautionWidth), Height(gaps, gapWidth)) + 7;
        while (size > 2 && Bottom - 6 - Needed() < highest)
            size -= 0.1;
        double top = Bottom - 6 - Needed();
        if (cautions.Length > 0)
            List(page, BenchSheetPdf.Left, top, cautionWidth, "⚠ Beware", cautions, size);
        if (gaps.Length > 0)
            List(page, both ? BenchSheetPdf.Left + 112 : BenchSheetPdf.Left, top, gapWidth, withNotes ? "Not known, left out, taken as default" : "Left out, or taken as default", gaps, size);
        if (cautions.Length > 0 || gaps.Length > 0)
            page.Rectangle(BenchSheetPdf.Left - 2, top - 1, 194, Needed() + 0.5, new Stroke(0.5));
        page.Text(BenchSheetPdf.Left, Bottom - 1.6, BenchSheetWords.StaleNote, 2.7, TextAnchor.Start, TextFace.Condensed);
        page.Text(BenchSheetPdf.Left, Bottom + 2, BenchSheetWords.Promise, 2.7, TextAnchor.Start, TextFace.Condensed);
        page.Text(BenchSheetPdf.Right, Bottom + 2, sheet.Reference, 3.4, TextAnchor.End, TextFace.Bold);
        return cautions.Length > 0 || gaps.Length > 0 ? top - 1 : Bottom - 6;
    }

    private static void List(Drawing page, double x, double top, double width, string head, string[] lines, double size)
    {
        page.Text(x, top + 4, head, 3.6, TextAnchor.Start, TextFace.Bold);
        double y = top + 4.6 + (size * 1.22);
        foreach (string line in lines)
            y = page.Paragraph(x, y, width, line, size, TextFace.Condensed, lineMm: size * 1.22);
    }
}
