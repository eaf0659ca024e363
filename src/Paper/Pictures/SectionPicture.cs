using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>The section through the edge to scale, before (broken line) and after (whole line, grey), what goes hatched.</summary>
public static class SectionPicture
{
    private static readonly double[] Bars = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10];

    /// <summary>Draws the section with the edge down, the blade's left on the left as one looks from heel to tip.</summary>
    public static Drawing Draw(SectionView view, SheetStyle style, double widthMm = 60, double heightMm = 66)
    {
        var f = new Figures(style);
        string words = $"Section at the edge. Left {Change(f, view.OldLeftDeg, view.NewLeftDeg)}, right {Change(f, view.OldRightDeg, view.NewRightDeg)}. The steel that goes is hatched.";
        var drawing = new Drawing(widthMm, heightMm, "Section before and after, to scale", words);
        IReadOnlyList<Point2>[] shapes = [view.BeforeMm, view.AfterMm];
        double left = shapes.Min(s => s.Min(p => p.X));
        double right = shapes.Max(s => s.Max(p => p.X));
        double low = shapes.Min(s => s.Min(p => p.Y));
        double high = shapes.Max(s => s.Max(p => p.Y));
        double half = Math.Max(Math.Max(-left, right), 1e-6);
        // A slender section leaves room for the words at its sides; a stout one gets them above it.
        double tall = Math.Max(high - low, 1e-6);
        double beside = Math.Min((widthMm - 49) / (2 * half), (heightMm - 4) / tall);
        double below = Math.Min((widthMm - 6) / (2 * half), (heightMm - 22) / tall);
        bool slender = beside > below;
        var frame = slender
            ? new PictureFrame(-half, low, half, low + tall, 24.5, 2, widthMm - 49, heightMm - 4, yUp: true)
            : new PictureFrame(-half, low, half, low + tall, 3, 16, widthMm - 6, heightMm - 22, yUp: true);

        drawing.Polygon(view.AfterMm.Select(frame.At), null, Ink.Steel);
        foreach (IReadOnlyList<Point2> gone in view.RemovedMm.Where(g => g.Count >= 3))
        {
            List<Point2> on = [.. gone.Select(frame.At)];
            drawing.Polygon(on, null, Ink.Paper);
            drawing.Hatch(on, 1.1, 45, new Stroke(0.18));
        }

        drawing.Polyline(view.BeforeMm.Select(frame.At), new Stroke(0.3, Ink.Muted, 1.1));
        drawing.Polyline(view.AfterMm.Select(frame.At), new Stroke(0.5));
        Point2 apex = frame.At(0, low);
        Point2 crown = frame.At(0, high);
        drawing.Line(apex.X, apex.Y + 1.5, crown.X, crown.Y - 1, new Stroke(0.15, Ink.Muted, 2));

        drawing.Text(1, 4, "left", 3.2, TextAnchor.Start, TextFace.Bold).Text(1, 8.2, Change(f, view.OldLeftDeg, view.NewLeftDeg), 3.2);
        drawing.Text(widthMm - 1, 4, "right", 3.2, TextAnchor.End, TextFace.Bold).Text(widthMm - 1, 8.2, Change(f, view.OldRightDeg, view.NewRightDeg), 3.2, TextAnchor.End);
        double key = slender ? heightMm - 9 : 12;
        drawing.Text(1, key, "broken: before", 2.5).Text(1, key + 3.1, "whole: after", 2.5);
        if (view.RemovedMm.Count > 0)
            drawing.Text(slender ? 1 : 22, slender ? key + 6.2 : key, "hatched: goes", 2.5);
        ScaleBar(drawing, f, frame.Scale, widthMm, heightMm);
        return drawing;
    }

    private static void ScaleBar(Drawing drawing, Figures f, double scale, double width, double height)
    {
        double unit = f.Style.Inches ? 25.4 : 1;
        double[] fitting = [.. Bars.Select(b => f.Style.Inches ? b / 10 * unit : b).Where(mm => mm * scale <= width * 0.28)];
        double bar = fitting.Length > 0 ? fitting[^1] : width * 0.3 / scale;
        double x1 = width - 1.5;
        double x0 = x1 - (bar * scale);
        double y = height - 1.6;
        drawing.Line(x0, y, x1, y, new Stroke(0.5)).Line(x0, y - 1, x0, y + 1, new Stroke(0.3)).Line(x1, y - 1, x1, y + 1, new Stroke(0.3));
        string label = f.Style.Inches ? f.Fixed(bar / unit, 4).TrimEnd('0') + " in" : f.Fixed(bar, bar < 0.1 ? 2 : bar < 1 ? 1 : 0) + " mm";
        drawing.Text(x0 - 1.5, y + 1, label, 3, TextAnchor.End);
    }

    private static string Change(Figures f, double? old, double? now) => (old, now) switch
    {
        ({ } o, { } n) => f.Degrees(o) + " → " + f.Degrees(n),
        (null, { } n) => f.Degrees(n),
        ({ } o, null) => f.Degrees(o),
        _ => "not given",
    };
}
