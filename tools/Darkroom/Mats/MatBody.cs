using Whetwright.Core.Quantities;

namespace Whetwright.Darkroom.Mats;

/// <summary>Blade and handle as solids over the mat: what is inside at a height, and where rays meet them. Heights above the mat, mm.</summary>
internal sealed class MatBody
{
    /// <summary>Distances between cells may be told a few hundredths too large: a ray goes no further than this share of them, or it would jump over a tip. Chosen.</summary>
    public const double NotBeyond = 0.94;

    private readonly LyingBlade _blade;
    private readonly Handle? _handle;
    private readonly DistanceGrid _outline;
    private readonly DistanceGrid _edge;
    private readonly double _lengthMm;
    private readonly double _heightMm;
    private readonly double _bevelMm;
    private readonly double _handleY;
    private readonly double _neckTo;

    public MatBody(MatScene scene)
    {
        _blade = scene.Blade;
        _handle = scene.Handle;
        Frame = new(scene.Blade);
        BladeShape shape = scene.Shape;
        IReadOnlyList<Point2> outline = shape.Outline;
        (double x0, double y0) = (outline.Min(p => p.X) - 4, outline.Min(p => p.Y) - 4);
        (double x1, double y1) = (outline.Max(p => p.X) + 4, outline.Max(p => p.Y) + 4);
        _outline = new(outline, true, x0, y0, x1, y1);
        _edge = new(shape.NominalEdge, false, x0, y0, x1, y1, sided: true);
        _lengthMm = shape.NominalEdge[^1].X;
        _heightMm = shape.HeightMm;
        _bevelMm = _blade.BehindEdgeMm / (2 * Math.Tan(double.DegreesToRadians(_blade.BevelDeg)));
        double topOfBack = outline.Max(p => p.Y);
        _neckTo = Math.Max(2, shape.Back[^1].X + 3);
        _handleY = _handle is null ? 0 : topOfBack - (_handle.WidthMm / 2) - 0.5;
        TallestMm = Math.Max(Math.Max(_blade.LiftAtHeelMm, _blade.LiftAtTipMm) + (_blade.SpineMm / 2), _handle is null ? 0 : MidAt(-_handle.StartMm - _handle.LengthMm) + _handle.HalfThickMm) + 0.2;
    }

    public MatFrame Frame { get; }

    public double TallestMm { get; }

    /// <summary>Outline of the handle with its neck, blade's plane; empty without one.</summary>
    public IReadOnlyList<Point2> HandleOutline()
    {
        if (_handle is null)
            return [];
        double start = -_handle.StartMm;
        double end = start - _handle.LengthMm;
        double low = _handleY - (_handle.WidthMm / 2);
        double high = _handleY + (_handle.WidthMm / 2);
        return [new(start, low), new(end, low), new(end, high), new(start, high)];
    }

    /// <summary>Height of the blade's middle plane over the mat.</summary>
    public double MidAt(double x) => _blade.LiftAtHeelMm + ((_blade.LiftAtTipMm - _blade.LiftAtHeelMm) * x / _lengthMm);

    /// <summary>The edge's height over the mat.</summary>
    public double EdgeHeightAt(Point2 blade) => MidAt(blade.X);

    /// <summary>Distance inside the outlines of blade and handle; negative outside.</summary>
    public double Depth(Point2 b) => Math.Max(_outline.At(b.X, b.Y), HandleDepth(b));

    /// <summary>Lower and upper surface at a place inside; whether it is the handle.</summary>
    public (double Low, double High, bool IsHandle) Span(Point2 b)
    {
        double mid = MidAt(b.X);
        double handle = HandleDepth(b);
        if (handle > 0 && _handle is not null)
        {
            double round = Math.Min(7, _handle.WidthMm / 2);
            double t = Math.Min(handle, round) / round;
            double half = _handle.HalfThickMm * Math.Sqrt(Math.Max(0.04, 1 - ((1 - t) * (1 - t))));
            return (Math.Max(0, mid - half), mid + half, true);
        }

        double thick = ThickAt(b);
        return (Math.Max(0, mid - (thick / 2)), mid + (thick / 2), false);
    }

    /// <summary>Distance to the edge as ground, before it was chipped.</summary>
    public double FromEdge(Point2 b) => Math.Max(0, _edge.At(b.X, b.Y));

    public double BevelWidthMm => _bevelMm;

    /// <summary>Whether a place at a height is steel, or handle.</summary>
    public bool Holds(Point2 b, double height)
    {
        if (Depth(b) <= 0)
            return false;
        (double low, double high, _) = Span(b);
        return height >= low && height <= high;
    }

    /// <summary>
    /// Follows a ray down: from the mat's place under it, moved by <paramref name="lean"/> mm per mm of height. Height of the first hit; null where the mat is seen.
    /// </summary>
    public double? Hit(Point2 mat, Vector2 lean)
    {
        Point2 At(double h) => Frame.ToBlade(new(mat.X + (lean.X * h), mat.Y + (lean.Y * h)));
        double slope = lean.Norm;
        if (-Depth(At(0)) * NotBeyond > slope * TallestMm)
            return null;
        double height = TallestMm;
        double above = height;
        for (int i = 0; i < 200 && height > 0; i++)
        {
            Point2 b = At(height);
            double depth = Depth(b);
            if (depth > 0)
            {
                (double low, double high, _) = Span(b);
                if (height >= low && height <= high)
                    return Refine(At, height, above);
                above = height;
                height -= height > high ? Down(height - high, high - low) : 0.05;
                continue;
            }

            above = height;
            height -= Math.Max(0.015, -depth / Math.Max(0.02, slope) * NotBeyond);
        }

        return null;
    }

    // Toward the upper surface, but never through steel as thin as an edge's: no further than to its middle.
    private static double Down(double above, double thick) => Math.Min(Math.Max(0.015, 0.6 * above), above + (thick / 2));

    private double Refine(Func<double, Point2> at, double inside, double outside)
    {
        for (int i = 0; i < 6; i++)
        {
            double middle = (inside + outside) / 2;
            if (Holds(at(middle), middle))
                inside = middle;
            else
                outside = middle;
        }

        return inside;
    }

    private double ThickAt(Point2 b)
    {
        double along = Math.Clamp(b.X / _lengthMm, 0, 1);
        double spine = _blade.SpineMm * (1 - (along * 0.5));
        double d = FromEdge(b);
        double behind = Math.Min(_blade.BehindEdgeMm, spine);
        if (d < _bevelMm)
            return behind * d / _bevelMm;
        return Math.Min(spine, behind + ((spine - behind) * (d - _bevelMm) / Math.Max(5, (0.8 * _heightMm) - _bevelMm)));
    }

    private double HandleDepth(Point2 b)
    {
        if (_handle is null)
            return -1e3;
        double cx = -_handle.StartMm - (_handle.LengthMm / 2);
        const double corner = 3;
        double neck = Math.Min(Math.Min(b.X + _handle.StartMm + 1, _neckTo - b.X), Math.Min(b.Y - (_handleY - (_handle.WidthMm / 3)), _handleY + (_handle.WidthMm / 3) - b.Y));
        double dx = Math.Abs(b.X - cx) - (_handle.LengthMm / 2) + corner;
        double dy = Math.Abs(b.Y - _handleY) - (_handle.WidthMm / 2) + corner;
        double outside = Math.Sqrt((Math.Max(dx, 0) * Math.Max(dx, 0)) + (Math.Max(dy, 0) * Math.Max(dy, 0)));
        return Math.Max(neck, corner - outside - Math.Min(Math.Max(dx, dy), 0));
    }
}
