using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Pictures;

/// <summary>The one drawing of frames, sides and signs that docs/conventions.md shows; docs/conventions.svg is this drawing.</summary>
public static class ConventionsPicture
{
    private const double PanelWidth = 84;
    private const double PanelHeight = 78;
    private static readonly Stroke Axis = new(0.5, Ink.Accent);

    /// <summary>Draws it.</summary>
    public static Drawing Draw()
    {
        var d = new Drawing(3 * PanelWidth, 2 * PanelHeight, "Frames, sides and signs", "Six panels: blade sides, blade frame, beam frame from above, target and tip, roll, wheel and bar.");
        Panel(d, 0, 0, "1  Blade sides", "edge down, tip away from you", BladeSides);
        Panel(d, 1, 0, "2  Blade frame", "millimetres; s runs along the edge from the heel", BladeFrame);
        Panel(d, 2, 0, "3  Beam frame, from above", "x right, y down (into the page), z along the beam", BeamFrame);
        Panel(d, 0, 1, "4  Target and tip", "the target as you read it, looking along the beam", TargetAndTip);
        Panel(d, 1, 1, "5  Roll", "seen along the beam's plane, from above", Roll);
        Panel(d, 2, 1, "6  Wheel and bar", "from the side", WheelAndBar);
        return d;
    }

    private static void Panel(Drawing d, int column, int row, string head, string under, Action<Drawing> draw)
    {
        var panel = new Drawing(PanelWidth, PanelHeight, head);
        panel.Rectangle(0.5, 0.5, PanelWidth - 1, PanelHeight - 1, new Stroke(0.2, Ink.Faint));
        panel.Text(4, 7, head, 4, TextAnchor.Start, TextFace.Bold);
        panel.Text(4, 11.4, under, 2.7, TextAnchor.Start, TextFace.Regular, Ink.Muted);
        draw(panel);
        d.Place(panel, column * PanelWidth, row * PanelHeight);
    }

    private static void Label(Drawing d, double x, double y, string words, double size = 3.2, TextAnchor anchor = TextAnchor.Middle, bool bold = false) =>
        d.Text(x, y, words, size, anchor, bold ? TextFace.Bold : TextFace.Regular);

    private static void Arrow(Drawing d, double x0, double y0, double x1, double y1, Stroke? stroke = null) =>
        Dimension.Arrow(d, new(x0, y0), new(x1, y1), stroke ?? Axis, bothEnds: false);

    private static void BladeSides(Drawing d)
    {
        // Seen from the heel: a wedge, spine up, edge down.
        d.Polygon([new(42, 62), new(38, 24), new(46, 24)], Stroke.Outline, Ink.Steel);
        Label(d, 42, 21, "spine");
        Label(d, 42, 67, "edge");
        Label(d, 20, 42, "left", 5, bold: true);
        Label(d, 64, 42, "right", 5, bold: true);
        Arrow(d, 36, 48, 16, 48);
        Label(d, 19, 53, "+z (bend, offsets)", 2.8);
        Arrow(d, 48, 48, 68, 48, new Stroke(0.35, Ink.Muted));
        d.Circle(42, 40, 1.6, Axis).Line(40.9, 38.9, 43.1, 41.1, Axis).Line(40.9, 41.1, 43.1, 38.9, Axis);
        Label(d, 50, 36, "tip: away", 2.8, TextAnchor.Start);
        Label(d, 42, 73.5, "left × tip-ward = edge-ward", 2.8);
    }

    private static void BladeFrame(Drawing d)
    {
        // Seen from the blade's right: heel left, tip right, edge down; y points down, out of the steel.
        Point2[] edge = [.. Enumerable.Range(0, 31).Select(i => i / 30.0).Select(t => new Point2(14 + (60 * t), 52 - (t < 0.5 ? 0 : 11 * Math.Pow((t - 0.5) * 2, 2))))];
        d.Polygon([.. edge, new(62, 33), new(14, 32)], new Stroke(0.2, Ink.Muted), Ink.Steel);
        d.Polyline(edge, new Stroke(0.7));
        Arrow(d, 14, 52, 30, 52);
        Label(d, 29, 50.4, "x", 3.6, bold: true);
        Arrow(d, 14, 52, 14, 66);
        Label(d, 10.5, 65, "y", 3.6, bold: true);
        Label(d, 14, 70.5, "outward", 2.8);
        Label(d, 9, 51, "heel", 2.8);
        Label(d, 77, 40, "tip", 2.8);
        (double ex, double ey) = (edge[22].X, edge[22].Y);
        Vector2 t = (edge[23] - edge[21]).Normalized();
        Vector2 n = new(-t.Y, t.X);
        Arrow(d, ex, ey, ex + (n.X * 13), ey + (n.Y * 13));
        Label(d, ex + (n.X * 13) + 4.5, ey + (n.Y * 13) - 1, "n(s)", 3.2, bold: true);
        Label(d, ex - 1, ey + 5.4, "E(s)", 3.2, TextAnchor.End, bold: true);
        d.Circle(ex, ey, 0.8, null, Ink.Main);
        Point2 foot = new(40, 20);
        d.Line(foot.X - 2, foot.Y, foot.X + 2, foot.Y, Stroke.Outline).Line(foot.X, foot.Y - 2, foot.X, foot.Y + 2, Stroke.Outline);
        Label(d, foot.X - 3, foot.Y + 1, "J", 3.6, TextAnchor.End, true);
        d.Line(foot.X, foot.Y, ex, ey, new Stroke(0.2, Ink.Muted, 1));
        double p = new Vector2(ex - foot.X, ey - foot.Y).Dot(n);
        Point2 end = foot + (n * p);
        Dimension.Arrow(d, foot, end, new Stroke(0.4, Ink.Accent), headMm: 2);
        d.Line(end.X, end.Y, ex, ey, new Stroke(0.2, Ink.Muted, 1));
        Label(d, 39, 38, "p", 4, TextAnchor.Middle, true);
        Label(d, 50, 74.5, "p(s) = (E(s) − J) · n(s),  body at y < 0", 2.8);
    }

    private static void BeamFrame(Drawing d)
    {
        // From above: beam from the left, edge at (26, 44), target at x = 74. Right of the target, looking along the beam, is down on the page.
        (double ex, double ey, double tx) = (28, 44, 74);
        d.Line(4, ey, tx, ey, new Stroke(0.25, Ink.Muted, 1.2));
        Arrow(d, 6, ey, 20, ey);
        Label(d, 11, ey - 2, "d = z", 3.2, bold: true);
        d.Line(tx, 16, tx, 72, new Stroke(0.8));
        d.Text(tx + 4.4, 44, "target, plane z = L", 2.8, TextAnchor.Middle, turnDeg: 90);
        double theta = double.DegreesToRadians(13);
        d.Polygon([new(ex, ey), new(ex + 26, ey - (26 * Math.Tan(theta))), new(ex + 26, ey + (26 * Math.Tan(theta)))], Stroke.Outline, Ink.Steel);
        foreach (int way in (int[])[-1, 1])
        {
            double y = ey + (way * (tx - ex) * Math.Tan(2 * theta));
            d.Line(ex, ey, tx, y, new Stroke(0.4, Ink.Accent));
            d.Circle(tx, y, 1, null, Ink.Accent);
        }

        double n = 12;
        Arrow(d, ex, ey, ex - (n * Math.Sin(theta)), ey + (n * Math.Cos(theta)), new Stroke(0.35));
        Label(d, ex - 4, ey + 16, "n", 3.6, bold: true);
        Label(d, ex + 20, ey + 3.4, "θ", 3.4, bold: true);
        Label(d, ex + 20, ey - 1, "θ", 3.4, bold: true);
        Label(d, 55, 63, "r, turned by 2θ", 3, TextAnchor.End);
        Label(d, tx - 1.5, 69, "x = L tan 2θ", 2.9, TextAnchor.End);
        Arrow(d, ex, ey, ex, ey + 26);
        Label(d, ex, ey + 30, "x, target right", 2.9);
        Label(d, 60, 22, "target left", 2.9);
        Label(d, 15, ey + 5, "laser", 2.8);
        Dimension.Arrow(d, new(ex, 17), new(tx, 17), new Stroke(0.25, Ink.Muted), headMm: 1.8);
        Label(d, 46, 16, "L", 3.4, bold: true);
    }

    private static void TargetAndTip(Drawing d)
    {
        d.Rectangle(8, 17, 68, 34, Stroke.Outline);
        d.Line(10, 34, 74, 34, Stroke.Thin);
        d.Line(42, 30, 42, 38, Stroke.Outline);
        Label(d, 16, 23, "left", 4, bold: true);
        Label(d, 68, 23, "right", 4, bold: true);
        Arrow(d, 42, 34, 54, 34);
        Label(d, 53, 32.4, "x", 3.4, bold: true);
        Arrow(d, 42, 34, 42, 46);
        Label(d, 45, 45, "y", 3.4, bold: true);
        foreach (double x in (double[])[22, 62])
            d.Polyline([.. Enumerable.Range(-4, 9).Select(i => new Point2(x + ((x < 42 ? -1 : 1) * i * i * 0.06), 34 + (i * 1.1)))], new Stroke(0.8, Ink.Accent));
        Label(d, 4, 58, "tip up:", 3.2, TextAnchor.Start, true);
        Label(d, 22, 58, "blade's left throws right, its right left", 2.9, TextAnchor.Start);
        Label(d, 4, 64, "tip down:", 3.2, TextAnchor.Start, true);
        Label(d, 22, 64, "blade's left throws left, its right right", 2.9, TextAnchor.Start);
        Label(d, 4, 71, "sheet frame: origin top left, x right, y down", 2.9, TextAnchor.Start);
    }

    private static void Roll(Drawing d)
    {
        (double ex, double ey) = (24, 43);
        d.Line(4, ey, 78, ey, new Stroke(0.25, Ink.Muted, 1.2));
        Arrow(d, 5, ey, 16, ey);
        Label(d, 10, ey - 2, "d", 3.4, bold: true);
        double rho = double.DegreesToRadians(9);
        Point2 At(double s, double t) => new(ex + (s * Math.Cos(rho)) - (t * Math.Sin(rho)), ey + (s * Math.Sin(rho)) + (t * Math.Cos(rho)));
        double half = 40 * Math.Tan(double.DegreesToRadians(7));
        d.Polygon([At(0, 0), At(40, -half), At(40, half)], Stroke.Outline, Ink.Steel);
        Point2 mid = At(50, 0);
        d.Line(ex, ey, mid.X, mid.Y, new Stroke(0.25, Ink.Main, 1.2));
        d.Arc(ex, ey, 47, 0, 9, new Stroke(0.5, Ink.Accent));
        Label(d, 76, ey + 6, "+ρ", 4, TextAnchor.Middle, true);
        Label(d, 61, 28, "target left: reads θ − ρ", 2.9);
        Label(d, 61, 63, "target right: reads θ + ρ", 2.9);
        Label(d, 42, 73, "pitch turns about x and moves all marks up or down", 2.7);
        Label(d, ex, ey - 3, "edge", 2.8);
    }

    private static void WheelAndBar(Drawing d)
    {
        const double r = 21;
        const double p = 33;
        const double q = 6;
        Point2 axis = new(29, 54);
        double a = double.DegreesToRadians(24);
        d.Circle(axis.X, axis.Y, r, Stroke.Outline, Ink.Stone);
        d.Circle(axis.X, axis.Y, 0.8, null, Ink.Main);
        Point2 edge = new(axis.X, axis.Y - r);
        Vector2 u = new(Math.Cos(a), -Math.Sin(a));
        Vector2 n = new(-Math.Sin(a), -Math.Cos(a));
        Point2 foot = edge + (u * p);
        Point2 bar = foot + (n * q);
        Point2 spine = edge + (u * 20);
        d.Polygon([edge, spine + (n * 1.2), spine + (n * -1.2)], Stroke.Outline, Ink.Steel);
        d.Line(edge.X, edge.Y, foot.X + (u.X * 5), foot.Y + (u.Y * 5), new Stroke(0.2, Ink.Muted, 1.2));
        d.Line(edge.X, edge.Y, edge.X + 28, edge.Y, new Stroke(0.2, Ink.Muted, 1.2));
        d.Arc(edge.X, edge.Y, 24, 0, -24, new Stroke(0.5, Ink.Accent));
        Label(d, edge.X + 27, edge.Y - 4.2, "α", 4, bold: true);
        d.Circle(bar.X, bar.Y, 2.4, Stroke.Outline, Ink.Paper);
        d.Line(axis.X, axis.Y, edge.X, edge.Y, new Stroke(0.3, Ink.Muted));
        Label(d, axis.X - 3, axis.Y - 10, "R", 3.8, bold: true);
        Dimension.Arrow(d, axis, bar, new Stroke(0.4, Ink.Accent), headMm: 2);
        Label(d, 50, 40, "D", 4, bold: true);
        Dimension.Arrow(d, edge + (n * 9.5), foot + (n * 9.5), new Stroke(0.3, Ink.Accent), headMm: 1.8);
        Label(d, 37.5, 15.5, "p", 4, bold: true);
        Arrow(d, foot.X, foot.Y, bar.X, bar.Y, new Stroke(0.4, Ink.Accent));
        Label(d, foot.X + 5.5, foot.Y - 1.5, "+Q", 3.6, bold: true);
        Label(d, 70, 62, "Q: positive away", 2.8);
        Label(d, 70, 66, "from the wheel", 2.8);
        Label(d, 17, edge.Y + 2, "edge", 2.8);
    }
}
