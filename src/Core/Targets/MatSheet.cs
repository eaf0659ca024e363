using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>
/// The sheet, or the joined sheets, on which a blade lies to have its outline taken, as <c>mat.json</c> says it. Frame as for the target; joined
/// sheets share one frame whose origin is the top left of the leftmost.
/// </summary>
public sealed record MatSheet
{
    /// <summary>Name of the paper.</summary>
    public required string Paper { get; init; }

    /// <summary>Width and height of the whole, mm.</summary>
    public required Vector2 SizeMm { get; init; }

    /// <summary>Dictionary of the fiducials.</summary>
    public string FiducialDictionary { get; init; } = KnownFiducials.Dictionary;

    /// <summary>The fiducials of all sheets.</summary>
    public required IReadOnlyList<SheetFiducial> Fiducials { get; init; }

    /// <summary>What the printer made of it; null where nobody measured the check lines.</summary>
    public PrintScale? PrintScale { get; init; }
}
