using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>The upper part of the page: the rig from the side, and the numbers to dial.</summary>
internal static class BenchSheetDials
{
    internal static void Draw(Drawing page, BenchSheet sheet, BenchSheetWords words, double y, double height)
    {
        (BenchClamp Clamp, IReadOnlyList<BenchSetting> Row, int Index)[] rows =
            [.. sheet.Clamps.SelectMany((c, i) => BenchSheetWords.Rows(c).Select(r => (c, r, i)))];
        RigView? rig = sheet.Clamps.SelectMany(c => c.Settings).Select(s => s.Rig).FirstOrDefault(r => r is not null);
        double left = BenchSheetPdf.Left;
        double rigWidth = rig is null ? 0 : rows.Length <= 3 ? 76 : 58;
        if (rig is not null)
        {
            IReadOnlyList<string> diameters = words.Diameters();
            double used = diameters.Count == 0 ? 0 : 3 + (diameters.Count * 3);
            double drawn = Math.Min(height - 5 - used, rigWidth * 0.86);
            page.Place(RigPicture.Draw(rig, sheet.Style, rigWidth, drawn), left, y);
            string of = rig is WheelAndBarView wheel ? $"to scale, for {wheel.WheelName}" : "to scale";
            page.Text(left + (rigWidth / 2), y + drawn + 2.6, of, 2.8, TextAnchor.Middle, TextFace.Regular, Ink.Muted);
            for (int i = 0; i < diameters.Count; i++)
            {
                double size = FontMetrics.Of(TextFace.Condensed).SizeToFit(Printable.Of(diameters[i]), 2.7, rigWidth);
                page.Text(left, y + drawn + 6.4 + (i * 3.1), diameters[i], size, TextAnchor.Start, TextFace.Condensed);
            }

            left += rigWidth + 4;
        }

        double each = height / rows.Length;
        int last = -1;
        for (int i = 0; i < rows.Length; i++)
        {
            double top = y + (i * each);
            if (i > 0)
                page.Line(left, top, BenchSheetPdf.Right, top, new Stroke(rows[i].Index != last ? 0.6 : 0.2, Ink.Muted));
            string clamp = sheet.Clamps.Count > 1 && rows[i].Index != last ? $"clamp {rows[i].Index + 1}: " : "";
            last = rows[i].Index;
            Row(page, words, rows[i].Row, clamp, left, top, BenchSheetPdf.Right - left, each, rig is null);
        }
    }

    private static void Row(Drawing page, BenchSheetWords words, IReadOnlyList<BenchSetting> row, string clamp, double x, double y, double width, double height, bool withDiameter)
    {
        double head = height >= 20 ? 4.4 : 3.6;
        FontMetrics bold = FontMetrics.Of(TextFace.Bold);
        FontMetrics regular = FontMetrics.Of(TextFace.Regular);
        BenchSetting first = row[0];
        string angle = row.Count == 1 ? words.Angle(first) : "";
        double angleWidth = angle.Length == 0 ? 0 : regular.WidthMm(angle, 3.4) + 3;
        string name = clamp + first.Name + (row.Count == 1 ? ", " + BenchSheetWords.SideName(first) : "");
        string shown = bold.OneLine(name, head, width - angleWidth);
        page.Text(x, y + head + 0.6, shown, head, TextAnchor.Start, TextFace.Bold);
        page.Text(x + width, y + head + 0.6, angle, 3.4, TextAnchor.End);
        double dialX = x + bold.WidthMm(shown, head) + 2.5;
        double dialRoom = x + width - angleWidth - dialX;
        if (dialRoom > 20)
            page.Text(dialX, y + head + 0.6, regular.OneLine(first.DialName, 3, dialRoom), 3, TextAnchor.Start, TextFace.Regular, Ink.Muted);

        double numbersTop = y + head + 1.8;
        bool alone = height > 40;
        bool under = alone || (height >= 22 && (row.Count > 1 || width < 80));
        double size = Math.Min(alone ? 26 : 14, (height - head - (under ? 10.5 : 2)) * (row.Count > 1 && under ? 0.85 : 0.95));
        double column = under ? width / row.Count : Math.Min(46, width * 0.42 / row.Count);
        if (!under && row.Count > 1)
            column = Math.Min(40, width * 0.6 / row.Count);
        // In a low row the side stands before its number, in a high one above it.
        bool before = row.Count > 1 && height < 20;
        double labelWidth = before ? 11.5 : 0;
        size = row.Min(s => bold.SizeToFit(words.DialNumber(s), size, column - 12 - labelWidth));
        for (int i = 0; i < row.Count; i++)
        {
            double cx = x + (i * column);
            double baseLine = numbersTop + (size * 0.78);
            if (row.Count > 1)
            {
                string side = row[i].BladeSide == Core.Quantities.Side.Left ? "left" : "right";
                string sideAngle = row[i].AngleDeg is { } a ? words.Figures.Degrees(a, 2) : "";
                if (before)
                {
                    page.Text(cx, baseLine - 3, side, 2.8, TextAnchor.Start, TextFace.Bold);
                    page.Text(cx, baseLine, sideAngle, 2.6);
                    cx += labelWidth;
                }
                else
                {
                    page.Text(cx, numbersTop + 2.6, side + " " + sideAngle, 3.1, TextAnchor.Start, TextFace.Bold);
                    baseLine += 3.2;
                }
            }

            page.Text(cx, baseLine, words.DialNumber(row[i]), size, TextAnchor.Start, TextFace.Bold, Ink.Accent);
            page.Text(cx + bold.WidthMm(words.DialNumber(row[i]), size) + 1, baseLine, words.DialUnit(row[i]), 3.6, TextAnchor.Start, TextFace.Bold, Ink.Accent);
        }

        double factsX = under ? x : x + (row.Count * column) + 2;
        double factsY = under ? numbersTop + (size * 0.78) + (row.Count > 1 ? 3.2 : 0) + 4.2 : numbersTop + 2.2;
        Facts(page, words, row, factsX, factsY, x + width - factsX, y + height - 0.8, withDiameter);
    }

    private static void Facts(Drawing page, BenchSheetWords words, IReadOnlyList<BenchSetting> row, double x, double y, double width, double bottom, bool withDiameter)
    {
        string[] lines = [.. words.RowLines(row, withDiameter)];
        double size = 3.2;
        FontMetrics metrics = FontMetrics.Of(TextFace.Condensed);
        while (size > 2.4 && lines.Sum(l => metrics.Lines(Printable.Of(l), size, width).Count) * size * 1.2 > bottom - y + size)
            size -= 0.1;
        // Where not every line finds room, they run on in one paragraph, so that the first of them are not cut.
        int room = Math.Max(1, (int)Math.Floor(((bottom - y) / (size * 1.2)) + 1.0001));
        if (lines.Sum(l => metrics.Lines(Printable.Of(l), size, width).Count) > room)
        {
            string[] warnings = [.. lines.Where(l => l.Contains("STALE", StringComparison.Ordinal))];
            lines = [.. warnings, RunOn(lines.Except(warnings, StringComparer.Ordinal), metrics, size, width, room - warnings.Length)];
        }

        foreach (string line in lines)
        {
            if (room < 1)
                return;
            bool stale = line.Contains("STALE", StringComparison.Ordinal);
            double next = page.Paragraph(x, y, width, line, size, stale ? TextFace.CondensedBold : TextFace.Condensed, lineMm: size * 1.2, maxLines: room);
            room -= (int)Math.Round((next - y) / (size * 1.2));
            y = next;
        }
    }

    /// <summary>The lines one after the other: the travel and the touch-off always, of the others those that find room whole.</summary>
    private static string RunOn(IEnumerable<string> lines, FontMetrics metrics, double size, double width, int room)
    {
        string text = string.Join(" · ", lines.Take(2));
        foreach (string line in lines.Skip(2))
        {
            string longer = text + " · " + line;
            if (metrics.Lines(Printable.Of(longer), size, width).Count <= room)
                text = longer;
        }

        return text;
    }
}
