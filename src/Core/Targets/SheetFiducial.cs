using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>One fiducial on a sheet: where its four outer corners were printed.</summary>
/// <param name="Id">Id in the dictionary.</param>
/// <param name="CornersMm">Four corners, clockwise from its own top left, sheet frame (origin top left, x right, y down), mm.</param>
public sealed record SheetFiducial(int Id, IReadOnlyList<Point2> CornersMm)
{
    /// <summary>An upright fiducial.</summary>
    public static SheetFiducial Upright(int id, double leftMm, double topMm, double sideMm) =>
        new(id, [new(leftMm, topMm), new(leftMm + sideMm, topMm), new(leftMm + sideMm, topMm + sideMm), new(leftMm, topMm + sideMm)]);

    /// <summary>Leftmost place, mm.</summary>
    public double LeftMm => CornersMm.Min(p => p.X);

    /// <summary>Rightmost place, mm.</summary>
    public double RightMm => CornersMm.Max(p => p.X);

    /// <summary>Topmost place, mm.</summary>
    public double TopMm => CornersMm.Min(p => p.Y);

    /// <summary>Lowest place, mm.</summary>
    public double BottomMm => CornersMm.Max(p => p.Y);

    /// <summary>The same moved along the sheet.</summary>
    public SheetFiducial Moved(double byXMm) => this with { CornersMm = [.. CornersMm.Select(p => new Point2(p.X + byXMm, p.Y))] };

    /// <summary>The width of one module, mm: the side over six.</summary>
    public double ModuleMm => CornersMm[0].DistanceTo(CornersMm[1]) / KnownFiducials.ModulesAcross;
}

/// <summary>An upright rectangle on a sheet, mm.</summary>
/// <param name="LeftMm">Left.</param>
/// <param name="TopMm">Top.</param>
/// <param name="RightMm">Right.</param>
/// <param name="BottomMm">Bottom.</param>
public readonly record struct SheetRectangle(double LeftMm, double TopMm, double RightMm, double BottomMm)
{
    /// <summary>Width, mm.</summary>
    public double WidthMm => RightMm - LeftMm;

    /// <summary>Height, mm.</summary>
    public double HeightMm => BottomMm - TopMm;

    /// <summary>Whether two rectangles share more than an edge.</summary>
    public bool Overlaps(SheetRectangle other) =>
        LeftMm < other.RightMm && other.LeftMm < RightMm && TopMm < other.BottomMm && other.TopMm < BottomMm;
}

/// <summary>Lengths of our own choosing that all sheets share.</summary>
public static class SheetAids
{
    /// <summary>Meant length of the check lines, mm.</summary>
    public const double CheckLineMm = PrintScale.CheckLineMm;
}
