using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Fiducials;

/// <summary>
/// A printed target as the reader needs it (the contract's target.json). Origin the sheet's top left, x right, y down, millimetres
/// as drawn; <see cref="PrintScaleX"/> and <see cref="PrintScaleY"/> turn them into millimetres as printed.
/// </summary>
public sealed record TargetDescription
{
    /// <summary>Paper's name, such as <c>a4</c>.</summary>
    public required string Paper { get; init; }

    /// <summary>Width and height of the sheet.</summary>
    public required Point2 SizeMm { get; init; }

    /// <summary>Where the bare beam should fall.</summary>
    public required Point2 ZeroMm { get; init; }

    /// <summary>Top left of the plain field in which light may fall.</summary>
    public required Point2 FieldFromMm { get; init; }

    /// <summary>Bottom right of the plain field.</summary>
    public required Point2 FieldToMm { get; init; }

    /// <summary>The distance the degree ticks were drawn for.</summary>
    public required double DistanceMm { get; init; }

    /// <summary>The fiducials, ids unique.</summary>
    public required IReadOnlyList<FiducialSquare> Fiducials { get; init; }

    /// <summary>True millimetres per drawn millimetre across, from the check line.</summary>
    public double PrintScaleX { get; init; } = 1;

    /// <summary>True millimetres per drawn millimetre down, from the check line.</summary>
    public double PrintScaleY { get; init; } = 1;

    /// <summary>True where the check lines were measured.</summary>
    public bool PrintScaleMeasured { get; init; }
}

/// <summary>One printed fiducial of the 4x4_50 family.</summary>
/// <param name="Id">0 to 49.</param>
/// <param name="CornersMm">Four corners, clockwise from its own top left.</param>
public sealed record FiducialSquare(int Id, IReadOnlyList<Point2> CornersMm);
