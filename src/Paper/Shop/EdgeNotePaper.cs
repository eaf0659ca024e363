using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Shop;

/// <summary>Lays an edge note out: the section before and after beside the angles, then what was done, care, and when to come again.</summary>
public static class EdgeNotePaper
{
    /// <summary>The pages; one as a rule.</summary>
    public static IReadOnlyList<Drawing> Draw(EdgeNote note, PaperFormat format, ShopPrint print)
    {
        var flow = new Flow(format, "Edge note " + note.Number, "What was found, what was done and how to keep it keen.");
        PaperHead.Draw(flow, note.Shop, "Edge note", note.Number, print.Date(note.Date));
        flow.Text(note.Piece, flow.Size * 1.35, TextFace.Bold);
        flow.Text(note.Owner);
        flow.Space(2);
        Findings(flow, note, new Figures(print.Style));
        List(flow, "Done", note.Done);
        List(flow, "Seen, not done", note.Remarks);
        List(flow, "To keep it keen", note.Care);
        Again(flow, note, print);
        return flow.Finish();
    }

    private static void Findings(Flow flow, EdgeNote note, Figures figures)
    {
        bool narrow = flow.Width < 100;
        double top = flow.Y;
        double wordsLeft = 0;
        if (note.Section is { } section)
        {
            double width = narrow ? flow.Width : Math.Min(62, flow.Width * 0.48);
            double height = width * 0.95;
            flow.Keep(height + 3);
            top = flow.Y;
            flow.Page.Place(SectionPicture.Draw(section, figures.Style, width, height), flow.Left, top);
            if (narrow)
                flow.Space(height + 2);
            else
                wordsLeft = width + 5;
        }

        double from = flow.Left + wordsLeft;
        double room = flow.Right - from;
        if (note.Angles.Count > 0)
        {
            (double, double, TextAnchor)[] columns =
            [
                (from, from + (room * 0.3), TextAnchor.Start),
                (from + (room * 0.3), from + (room * 0.64), TextAnchor.End),
                (from + (room * 0.66), flow.Right, TextAnchor.End),
            ];
            flow.Row(columns, ["angle", "before", "after"], TextFace.Condensed, flow.Size * 0.9);
            foreach (NotedAngle angle in note.Angles)
                flow.Row(columns, [angle.Name, Angle(figures, angle.BeforeDeg, angle.BeforeUDeg), Angle(figures, angle.AfterDeg, angle.AfterUDeg)], TextFace.CondensedBold, flow.Size * 1.05);
            bool known = note.Angles.Any(a => a.BeforeUDeg is not null || a.AfterUDeg is not null);
            flow.Text(
                known ? "Per side from the middle, unless named otherwise. ± is twice the standard uncertainty (k = 2)." : "Per side from the middle, unless named otherwise; how sure is not known.",
                flow.Size * 0.8, TextFace.Regular, Ink.Muted, wordsLeft);
            flow.Space(1.5);
        }

        foreach (NotedFact fact in note.Facts)
            flow.Row([(from, from + (room * 0.56), TextAnchor.Start), (from + (room * 0.58), flow.Right, TextAnchor.End)], [fact.Name, fact.Value], TextFace.Condensed);
        if (note.Section is not null && !narrow)
            flow.Space(Math.Max(0, top + (Math.Min(62, flow.Width * 0.48) * 0.95) - flow.Y));
        flow.Space(1.5);
    }

    private static string Angle(Figures figures, double? deg, double? u) => deg is { } known ? figures.Degrees(known, u) : "not read";

    private static void List(Flow flow, string head, IReadOnlyList<string> lines)
    {
        if (lines.Count == 0)
            return;
        flow.Space(1.5);
        flow.Keep(flow.Size * 3.4);
        flow.Text(head, flow.Size * 1.1, TextFace.Bold);
        foreach (string line in lines)
        {
            flow.Keep(flow.Size * 1.3);
            flow.Page.Text(flow.Left + 0.5, flow.Y + flow.Size, "·", flow.Size, TextAnchor.Start, TextFace.Bold);
            flow.Text(line, 0, TextFace.Regular, Ink.Main, 3);
        }
    }

    private static void Again(Flow flow, EdgeNote note, ShopPrint print)
    {
        const double code = 26;
        if (note.ComeAgain is null && note.ComeAgainWhy is null && note.Address is null)
            return;
        flow.Keep(note.Address is null ? 12 : code + 6);
        flow.Rule(0.3, 1.5);
        double top = flow.Y;
        double right = note.Address is null ? 0 : code + 3;
        if (note.ComeAgain is { } day)
            flow.Text("Come again by " + print.DayAndYear(day), flow.Size * 1.25, TextFace.Bold, Ink.Main, 0, right);
        else if (note.ComeAgainWhy is not null)
            flow.Text("When to come again", flow.Size * 1.25, TextFace.Bold, Ink.Main, 0, right);
        flow.Text(note.ComeAgainWhy, 0, TextFace.Regular, Ink.Main, 0, right);
        if (note.Address is not { } address)
            return;
        flow.Text("The code opens this piece's page.", 2.6, TextFace.Regular, Ink.Muted, 0, right);
        QrSquares.Draw(flow.Page, address, flow.Right - code, top, code);
        flow.Space(Math.Max(0, top + code - flow.Y));
    }
}
