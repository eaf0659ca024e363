using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Targets;

/// <summary>A printed mat: the bytes to print, one page per sheet, and the description to keep beside it.</summary>
/// <param name="Pdf">The pages at exact size, leftmost first.</param>
/// <param name="Sheet">What mat.json says.</param>
/// <param name="Layout">The layout, with the lengths that fit.</param>
public sealed record MatPrint(byte[] Pdf, MatSheet Sheet, MatLayout Layout)
{
    private const double SmallMm = 2.3, LineMm = 2.8;

    /// <summary>Designs and prints a mat of one to three sheets.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not one to three sheets.</exception>
    /// <param name="paper">The paper of one sheet.</param>
    /// <param name="sheets">How many, side by side.</param>
    /// <param name="ruled">Whether fine lines are ruled over the field: where they end under a blade its edge lies, however dark its shadow.</param>
    public static MatPrint For(PaperSize paper, int sheets = 1, bool ruled = true)
    {
        MatLayout layout = MatLayout.For(paper, sheets);
        return new(PdfWriter.Write([.. Enumerable.Range(0, sheets).Select(sheet => Draw(layout, sheet, ruled))]), layout.Sheet, layout);
    }

    /// <summary>One sheet of a mat as a drawing; 0 is the leftmost.</summary>
    public static Drawing Draw(MatLayout layout, int sheet, bool ruled = true)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(sheet);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(sheet, layout.SheetCount);
        PaperSize paper = layout.Paper;
        string which = layout.SheetCount == 1 ? "" : $", sheet {sheet + 1} of {layout.SheetCount}";
        var drawing = new Drawing(paper.WidthMm, paper.HeightMm, $"Mat {paper.Name.ToUpperInvariant()}{which}", "Printed mat on which a blade lies to have its outline taken.");
        SheetFiducial[] f = [.. layout.FiducialsOf(sheet)];
        if (ruled)
            Ruling(drawing, paper, f);
        foreach (SheetFiducial fiducial in f)
            SheetMarks.Fiducial(drawing, fiducial);
        SheetMarks.CheckAcross(drawing, layout.CheckAcrossFromMm, "check line: 100 mm between the ticks");
        if (sheet == 0)
            SheetMarks.CheckDown(drawing, layout.CheckDownFromMm, "check line: 100 mm between the ticks");
        if (sheet > 0)
            Join(drawing, paper, MatLayout.JoinMm, "cut here, lay on the left sheet's join line", cut: true);
        if (sheet < layout.SheetCount - 1)
            Join(drawing, paper, paper.WidthMm - MatLayout.JoinMm, "join line: the right sheet's cut edge lies here, ticks in line", cut: false);
        Words(drawing, layout, f, which);
        return drawing;
    }

    // From rim to rim, for a reader knows them by that from what lies on the mat; fiducials keep their quiet margins.
    private static void Ruling(Drawing drawing, PaperSize paper, IEnumerable<SheetFiducial> fiducials)
    {
        const double every = MatLayout.RuledEveryMm;
        const double rim = MatLayout.RuledRimMm;
        var stroke = new Stroke(MatLayout.RuledMm, Ink.Ruling);
        for (double x = every * Math.Ceiling(MatLayout.JoinMm / every); x < paper.WidthMm - MatLayout.JoinMm; x += every)
            drawing.Line(x, rim, x, paper.HeightMm - rim, stroke);
        for (double y = every; y < paper.HeightMm - rim; y += every)
            drawing.Line(rim, y, paper.WidthMm - rim, y, stroke);
        foreach (SheetFiducial f in fiducials)
        {
            (double top, double bottom) = f.TopMm < paper.HeightMm / 2 ? (0, f.BottomMm + f.ModuleMm) : (f.TopMm - f.ModuleMm, paper.HeightMm);
            drawing.Rectangle(f.LeftMm - f.ModuleMm, top, f.RightMm - f.LeftMm + (2 * f.ModuleMm), bottom - top, null, Ink.Paper);
        }
    }

    private static void Words(Drawing drawing, MatLayout layout, SheetFiducial[] f, string which)
    {
        double y = f[0].TopMm;
        string fits = SheetMarks.Number(layout.LongestEdgeMm);
        Between(drawing, f[0], f[1], y, "MAT" + which, 3.4, [
            $"{layout.Paper.Name.ToUpperInvariant()}. Fits edges up to {fits} mm" + (layout.SheetCount == 1 ? "" : $" on {layout.SheetCount} sheets") + $", blades up to {SheetMarks.Number(layout.TallestBladeMm)} mm tall.",
        ]);
        Between(drawing, f[1], f[2], y, "Print", 2.6, ["At 100 %, matt paper, no \"fit to page\". Measure the check lines; if not 100 mm, type what you got."]);
        Between(drawing, f[2], f[3], y, "Lay", 2.6, ["Blade flat, edge along the sheet, clear of the codes. The handle may cover codes: four must stay in sight."]);
        Between(drawing, f[3], f[4], y, "Edge height", 2.6, ["The edge floats over the mat. Measure how high, or take two photos from different places."]);
        double low = f[^1].TopMm;
        Between(drawing, f[9], f[8], low, "Photograph", 2.6, ["From straight above, sharp, soft light from all sides, no flash, whole mat in the picture."]);
        Between(drawing, f[8], f[7], low, "Care", 2.6, ["A blade lying loose cuts. Tape heel and spine if it rocks; lift it by the handle, to the rack."]);
        if (layout.SheetCount > 1)
            Between(drawing, f[7], f[6], low, "Join", 2.6, ["Cut the right sheet on its line, lay it on the left one's line, ticks in line, tape from behind."]);
    }

    private static void Between(Drawing drawing, SheetFiducial left, SheetFiducial right, double top, string head, double headMm, string[] words)
    {
        double x = left.RightMm + left.ModuleMm + 1;
        double width = right.LeftMm - right.ModuleMm - 1 - x;
        double y = top + headMm;

        // No ruled line strikes the words out.
        int lines = words.Sum(paragraph => FontMetrics.Of(TextFace.Regular).Lines(Printable.Of(paragraph), SmallMm, width).Count);
        drawing.Rectangle(x - 1, top - 1, width + 2, headMm + 3.2 + ((lines - 1) * LineMm) + 2, null, Ink.Paper);
        drawing.Text(x, y, head, FontMetrics.Of(TextFace.Bold).SizeToFit(head, headMm, width), TextAnchor.Start, TextFace.Bold);
        y += 3.2;
        foreach (string paragraph in words)
            y = drawing.Paragraph(x, y, width, paragraph, SmallMm, lineMm: LineMm);
    }

    private static void Join(Drawing drawing, PaperSize paper, double x, string words, bool cut)
    {
        var stroke = new Stroke(0.2, Ink.Main, cut ? 2.0 : null);
        drawing.Line(x, 4, x, paper.HeightMm - 4, stroke);
        double inward = cut ? 4 : -4;
        foreach (double y in (double[])[20, paper.HeightMm / 3, paper.HeightMm * 2 / 3, paper.HeightMm - 20])
            drawing.Line(x + (cut ? 0 : inward), y, x + (cut ? inward : 0), y, new Stroke(0.2));
        drawing.Text(x + (cut ? -1.2 : 3), paper.HeightMm / 2, words, SmallMm, TextAnchor.Middle, turnDeg: -90);
    }
}
