using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>The angle ground along the edge, over the outline with the clamp on it. Both share one scale along the edge.</summary>
public static class EdgeAnglePicture
{
    /// <summary>Draws heel left, tip right, edge down; the other way round for a left-handed sheet.</summary>
    public static Drawing Draw(EdgeAngleView view, SheetStyle style, double widthMm = 186, double heightMm = 62)
    {
        var f = new Figures(style);
        double least = view.Angles.Min(a => a.Deg);
        double most = view.Angles.Max(a => a.Deg);
        var drawing = new Drawing(widthMm, heightMm, "Angle along the edge", $"From {f.Degrees(least, 2)} to {f.Degrees(most, 2)} along the edge; wanted {f.Degrees(view.WantedDeg, 2)}{(view.ToleranceDeg is { } tol ? " ± " + f.Degrees(tol, 2) : "")}.");
        double length = view.EdgeMm.Max(p => p.X);
        double start = Math.Min(0, view.EdgeMm.Min(p => p.X));
        double plotBottom = heightMm * 0.46;
        const double left = 13;
        double right = widthMm - 2;
        double scale = (right - left) / (length - start);
        double X(double mm) => f.Style.LeftHanded ? right - ((mm - start) * scale) : left + ((mm - start) * scale);
        Plot(drawing, view, f, X, left, right, 4, plotBottom, least, most);
        Outline(drawing, view, f, X, scale, plotBottom + 2.5, heightMm - 1);
        return drawing;
    }

    private static void Plot(Drawing drawing, EdgeAngleView view, Figures f, Func<double, double> x, double left, double right, double top, double bottom, double least, double most)
    {
        double tolerance = view.ToleranceDeg ?? 0;
        double reach = Math.Max(Math.Max(Math.Abs(least - view.WantedDeg), Math.Abs(most - view.WantedDeg)), Math.Max(tolerance * 1.3, 0.1)) * 1.12;
        double Y(double deg) => bottom - ((deg - view.WantedDeg + reach) / (2 * reach) * (bottom - top));
        if (tolerance > 0)
        {
            double high = Y(view.WantedDeg + tolerance);
            double low = Y(view.WantedDeg - tolerance);
            drawing.Rectangle(left, high, right - left, low - high, null, Ink.Steel);
            drawing.Line(left, high, right, high, new Stroke(0.2, Ink.Muted, 1.2)).Line(left, low, right, low, new Stroke(0.2, Ink.Muted, 1.2));
        }

        drawing.Line(left, top, left, bottom, Stroke.Thin).Line(left, bottom, right, bottom, Stroke.Thin);
        drawing.Line(left, Y(view.WantedDeg), right, Y(view.WantedDeg), new Stroke(0.25, Ink.Muted));
        double lastY = double.NaN;
        foreach (double deg in (double[])[view.WantedDeg, view.WantedDeg + (tolerance > 0 ? tolerance : reach * 0.8), view.WantedDeg - (tolerance > 0 ? tolerance : reach * 0.8)])
        {
            if (!double.IsNaN(lastY) && Math.Abs(Y(deg) - lastY) < 3)
                continue;
            drawing.Text(left - 1, Y(deg) + 1, f.Degrees(deg, 1), 2.9, TextAnchor.End, deg == view.WantedDeg ? TextFace.Bold : TextFace.Regular);
            lastY = Y(view.WantedDeg);
        }

        drawing.Polyline(view.Angles.OrderBy(a => a.AtMm).Select(a => new Point2(x(a.AtMm), Y(a.Deg))), new Stroke(0.8, Ink.Accent));
        double from = view.ScoreFromMm ?? view.EdgeMm.Min(p => p.X);
        double to = view.ScoreToMm ?? view.EdgeMm.Max(p => p.X);
        Extremes(drawing, view, f, x, Y, from, to, top, bottom, left, right);
        if (view.ScoreFromMm is not null || view.ScoreToMm is not null)
        {
            foreach (double at in (double[])[from, to])
                drawing.Line(x(at), top, x(at), bottom, new Stroke(0.2, Ink.Muted, 0.7));
        }
    }

    private static void Extremes(Drawing drawing, EdgeAngleView view, Figures f, Func<double, double> x, Func<double, double> y, double from, double to, double top, double bottom, double left, double right)
    {
        StationAngle[] scored = [.. view.Angles.Where(a => a.AtMm >= from - 1e-9 && a.AtMm <= to + 1e-9)];
        if (scored.Length == 0)
            return;
        foreach (StationAngle end in (StationAngle[])[scored.MaxBy(a => a.Deg), scored.MinBy(a => a.Deg)])
        {
            bool high = end.Deg >= view.WantedDeg;
            double at = Math.Clamp(x(end.AtMm), left + 8, right - 8);
            drawing.Circle(x(end.AtMm), y(end.Deg), 0.9, null, Ink.Accent);
            double textY = high ? y(end.Deg) - 1.4 : y(end.Deg) + 3.6;
            drawing.Text(at, Math.Clamp(textY, top + 1, bottom - 0.6), f.Degrees(end.Deg, 2), 3, TextAnchor.Middle, TextFace.Bold, backed: true);
        }
    }

    private static void Outline(Drawing drawing, EdgeAngleView view, Figures f, Func<double, double> x, double scale, double top, double bottom)
    {
        double lowest = view.EdgeMm.Max(p => p.Y);
        double height = view.BladeHeightMm + Math.Max(0, lowest);
        double above = view.JawFromHeelMm is null ? 0 : 5; // the jaw stands over the spine
        double vertical = Math.Min(scale, (bottom - top - 5 - above) / height); // true to scale where there is room
        double baseLine = bottom - 4.5 - (Math.Max(0, lowest) * vertical);
        double Y(double y) => baseLine + (y * vertical);
        Point2 tip = view.EdgeMm[^1];
        double spine = -view.BladeHeightMm;
        List<Point2> shape = [.. view.EdgeMm.Select(p => new Point2(x(p.X), Y(p.Y)))];
        double shoulder = tip.X * 0.62;
        for (int i = 0; i <= 12; i++)
        {
            double t = i / 12.0;
            double along = tip.X + ((shoulder - tip.X) * t);
            double drop = tip.Y + ((spine - tip.Y) * (1 - ((1 - t) * (1 - t))));
            shape.Add(new(x(along), Y(drop)));
        }

        shape.Add(new(x(view.EdgeMm[0].X), Y(spine)));
        drawing.Polygon(shape, new Stroke(0.2, Ink.Muted), Ink.Steel);
        drawing.Polyline(view.EdgeMm.Select(p => new Point2(x(p.X), Y(p.Y))), new Stroke(0.7));
        Jaw(drawing, view, f, x, Y, top, bottom);
        drawing.Text(x(view.EdgeMm[0].X), bottom, "heel", 3, f.Style.LeftHanded ? TextAnchor.End : TextAnchor.Start);
        drawing.Text(x(tip.X), bottom, "tip", 3, f.Style.LeftHanded ? TextAnchor.Start : TextAnchor.End);
        if (vertical < scale * 0.98)
            drawing.Text(x(tip.X * 0.5), bottom, $"heights drawn at {f.Fixed(vertical / scale, 2)} of the lengths", 2.6, TextAnchor.Middle, TextFace.Regular, Ink.Muted);
    }

    private static void Jaw(Drawing drawing, EdgeAngleView view, Figures f, Func<double, double> x, Func<double, double> y, double top, double bottom)
    {
        if (view.JawFromHeelMm is { } jaw)
        {
            double x0 = x(jaw - (view.JawWidthMm / 2));
            double x1 = x(jaw + (view.JawWidthMm / 2));
            double low = y(-(view.ProtrusionMm ?? view.BladeHeightMm * 0.8));
            double high = Math.Min(top, low - 5);
            drawing.Rectangle(Math.Min(x0, x1), high, Math.Abs(x1 - x0), low - high, new Stroke(0.5), Ink.Paper);
            drawing.Text((x0 + x1) / 2, ((low + high) / 2) + 1.1, "jaw", 3, TextAnchor.Middle, TextFace.Bold);
            double heel = x(view.EdgeMm[0].X);
            double line = Math.Min(low + 3.4, bottom - 6);
            Dimension.Arrow(drawing, new(heel, line), new(x(jaw), line), new Stroke(0.3, Ink.Accent), headMm: 1.8);
            drawing.Line(x(jaw), low, x(jaw), line + 1, new Stroke(0.2, Ink.Accent, 0.8));
            drawing.Text((heel + x(jaw)) / 2, line + 1.1, f.Length(jaw), 3.2, TextAnchor.Middle, TextFace.Bold, Ink.Accent, backed: true);
        }

        if (view.PivotMm is { } pivot && y(pivot.Y) >= top)
        {
            Point2 at = new(x(pivot.X), y(pivot.Y));
            drawing.Line(at.X - 1.6, at.Y, at.X + 1.6, at.Y, Stroke.Outline).Line(at.X, at.Y - 1.6, at.X, at.Y + 1.6, Stroke.Outline);
        }
    }
}
