using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>The rig from the side, to scale, with the dimension to dial.</summary>
public static class RigPicture
{
    /// <summary>Draws whichever rig the view holds.</summary>
    /// <param name="view">The rig with one setting.</param>
    /// <param name="style">Units and hand: a left-handed sheet shows it mirrored.</param>
    /// <param name="widthMm">Width of the drawing, mm.</param>
    /// <param name="heightMm">Height, mm.</param>
    public static Drawing Draw(RigView view, SheetStyle style, double widthMm = 92, double heightMm = 76) => view switch
    {
        WheelAndBarView wheel => Wheel(wheel, new Figures(style), widthMm, heightMm),
        GuidedRodView rod => Rod(rod, new Figures(style), widthMm, heightMm),
        BenchStoneView stone => Stone(stone, new Figures(style), widthMm, heightMm),
        _ => throw new ArgumentOutOfRangeException(nameof(view), view, "Not one of the rigs we draw."),
    };

    // The wheel's axis is the origin, the bar straight above it; docs/conventions.md, "Wheel and bar".
    private static Drawing Wheel(WheelAndBarView v, Figures f, double width, double height)
    {
        double r = v.WheelDiameterMm / 2;
        double d = v.BarCentreToAxisMm;
        string dial = f.Length(v.BarFarSideToWheelMm, 2);
        var drawing = new Drawing(width, height, "Rig from the side: " + v.WheelName, $"Wheel of {f.Length(v.WheelDiameterMm)} diameter. From the far side of the bar to the wheel: {dial}. Grinds {f.Degrees(v.AngleDeg, 2)} from the mid-plane.");

        // First with the contact on top: E = (0, R), blade along u, bar at F + Q n. Then turned so that the bar is straight up.
        double a = double.DegreesToRadians(v.AngleDeg);
        Vector2 u0 = new(Math.Cos(a), Math.Sin(a));
        Vector2 n0 = new(-Math.Sin(a), Math.Cos(a));
        Vector2 bar0 = new Vector2(0, r) + (u0 * v.SupportDistanceMm) + (n0 * v.OffsetMm);
        double turn = (Math.PI / 2) - Math.Atan2(bar0.Y, bar0.X);
        Vector2 Turned(Vector2 p) => new((p.X * Math.Cos(turn)) - (p.Y * Math.Sin(turn)), (p.X * Math.Sin(turn)) + (p.Y * Math.Cos(turn)));
        Vector2 edge = Turned(new(0, r));
        Vector2 u = Turned(u0);
        Vector2 n = Turned(n0);

        double holder = v.HolderHalfThicknessMm;
        double low = -0.16 * r;
        double high = d + Math.Max((v.BarDiameterMm / 2) + 6, holder + 12);
        bool mirrored = f.Style.LeftHanded;
        double room = 11; // for the angle, beside the blade
        var frame = new PictureFrame(-r, low, r, high, mirrored ? 2 : 2 + room, 1, width - 4 - room, height - 2, yUp: true, mirrored);
        WheelRim(drawing, frame, r, low);
        Point2 axis = frame.At(0, 0);
        drawing.Circle(axis.X, axis.Y, Math.Max(0.8, 4 * frame.Scale), Stroke.Outline, Ink.Paper);
        drawing.Line(axis.X - 3, axis.Y, axis.X + 3, axis.Y, Stroke.Thin).Line(axis.X, axis.Y - 3, axis.X, axis.Y + 3, Stroke.Thin);
        string diameter = $"Ø {f.Length(v.WheelDiameterMm)}";
        drawing.Text(axis.X, axis.Y - 5, diameter, FontMetrics.Of(TextFace.Regular).SizeToFit(diameter, 3.4, 1.5 * r * frame.Scale), TextAnchor.Middle);

        BladeShape.Draw(drawing, frame, v, new(edge.X, edge.Y), u, n, holder);
        Point2 bar = frame.At(0, d);
        drawing.Circle(bar.X, bar.Y, v.BarDiameterMm / 2 * frame.Scale, Stroke.Outline, Ink.Paper);
        drawing.Circle(bar.X, bar.Y, 0.4, null, Ink.Main);

        // The tangent at the edge and the angle to it.
        Vector2 tangent = Turned(new(1, 0));
        double reach = Math.Min(v.SupportDistanceMm * 0.6, r * 0.8);
        Point2 e = frame.At(edge.X, edge.Y);
        Point2 t = frame.At(edge.X + (tangent.X * reach), edge.Y + (tangent.Y * reach));
        drawing.Line(e.X, e.Y, t.X, t.Y, new Stroke(0.25, Ink.Muted, 1.2));
        Point2 beside = frame.At(edge.X + (u.X * reach * 0.45), edge.Y + (u.Y * reach * 0.45));
        string angle = "α " + f.Degrees(v.AngleDeg, 2);
        double angleWidth = FontMetrics.Of(TextFace.Bold).WidthMm(angle, 3.8);
        double angleX = mirrored ? Math.Min(beside.X + 3.5, width - angleWidth - 0.5) : Math.Max(beside.X - 3.5, angleWidth + 0.5);
        drawing.Text(angleX, beside.Y, angle, 3.8, mirrored ? TextAnchor.Start : TextAnchor.End, TextFace.Bold);

        double side = mirrored ? -1 : 1;
        double x = axis.X + (side * Math.Min(r * frame.Scale * 0.62, (width / 2) - 6));
        Dimension.Upright(drawing, x, frame.At(0, d + (v.BarDiameterMm / 2)).Y, frame.At(0, r).Y, bar.X, axis.X, dial, 5.2 * Math.Clamp(width / 76, 0.75, 1.2), 0, width);
        return drawing;
    }

    private static void WheelRim(Drawing drawing, PictureFrame frame, double r, double low)
    {
        double from = Math.Asin(low / r);
        List<Point2> rim = [];
        for (int i = 0; i <= 96; i++)
        {
            double angle = from + ((Math.PI - (2 * from)) * i / 96);
            rim.Add(frame.At(r * Math.Cos(angle), r * Math.Sin(angle)));
        }

        drawing.Polygon(rim, null, Ink.Stone);
        drawing.Polyline(rim, Stroke.Outline);
        drawing.Line(rim[0].X, rim[0].Y, rim[^1].X, rim[^1].Y, new Stroke(0.2, Ink.Muted, 1.5));
    }

    // Mid-plane level; the edge at the origin, the pivot at (p, h).
    private static Drawing Rod(GuidedRodView v, Figures f, double width, double height)
    {
        string dial = f.Length(v.PivotHeightMm, 2);
        var drawing = new Drawing(width, height, "Rig from the side", $"Rod pivot {dial} over the mid-plane, {f.Length(v.SupportDistanceMm)} from the edge. Grinds {f.Degrees(v.AngleDeg, 2)}.");
        double a = double.DegreesToRadians(v.AngleDeg);
        Vector2 along = new(Math.Cos(a), Math.Sin(a));
        Vector2 up = new(-Math.Sin(a), Math.Cos(a));
        double left = -0.4 * v.SupportDistanceMm;
        double right = v.SupportDistanceMm + 18;
        bool mirrored = f.Style.LeftHanded;
        var frame = new PictureFrame(left, -14, right, v.PivotHeightMm + 8, 2, 2, width - 4, height - 4, yUp: true, mirrored);
        BladeShape.Draw(drawing, frame, v, new(0, 0), new(1, 0), new(0, 1), 5);
        Point2 Local(double s, double t) => frame.At((along.X * s) + (up.X * t), (along.Y * s) + (up.Y * t));
        double half = v.SupportDistanceMm * 0.25;
        drawing.Polygon([Local(-half, 0), Local(half, 0), Local(half, v.FaceOffsetMm + 4), Local(-half, v.FaceOffsetMm + 4)], Stroke.Outline, Ink.Stone);
        Point2 start = Local(-half - 12, v.FaceOffsetMm);
        Point2 pivot = frame.At(v.SupportDistanceMm, v.PivotHeightMm);
        drawing.Line(start.X, start.Y, pivot.X, pivot.Y, new Stroke(0.7));
        Point2 foot = frame.At(v.SupportDistanceMm, 0);
        drawing.Line(foot.X, foot.Y, pivot.X, pivot.Y, Stroke.Outline);
        drawing.Circle(pivot.X, pivot.Y, 1.4, Stroke.Outline, Ink.Paper);
        Point2 zero = frame.At(left, 0);
        Point2 end = frame.At(right, 0);
        drawing.Line(zero.X, zero.Y, end.X, end.Y, new Stroke(0.2, Ink.Muted, 1.5));
        double x = frame.At(right - 2, 0).X;
        Dimension.Upright(drawing, x, pivot.Y, foot.Y, pivot.X, foot.X, dial, 5.2, 0, width);
        Point2 label = frame.At(0.3 * v.SupportDistanceMm, 0);
        drawing.Text(label.X, label.Y + 6, "α " + f.Degrees(v.AngleDeg, 2), 3.6, TextAnchor.Middle, TextFace.Bold);
        return drawing;
    }

    // The stone's face level; the edge at the origin, the mid-plane rising at α.
    private static Drawing Stone(BenchStoneView v, Figures f, double width, double height)
    {
        string dial = f.Length(v.LiftMm, 2);
        var drawing = new Drawing(width, height, "Blade on the stone, from the side", $"Lift {dial} at {f.Length(v.SupportDistanceMm)} from the edge. Grinds {f.Degrees(v.AngleDeg, 2)}.");
        double a = double.DegreesToRadians(v.AngleDeg);
        Vector2 u = new(Math.Cos(a), Math.Sin(a));
        Vector2 n = new(-Math.Sin(a), Math.Cos(a));
        double right = Math.Max(v.SupportDistanceMm, v.BladeHeightMm) * 1.3;
        bool mirrored = f.Style.LeftHanded;
        var frame = new PictureFrame(-0.2 * right, -10, right, (right * Math.Sin(a)) + 6, 2, 2, width - 4, height - 4, yUp: true, mirrored);
        drawing.Polygon([frame.At(-0.18 * right, 0), frame.At(right * 0.9, 0), frame.At(right * 0.9, -8), frame.At(-0.18 * right, -8)], Stroke.Outline, Ink.Stone);
        BladeShape.Draw(drawing, frame, v, new(0, 0), u, n, 5);
        Point2 foot = frame.At(v.SupportDistanceMm * u.X, 0);
        Point2 top = frame.At(v.SupportDistanceMm * u.X, v.SupportDistanceMm * u.Y);
        double x = frame.At(right * 0.97, 0).X;
        Dimension.Upright(drawing, x, top.Y, foot.Y, top.X, foot.X, dial, 5.2, 0, width);
        Point2 label = frame.At(0.1 * right, -6);
        drawing.Text(label.X, label.Y, "α " + f.Degrees(v.AngleDeg, 2), 3.6, TextAnchor.Middle, TextFace.Bold);
        return drawing;
    }
}
