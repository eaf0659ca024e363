using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>Two outlines of one piece laid on each other, and the height lost along the edge. Blade frame, mm.</summary>
public sealed record OutlineView
{
    /// <summary>The earlier outline, closed.</summary>
    public required IReadOnlyList<Point2> EarlierMm { get; init; }

    /// <summary>The later one, closed, moved onto the earlier.</summary>
    public required IReadOnlyList<Point2> LaterMm { get; init; }

    /// <summary>Height lost: place along the edge, mm, and mm lost there.</summary>
    public required IReadOnlyList<Point2> LostMm { get; init; }

    /// <summary>Standard uncertainty of a height lost, mm; null where not known.</summary>
    public double? LostUMm { get; init; }

    /// <summary>Name of the earlier, <c>2025-03-02</c>.</summary>
    public string Earlier { get; init; } = "before";

    /// <summary>Name of the later.</summary>
    public string Later { get; init; } = "now";
}

/// <summary>Draws an <see cref="OutlineView"/>: the earlier in broken line, the later whole and grey, the height lost under it on a scale of its own.</summary>
public static class OutlinePicture
{
    /// <summary>Draws it.</summary>
    /// <exception cref="ArgumentException">An outline of fewer than three points, or no height lost.</exception>
    public static Drawing Draw(OutlineView view, SheetStyle style, double widthMm = 140, double heightMm = 72)
    {
        if (view.EarlierMm.Count < 3 || view.LaterMm.Count < 3 || view.LostMm.Count < 2)
            throw new ArgumentException("Two outlines of three points or more and two heights lost are needed.", nameof(view));
        var f = new Figures(style);
        Point2 most = view.LostMm.MaxBy(p => p.Y);
        string sure = view.LostUMm is { } u ? " ± " + f.Small(2 * u) + " (k = 2)" : "";
        var drawing = new Drawing(widthMm, heightMm, "Outlines and height lost", $"Most was lost {f.Length(most.X, 0)} from the heel: {f.Small(most.Y)}{sure}.");
        Point2[] all = [.. view.EarlierMm, .. view.LaterMm];
        (double x0, double x1) = (all.Min(p => p.X), all.Max(p => p.X));
        (double y0, double y1) = (all.Min(p => p.Y), all.Max(p => p.Y));
        const double left = 15;
        double right = widthMm - 2;
        double split = heightMm * 0.52;
        double scale = Math.Min((right - left) / (x1 - x0), (split - 7) / (y1 - y0));
        bool turned = f.Style.LeftHanded;
        double middle = (left + right) / 2;
        double X(double mm) => middle + ((turned ? -1 : 1) * (mm - ((x0 + x1) / 2)) * scale);
        double Y(double mm) => 6 + ((mm - y0) * scale);
        drawing.Polygon(view.LaterMm.Select(p => new Point2(X(p.X), Y(p.Y))), new Stroke(0.5), Ink.Steel);
        drawing.Polygon(view.EarlierMm.Select(p => new Point2(X(p.X), Y(p.Y))), new Stroke(0.35, Ink.Accent, 1.3));
        drawing.Text(left, 3.4, "broken: " + view.Earlier, 2.8).Text(right, 3.4, "whole: " + view.Later, 2.8, TextAnchor.End);
        Lost(drawing, view, f, X, left, right, split + 7, heightMm - 6, most, sure);
        Point2 heel = view.LostMm.MinBy(p => p.X);
        Point2 tip = view.LostMm.MaxBy(p => p.X);
        drawing.Text(X(heel.X), heightMm - 1.4, "heel", 2.8, TextAnchor.Middle).Text(X(tip.X), heightMm - 1.4, "tip", 2.8, TextAnchor.Middle);
        if (view.LostUMm > 0) // under the axis, where no hatching can run through the words
            drawing.Text((X(heel.X) + X(tip.X)) / 2, heightMm - 1.4, "under the broken line (2u) it may be nothing", 2.6, TextAnchor.Middle, TextFace.Regular, Ink.Muted);
        return drawing;
    }

    private static void Lost(Drawing drawing, OutlineView view, Figures f, Func<double, double> x, double left, double right, double top, double bottom, Point2 most, string sure)
    {
        Point2[] lost = [.. view.LostMm.OrderBy(p => p.X)];
        double high = Math.Max(Math.Max(most.Y, 2 * (view.LostUMm ?? 0)) * 1.15, 0.05);
        double low = Math.Min(0, lost.Min(p => p.Y) * 1.15);
        double Y(double mm) => bottom - ((mm - low) / (high - low) * (bottom - top));
        drawing.Text(left, top - 1.8, "height lost, drawn larger", 2.8, TextAnchor.Start, TextFace.Bold);
        List<Point2> shape = [.. lost.Select(p => new Point2(x(p.X), Y(p.Y))), new(x(lost[^1].X), Y(0)), new(x(lost[0].X), Y(0))];
        drawing.Hatch(shape, 1.2, 45, new Stroke(0.18));
        drawing.Polyline(lost.Select(p => new Point2(x(p.X), Y(p.Y))), new Stroke(0.5));
        drawing.Line(left, top, left, bottom, Stroke.Thin).Line(left, Y(0), right, Y(0), new Stroke(0.3));
        drawing.Text(left - 1, Y(0) + 1, "0", 2.8, TextAnchor.End);
        if (Y(0) - Y(most.Y) > 3)
            drawing.Text(left - 1, Y(most.Y) + 1, f.Small(most.Y).Split(' ')[0], 2.8, TextAnchor.End);
        if (view.LostUMm is { } u && u > 0)
        {
            drawing.Line(left, Y(2 * u), right, Y(2 * u), new Stroke(0.3, Ink.Main, 1));
            if (Y(0) - Y(2 * u) > 3 && Y(2 * u) - Y(most.Y) > 3)
                drawing.Text(left - 1, Y(2 * u) + 1, "2u", 2.8, TextAnchor.End);
        }

        drawing.Text(right, top - 1.8, $"most {f.Small(most.Y)}{sure}, {f.Length(most.X, 0)} from the heel", 2.8, TextAnchor.End);
    }
}
