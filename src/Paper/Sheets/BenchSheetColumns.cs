using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Pictures;

namespace Whetwright.Paper.Sheets;

/// <summary>The middle of the page: section, reading and pen test, stages to tick.</summary>
internal static class BenchSheetColumns
{
    private const double Gap = 4;
    private const double LeastFactStep = 3.2;
    private const double PenHead = 5;
    private const double PenWordsHeight = 11;
    private const double PenHeight = 23.5;

    internal static void Draw(Drawing page, BenchSheet sheet, BenchSheetWords words, double y, double bottom, bool withNotes)
    {
        const double width = (190 - (2 * Gap)) / 3;
        page.Line(BenchSheetPdf.Left, y, BenchSheetPdf.Right, y, new Stroke(0.3));
        double[] columns = [BenchSheetPdf.Left, BenchSheetPdf.Left + width + Gap, BenchSheetPdf.Left + (2 * (width + Gap))];
        if (sheet.Style.LeftHanded)
            Array.Reverse(columns);
        Section(page, sheet, columns[0], y, width, bottom);
        int pictured = Reading(page, sheet, words, columns[1], y, width, bottom, withNotes);
        double forPens = sheet.PenTests.Count > pictured ? PenWordsHeight : 0;
        double below = Stages(page, sheet, columns[2], y, width, bottom - forPens);
        PensInWords(page, sheet.PenTests.Skip(pictured), words, columns[2], below, width, bottom);
    }

    private static void Head(Drawing page, double x, double y, string words) => page.Text(x, y + 5.2, words, 4.2, TextAnchor.Start, TextFace.Bold);

    private static void Section(Drawing page, BenchSheet sheet, double x, double y, double width, double bottom)
    {
        Head(page, x, y, "Section");
        double step = bottom - y < 50 ? 3.3 : 3.9;
        double factsHeight = sheet.SectionFacts.Count * step;
        double pictureBottom = bottom - factsHeight - 1;
        if (sheet.Section is { } section)
            page.Place(SectionPicture.Draw(section, sheet.Style, width, Math.Max(12, pictureBottom - y - 7)), x, y + 7);
        else
            page.Paragraph(x, y + 10, width, "No section: what it needs was not given.", 3.1);
        double line = sheet.Section is null ? y + 16 : pictureBottom + 3.4;
        foreach (BenchFact fact in sheet.SectionFacts)
        {
            Pair(page, x, line, width, fact, step * 0.8);
            line += step;
        }
    }

    private static int Reading(Drawing page, BenchSheet sheet, BenchSheetWords words, double x, double y, double width, double bottom, bool withNotes)
    {
        Head(page, x, y, "Found");
        double line = y + 10;
        if (sheet.Reading is null)
            line = page.Paragraph(x, line, width, "Not read.", 3.1);
        BenchFact[] facts = [.. words.ReadingFacts()];
        int pictured = PensPictured(sheet, bottom - line - (Math.Max(1, facts.Length) * LeastFactStep));
        double pensTop = bottom - (pictured == 0 ? 0 : PenHead + (pictured * PenHeight));
        double step = Math.Clamp((pensTop - line) / Math.Max(1, facts.Length - 1), 2.6, 4.5);
        foreach (BenchFact fact in facts)
        {
            Pair(page, x, line, width, fact, step * 0.8);
            line += step;
        }

        if (sheet.Reading?.Marks is { } marks && pensTop - line > 36)
        {
            page.Place(ReadingPicture.Draw(marks, sheet.Style, width, 18), x, line - 3);
            line += 18;
        }

        FontMetrics metrics = FontMetrics.Of(TextFace.Condensed);
        string[] notes = withNotes ? [.. words.ReadingNotes()] : [];
        double size = 3;
        while (size > 1.9 && notes.Sum(n => metrics.Lines(Printable.Of(n), size, width).Count) * size * 1.2 > pensTop - line)
            size -= 0.1;
        foreach (string note in notes)
        {
            int room = (int)Math.Floor((pensTop - line) / (size * 1.2));
            if (room < 1)
                break;
            line = page.Paragraph(x, line, width, note, size, TextFace.Condensed, lineMm: size * 1.2, maxLines: room);
        }

        if (pictured == 0)
            return 0;
        Head(page, x, pensTop - 1, "Pen test to expect");
        pensTop += PenHead;
        foreach (PenTestView pen in sheet.PenTests.Take(pictured))
        {
            page.Place(PenTestPicture.Draw(pen, sheet.Style, width, 12.5), x, pensTop);
            page.Paragraph(x, pensTop + 15.4, width, words.PenLine(pen), 2.7, TextFace.Condensed, lineMm: 3.1, maxLines: 3);
            pensTop += PenHeight;
        }

        return pictured;
    }

    /// <summary>How many pen tests are drawn: two at most, and no more than there is room for; the others are told in words under the stages.</summary>
    private static int PensPictured(BenchSheet sheet, double room) =>
        Math.Clamp((int)Math.Floor((room - PenHead) / PenHeight), 0, Math.Min(2, sheet.PenTests.Count));

    private static double Stages(Drawing page, BenchSheet sheet, double x, double y, double width, double bottom)
    {
        Head(page, x, y, "Stages");
        if (sheet.Stages.Count == 0)
        {
            return page.Paragraph(x, y + 10, width, "No abrasives given.", 3.1);
        }

        double each = Math.Min(13, (bottom - y - 7) / sheet.Stages.Count);
        double scale = Math.Clamp(each / 10.5, 0.45, 1);
        double boxSize = 5 * scale;
        double box = sheet.Style.LeftHanded ? x + width - boxSize : x;
        double text = sheet.Style.LeftHanded ? x : x + boxSize + 2;
        double room = width - boxSize - 2;
        for (int i = 0; i < sheet.Stages.Count; i++)
        {
            BenchStage stage = sheet.Stages[i];
            double top = y + 7 + (i * each);
            page.Rectangle(box, top, boxSize, boxSize, new Stroke(0.4));
            string name = stage.Name + (stage.Grade is { } grade ? "  " + grade : "");
            page.Text(text, top + (3.4 * scale), Fit(name, TextFace.Bold, 3.6 * scale, room), 3.6 * scale, TextAnchor.Start, TextFace.Bold);
            string rest = string.Join(" · ", new[] { stage.Passes, stage.Note }.OfType<string>());
            page.Paragraph(text, top + (6.9 * scale), room, rest, 2.9 * scale, TextFace.Condensed, lineMm: 3.1 * scale, maxLines: each >= 10 ? 2 : 1);
        }

        return y + 7 + (sheet.Stages.Count * each);
    }

    /// <summary>The pen tests that found no room for their picture, under a heading of their own.</summary>
    private static void PensInWords(Drawing page, IEnumerable<PenTestView> pens, BenchSheetWords words, double x, double y, double width, double bottom)
    {
        const double lineMm = 3;
        double line = y + 2.5;
        foreach (PenTestView pen in pens)
        {
            int room = (int)Math.Floor((bottom - line + lineMm) / lineMm);
            if (room < 1)
                return;
            line = page.Paragraph(x, line, width, "Pen test, " + words.PenLine(pen), 2.6, TextFace.Condensed, lineMm: lineMm, maxLines: room);
        }
    }

    private static void Pair(Drawing page, double x, double y, double width, BenchFact fact, double size)
    {
        double value = FontMetrics.Of(TextFace.Bold).WidthMm(Printable.Of(fact.Value), size);
        page.Text(x, y, Fit(fact.Name, TextFace.Regular, size * 0.92, width - value - 2), size * 0.92);
        page.Text(x + width, y, fact.Value, size, TextAnchor.End, TextFace.Bold);
    }

    private static string Fit(string words, TextFace face, double size, double width) =>
        FontMetrics.Of(face).OneLine(words, size, width);
}
