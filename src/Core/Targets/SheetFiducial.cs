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

/// <summary>What a printer made of 100 mm: the factor by which printed lengths are longer than meant, across and down.</summary>
/// <param name="Across">Measured over meant, along x.</param>
/// <param name="Down">Measured over meant, along y.</param>
public readonly record struct PrintScale(double Across, double Down)
{
    /// <summary>A printer without error.</summary>
    public static PrintScale Exact { get; } = new(1, 1);

    /// <summary>From the two check lines as measured with a rule or calliper.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not within 90 to 110 mm: that is another print setting ("fit to page"), not a printer's error.</exception>
    public static PrintScale FromCheckLines(Length across, Length down) => new(
        Require.Within(across.Millimetres, 90, 110, nameof(across)) / SheetAids.CheckLineMm,
        Require.Within(down.Millimetres, 90, 110, nameof(down)) / SheetAids.CheckLineMm);
}

/// <summary>Lengths of our own choosing that all sheets share.</summary>
public static class SheetAids
{
    /// <summary>Meant length of the check lines, mm.</summary>
    public const double CheckLineMm = 100;
}
