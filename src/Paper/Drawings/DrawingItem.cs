using Whetwright.Core.Quantities;

namespace Whetwright.Paper.Drawings;

/// <summary>One thing on a drawing; a closed set. Millimetres, x right, y down.</summary>
public abstract record DrawingItem
{
    private protected DrawingItem()
    {
    }

    internal abstract DrawingItem Moved(double xMm, double yMm, double scale);

    /// <summary>A line through points, open or closed.</summary>
    public sealed record Path(IReadOnlyList<Point2> PointsMm, bool Closed, Stroke? Stroke, Ink? Fill) : DrawingItem
    {
        internal override DrawingItem Moved(double xMm, double yMm, double scale) =>
            this with
            {
                PointsMm = [.. PointsMm.Select(p => new Point2(xMm + (p.X * scale), yMm + (p.Y * scale)))],
                Stroke = Scaled(Stroke, scale),
            };
    }

    /// <summary>One area of several closed contours, filled as one (even-odd rule): no seam where they touch.</summary>
    public sealed record Area(IReadOnlyList<IReadOnlyList<Point2>> ContoursMm, Ink Fill) : DrawingItem
    {
        internal override DrawingItem Moved(double xMm, double yMm, double scale) =>
            this with { ContoursMm = [.. ContoursMm.Select(c => (IReadOnlyList<Point2>)[.. c.Select(p => new Point2(xMm + (p.X * scale), yMm + (p.Y * scale)))])] };
    }

    /// <summary>A full circle.</summary>
    public sealed record Circle(Point2 CentreMm, double RadiusMm, Stroke? Stroke, Ink? Fill) : DrawingItem
    {
        internal override DrawingItem Moved(double xMm, double yMm, double scale) =>
            this with
            {
                CentreMm = new(xMm + (CentreMm.X * scale), yMm + (CentreMm.Y * scale)),
                RadiusMm = RadiusMm * scale,
                Stroke = Scaled(Stroke, scale),
            };
    }

    /// <summary>An arc; angles clockwise from +x as one sees it (y points down).</summary>
    public sealed record Arc(Point2 CentreMm, double RadiusMm, double StartDeg, double SweepDeg, Stroke Stroke) : DrawingItem
    {
        internal override DrawingItem Moved(double xMm, double yMm, double scale) =>
            this with
            {
                CentreMm = new(xMm + (CentreMm.X * scale), yMm + (CentreMm.Y * scale)),
                RadiusMm = RadiusMm * scale,
                Stroke = Stroke with { WidthMm = Stroke.WidthMm * scale },
            };
    }

    /// <summary>A line of text; the point lies on the base line. Turned clockwise about it.</summary>
    public sealed record Text(Point2 AtMm, string Words, double SizeMm, TextAnchor Anchor, TextFace Face, Ink Ink, double TurnDeg, bool Backed)
        : DrawingItem
    {
        internal override DrawingItem Moved(double xMm, double yMm, double scale) =>
            this with { AtMm = new(xMm + (AtMm.X * scale), yMm + (AtMm.Y * scale)), SizeMm = SizeMm * scale };
    }

    private static Stroke? Scaled(Stroke? stroke, double scale) =>
        stroke is { } s ? s with { WidthMm = s.WidthMm * scale, DashMm = s.DashMm * scale } : null;
}
