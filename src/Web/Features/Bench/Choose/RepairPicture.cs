using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Paper.Drawings;

namespace Whetwright.Web.Features.Bench.Choose;

/// <summary>The outline before (broken line) and after (whole line), to one scale, edge up as it lies on the bench.</summary>
internal static class RepairPicture
{
    public static Drawing Draw(IReadOnlyList<Point2> oldEdgeMm, ReshapeResult made, double heightMm, string words)
    {
        const double width = 92;
        double left = Math.Min(oldEdgeMm[0].X, made.EdgeMm[0].X), right = Math.Max(oldEdgeMm[^1].X, made.EdgeMm[^1].X);
        double top = Math.Max(oldEdgeMm.Max(p => p.Y), made.EdgeMm.Max(p => p.Y));
        double bottom = Math.Min(-heightMm, made.SpineMm.Min(p => p.Y));
        double scale = (width - 6) / (right - left), height = ((top - bottom) * scale) + 14;
        Drawing drawing = new(width, height, "Outline before and after", words);
        Point2 At(Point2 p) => new(3 + ((p.X - left) * scale), 9 + ((top - p.Y) * scale));
        Point2[] after = [.. made.EdgeMm.Select(At), .. made.SpineMm.Reverse().Select(At)];
        drawing.Polygon(after, null, Ink.Steel);
        drawing.Polyline(made.SpineMm.Select(At), new Stroke(0.3));
        drawing.Polyline(oldEdgeMm.Select(At), new Stroke(0.35, Ink.Muted, 1.4));
        drawing.Polyline(made.EdgeMm.Select(At), new Stroke(0.7, Ink.Accent));
        drawing.Polyline([At(new(oldEdgeMm[0].X, oldEdgeMm[0].Y - heightMm)), At(new(oldEdgeMm[^1].X, oldEdgeMm[0].Y - heightMm)), At(oldEdgeMm[^1])], new Stroke(0.35, Ink.Muted, 1.4));
        EdgeGap worst = made.Gaps.MaxBy(g => g.GapMm);
        bool gap = worst.GapMm > 0.005;
        Point2 place = At(oldEdgeMm.MinBy(p => Math.Abs(p.X - worst.AtMm)));
        if (gap)
            drawing.Circle(place.X, place.Y, 2.2, new Stroke(0.4, Ink.Accent));
        drawing.Text(3, 5, "heel", 3.6).Text(width - 3, 5, "tip", 3.6, TextAnchor.End).Text(width / 2, 5, "broken: before, whole: after" + (gap ? ", ring: largest gap" : ""), 3, TextAnchor.Middle);
        return drawing;
    }
}
