using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Fonts;
using Whetwright.Paper.Sheets;

namespace Whetwright.Paper.Pictures;

/// <summary>The rig from the side, to scale, with the dimension to dial.</summary>
public static class RigPicture
{
    /// <summary>Draws whichever rig the view holds, with the dimension to dial.</summary>
    /// <param name="view">The rig with one setting.</param>
    /// <param name="style">Units and hand: a left-handed sheet shows it mirrored.</param>
    /// <param name="widthMm">Width of the drawing, mm.</param>
    /// <param name="heightMm">Height, mm.</param>
    public static Drawing Draw(RigView view, SheetStyle style, double widthMm = 92, double heightMm = 76) => Draw(view, new Figures(style), widthMm, heightMm, null);

    /// <summary>The same with every dimension to measure named by a letter; the letters' names and values stand under the drawing, the one to dial first.</summary>
    public static Drawing Named(RigView view, SheetStyle style, double widthMm = 92, double heightMm = 76)
    {
        var figures = new Figures(style);
        List<NamedDimension> named = [];
        Drawing picture = Draw(view, figures, widthMm, heightMm, named);
        foreach (NamedDimension dimension in named)
            dimension.Draw(picture);
        const double row = 4.6;
        var whole = new Drawing(widthMm, heightMm + 2 + ((named.Count + 1) * row), picture.Title, picture.Description);
        whole.Place(picture, 0, 0);
        for (int i = 0; i < named.Count; i++)
            named[i].Key(whole, heightMm + 4 + (i * row), figures);
        NamedDimension.Key(whole, heightMm + 4 + (named.Count * row), "α", "angle ground, from the blade's middle", figures.Degrees(view.AngleDeg, 2), dial: false);
        return whole;
    }

    private static Drawing Draw(RigView view, Figures figures, double widthMm, double heightMm, List<NamedDimension>? named) => view switch
    {
        WheelAndBarView wheel => Wheel(wheel, figures, widthMm, heightMm, named),
        GuidedRodView rod => Rod(rod, figures, widthMm, heightMm, named),
        BenchStoneView stone => Stone(stone, figures, widthMm, heightMm, named),
        _ => throw new ArgumentOutOfRangeException(nameof(view), view, "Not one of the rigs we draw."),
    };

    // The wheel's axis is the origin, the bar straight above it; docs/conventions.md, "Wheel and bar".
    private static Drawing Wheel(WheelAndBarView v, Figures f, double width, double height, List<NamedDimension>? named)
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
        if (named is null)
            drawing.Text(angleX, beside.Y, angle, 3.8, mirrored ? TextAnchor.Start : TextAnchor.End, TextFace.Bold);
        else
            drawing.Text(t.X + (mirrored ? -2.5 : 2.5), t.Y + 1, "α", 3.8, TextAnchor.Middle, TextFace.Bold);

        double side = mirrored ? -1 : 1;
        double x = axis.X + (side * Math.Min(r * frame.Scale * 0.62, (width / 2) - 6));
        if (named is null)
        {
            Dimension.Upright(drawing, x, frame.At(0, d + (v.BarDiameterMm / 2)).Y, frame.At(0, r).Y, bar.X, axis.X, dial, 5.2 * Math.Clamp(width / 76, 0.75, 1.2), 0, width);
            return drawing;
        }

        Point2 Blade(double along, double off) => frame.At(edge.X + (u.X * along) + (n.X * off), edge.Y + (u.Y * along) + (n.Y * off));
        double farSide = frame.At(0, d + (v.BarDiameterMm / 2)).Y;
        named.Add(new("A", "far side of the bar to the wheel", v.BarFarSideToWheelMm, new(x, farSide), new(x, frame.At(0, r).Y), new(bar.X, farSide), new(axis.X, frame.At(0, r).Y), Dial: true));
        named.Add(new("B", "diameter of the wheel", v.WheelDiameterMm, frame.At(-r, -0.06 * r), frame.At(r, -0.06 * r)));
        double away = holder + (5 / frame.Scale);
        double jaw = v.ProtrusionMm is { } out1 && out1 < v.SupportDistanceMm ? out1 : 0;
        if (jaw > 0)
            named.Add(new("C", "edge out of the jaw", jaw, Blade(0, away), Blade(jaw, away), Blade(0, 0), Blade(jaw, 0)));
        named.Add(new(jaw > 0 ? "D" : "C", jaw > 0 ? "jaw's front to the pivot" : "edge to the pivot", v.SupportDistanceMm - jaw, Blade(jaw, away), Blade(v.SupportDistanceMm, away), Blade(jaw, 0), Blade(v.SupportDistanceMm, 0)));
        named.Add(new("E", "diameter of the bar", v.BarDiameterMm, new(bar.X, bar.Y - (v.BarDiameterMm / 2 * frame.Scale)), new(bar.X, bar.Y + (v.BarDiameterMm / 2 * frame.Scale)), Outside: true));
        if (Math.Abs(v.OffsetMm) > 0.005)
        {
            double past = v.SupportDistanceMm + 11;
            named.Add(new("F", "bar's centre off the blade's middle", Math.Abs(v.OffsetMm), Blade(past, 0), Blade(past, v.OffsetMm), Blade(v.SupportDistanceMm, 0), bar, Outside: true));
        }

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
    private static Drawing Rod(GuidedRodView v, Figures f, double width, double height, List<NamedDimension>? named)
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
        if (named is null)
        {
            Dimension.Upright(drawing, x, pivot.Y, foot.Y, pivot.X, foot.X, dial, 5.2, 0, width);
        }
        else
        {
            named.Add(new("A", "pivot's height over the blade's middle", v.PivotHeightMm, new(x, pivot.Y), new(x, foot.Y), pivot, foot, Dial: true));
            named.Add(new("B", "edge to under the pivot", v.SupportDistanceMm, frame.At(0, -13), frame.At(v.SupportDistanceMm, -13), frame.At(0, 0), foot));
            if (v.ProtrusionMm is { } jaw && jaw < v.SupportDistanceMm)
                named.Add(new("C", "edge out of the jaw", jaw, frame.At(0, -8.5), frame.At(jaw, -8.5), frame.At(0, 0), frame.At(jaw, 0)));
            if (Math.Abs(v.FaceOffsetMm) > 0.005)
                named.Add(new("D", "stone's face below the rod's line", Math.Abs(v.FaceOffsetMm), Local(-half - 6, 0), Local(-half - 6, v.FaceOffsetMm), Local(-half, 0), Local(-half, v.FaceOffsetMm), Outside: true));
        }

        Point2 label = named is null ? frame.At(0.3 * v.SupportDistanceMm, 0) : frame.At(0.6 * v.SupportDistanceMm, 0.3 * v.SupportDistanceMm * Math.Tan(a));
        drawing.Text(label.X, label.Y + (named is null ? 6 : 1), named is null ? "α " + f.Degrees(v.AngleDeg, 2) : "α", 3.6, TextAnchor.Middle, TextFace.Bold);
        return drawing;
    }

    // The stone's face level; the edge at the origin, the mid-plane rising at α.
    private static Drawing Stone(BenchStoneView v, Figures f, double width, double height, List<NamedDimension>? named)
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
        double corner = v.SpineCorner ? v.SpineMm / 2 : 0;
        Point2 top = frame.At((v.SupportDistanceMm * u.X) - (corner * n.X), (v.SupportDistanceMm * u.Y) - (corner * n.Y));
        double x = frame.At(right * 0.97, 0).X;
        if (named is null)
        {
            Dimension.Upright(drawing, x, top.Y, foot.Y, top.X, foot.X, dial, 5.2, 0, width);
        }
        else
        {
            Point2 Blade(double along, double off) => frame.At((u.X * along) + (n.X * off), (u.Y * along) + (n.Y * off));
            double away = 6 / frame.Scale;
            named.Add(new("A", v.SpineCorner ? "stack under the spine's lower corner" : "lift of the blade's middle", v.LiftMm, new(x, top.Y), new(x, foot.Y), top, foot, Dial: true));
            named.Add(new("B", v.SpineCorner ? "edge to spine" : "edge to where it is lifted", v.SupportDistanceMm, Blade(0, away), Blade(v.SupportDistanceMm, away), Blade(0, 0), Blade(v.SupportDistanceMm, 0)));
            if (v.SpineCorner)
                named.Add(new("C", "thickness of the spine", v.SpineMm, Blade(v.BladeHeightMm + 4, -v.SpineMm / 2), Blade(v.BladeHeightMm + 4, v.SpineMm / 2), Blade(v.BladeHeightMm, -v.SpineMm / 2), Blade(v.BladeHeightMm, v.SpineMm / 2), Outside: true));
        }

        Point2 label = frame.At(0.1 * right, -6);
        drawing.Text(label.X, label.Y, named is null ? "α " + f.Degrees(v.AngleDeg, 2) : "α", 3.6, TextAnchor.Middle, TextFace.Bold);
        return drawing;
    }
}
