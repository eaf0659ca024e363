using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>The clamp, or two side by side: what to do at the jaw, and the angle along the edge.</summary>
internal static class BenchSheetClamps
{
    private const double Gap = 6;

    internal static double Draw(Drawing page, BenchSheet sheet, BenchSheetWords words, double y, double plotHeight)
    {
        int count = sheet.Clamps.Count;
        double width = (BenchSheetPdf.Right - BenchSheetPdf.Left - (Gap * (count - 1))) / count;
        page.Line(BenchSheetPdf.Left, y, BenchSheetPdf.Right, y, new Stroke(0.3));
        double lowest = y;
        for (int i = 0; i < count; i++)
            lowest = Math.Max(lowest, One(page, sheet, words, i, BenchSheetPdf.Left + (i * (width + Gap)), y, width, plotHeight));
        return lowest;
    }

    private static double One(Drawing page, BenchSheet sheet, BenchSheetWords words, int index, double x, double y, double width, double plotHeight)
    {
        BenchClamp clamp = sheet.Clamps[index];
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        string head = words.ClampHead(clamp, index);
        double headSize = bold.SizeToFit(head, 4.2, width);
        page.Text(x, y + 5.2, head, headSize, TextAnchor.Start, TextFace.Bold);
        string clears = Printable.Of(BenchSheetWords.ClearsLine(clamp));
        TextFace face = clamp.Clears == false ? TextFace.Bold : TextFace.Regular;
        double beside = width - bold.WidthMm(head, headSize) - 5;
        double line = y + 7;
        if (FontMetrics.Of(face).WidthMm(clears, 3.1) <= beside)
            page.Text(x + width, y + 5, clears, 3.1, TextAnchor.End, face);
        else
            line = page.Paragraph(x, y + 9.4, width, clears, 3, face, maxLines: 3, lineMm: 3.6) - 2.2;

        BenchFact[] facts = [.. words.ClampFacts(clamp)];
        int perRow = width > 120 ? facts.Length : 3;
        foreach (BenchFact[] row in facts.Chunk(Math.Max(1, perRow)))
        {
            Facts(page, row, x, line, width);
            line += 10;
        }

        if (clamp.EdgeAngles is { } angles)
        {
            page.Place(EdgeAnglePicture.Draw(angles, sheet.Style, width, plotHeight), x, line);
            line += plotHeight;
        }

        if (words.Uncertainty(clamp) is { } known)
            line = page.Paragraph(x, line + 3.2, width, known, 3, maxLines: width > 120 ? 2 : 3, lineMm: 3.6) - 2.4;
        return line + 2;
    }

    private static void Facts(Drawing page, BenchFact[] facts, double x, double y, double room)
    {
        double[] widths = [.. facts.Select(f => Math.Max(
            FontMetrics.Of(TextFace.Bold).WidthMm(Printable.Of(f.Value), 4.8), FontMetrics.Of(TextFace.Condensed).WidthMm(Printable.Of(f.Name), 2.8)))];
        double scale = Math.Min(1, (room - (5 * (facts.Length - 1))) / widths.Sum());
        for (int i = 0; i < facts.Length; i++)
        {
            page.Text(x, y + 2.6, facts[i].Name, 2.8 * scale, TextAnchor.Start, TextFace.Condensed, Ink.Muted);
            page.Text(x, y + 7.8, facts[i].Value, 4.8 * scale, TextAnchor.Start, TextFace.Bold);
            x += (widths[i] * scale) + 5;
        }
    }
}
