using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>The marks on the target's reading row, left and right as one reads the target.</summary>
public static class ReadingPicture
{
    /// <summary>Draws the row with zero in the middle, to scale along it.</summary>
    public static Drawing Draw(ReadingView view, SheetStyle style, double widthMm = 92, double heightMm = 24)
    {
        var f = new Figures(style);
        string said = string.Join("; ", view.Marks.Select(m => $"{Name(m.TargetSide)} {m.Role} {f.Degrees(m.Deg)}"));
        var drawing = new Drawing(widthMm, heightMm, "Marks on the target", said.Length > 0 ? said : "No mark.");
        double most = Math.Max(view.DistanceMm * 0.3, view.Marks.Select(m => m.OffsetMm).DefaultIfEmpty(0).Max() * 1.12);
        double scale = ((widthMm / 2) - 3) / most;
        double x0 = widthMm / 2;
        double y = heightMm * 0.55;
        drawing.Line(2, y, widthMm - 2, y, Stroke.Thin);
        drawing.Line(x0, y - 3, x0, y + 3, Stroke.Outline);
        drawing.Text(x0, y + 6.4, "0", 3, TextAnchor.Middle);
        drawing.Text(1, heightMm - 0.8, "◀ target left", 2.8).Text(widthMm - 1, heightMm - 0.8, "target right ▶", 2.8, TextAnchor.End);
        foreach (Side side in (Side[])[Side.Left, Side.Right])
        {
            foreach (MarkView mark in view.Marks.Where(m => m.TargetSide == side).OrderBy(m => m.OffsetMm))
            {
                double way = side == Side.Left ? -1 : 1;
                double x = x0 + (way * mark.OffsetMm * scale);
                bool edge = mark.Role.Equals("edge", StringComparison.OrdinalIgnoreCase);
                Point2[] arc = [.. Enumerable.Range(-4, 9).Select(i => new Point2(x + (way * i * i * 0.05), y + (i * 0.8)))];
                drawing.Polyline(arc, new Stroke(edge ? 1.1 : 0.6, edge ? Ink.Accent : Ink.Main));

                // Edge marks are named just over the row; the others higher, outward, so that neighbours keep clear of each other.
                string label = $"{mark.Role} {f.Degrees(mark.Deg)}";
                double half = FontMetrics.Of(TextFace.Bold).WidthMm(label, 2.9) / 2;
                double wished = edge ? x : x + (way * (half - 1));
                double at = Math.Clamp(wished, half + 0.5, widthMm - half - 0.5);
                drawing.Text(at, edge ? y - 4.6 : y - 8, label, 2.9, TextAnchor.Middle, edge ? TextFace.Bold : TextFace.Regular);
            }
        }

        return drawing;
    }

    private static string Name(Side side) => side == Side.Left ? "target left" : "target right";
}
