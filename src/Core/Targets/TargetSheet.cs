using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>
/// The sheet that the light falls on, as <c>target.json</c> says it: enough to find it in a photograph and to read marks on it, whoever
/// designed it. Sheet frame: origin at the sheet's top left, x right, y down, mm as meant to be printed.
/// </summary>
public sealed record TargetSheet
{
    /// <summary>Name of the paper.</summary>
    public required string Paper { get; init; }

    /// <summary>Width and height of the sheet, mm.</summary>
    public required Vector2 SizeMm { get; init; }

    /// <summary>Where the bare beam shall fall, mm.</summary>
    public required Point2 ZeroMm { get; init; }

    /// <summary>The plain field where light falls.</summary>
    public required SheetRectangle SpotFieldMm { get; init; }

    /// <summary>Meant distance from the edge to the sheet, mm.</summary>
    public required double DistanceMm { get; init; }

    /// <summary>Dictionary of the fiducials.</summary>
    public string FiducialDictionary { get; init; } = KnownFiducials.Dictionary;

    /// <summary>The fiducials.</summary>
    public required IReadOnlyList<SheetFiducial> Fiducials { get; init; }

    /// <summary>What the printer made of it; null where nobody measured the check lines.</summary>
    public PrintScale? PrintScale { get; init; }
}
