using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;

namespace Whetwright.Paper.Pictures;

/// <summary>Dimension lines with arrowheads.</summary>
internal static class Dimension
{
    /// <summary>A straight double arrow.</summary>
    internal static void Arrow(Drawing drawing, Point2 from, Point2 to, Stroke stroke, bool bothEnds = true, double headMm = 2.2)
    {
        drawing.Line(from.X, from.Y, to.X, to.Y, stroke);
        Head(drawing, from, to, stroke.Ink, headMm);
        if (bothEnds)
            Head(drawing, to, from, stroke.Ink, headMm);
    }

    /// <summary>An upright dimension with extension lines from what it measures; the label stands across it, backed.</summary>
    internal static void Upright(Drawing drawing, double x, double y0, double y1, double fromX0, double fromX1, string label, double sizeMm, double leftEdge, double rightEdge)
    {
        var thin = new Stroke(0.25, Ink.Accent);
        double over = x < fromX0 ? -1.5 : 1.5;
        drawing.Line(fromX0, y0, x + over, y0, thin).Line(fromX1, y1, x + over, y1, thin);
        Arrow(drawing, new(x, y0), new(x, y1), new Stroke(0.6, Ink.Accent), headMm: 3);
        double half = FontMetrics.Of(TextFace.Bold).WidthMm(label, sizeMm) / 2;
        double at = Math.Clamp(x, leftEdge + half + 0.6, Math.Max(leftEdge + half + 0.6, rightEdge - half - 0.6));
        drawing.Text(at, ((y0 + y1) / 2) + (sizeMm * 0.35), label, sizeMm, TextAnchor.Middle, TextFace.Bold, Ink.Accent, backed: true);
    }

    private static void Head(Drawing drawing, Point2 from, Point2 to, Ink ink, double headMm)
    {
        Vector2 along = to - from;
        if (along.Norm < 1e-9)
            return;
        Vector2 u = along.Normalized();
        Vector2 n = new(-u.Y, u.X);
        Point2 back = to + (u * -headMm);
        drawing.Polygon([to, back + (n * (headMm * 0.28)), back + (n * (-headMm * 0.28))], null, ink);
    }
}
