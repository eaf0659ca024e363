using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Fiducials;

/// <summary>A sheet found in a photo.</summary>
/// <param name="Map">Sheet millimetres ↔ photo pixels.</param>
/// <param name="Fiducials">Those the map rests on.</param>
/// <param name="Dropped">Ids seen but left out because they disagree with the rest.</param>
/// <param name="ReprojectionPx">Root mean square of the corners' misfit, px.</param>
/// <param name="PixelsPerMm">Scale at the target's zero.</param>
public sealed record FoundSheet(
    LensMap Map,
    IReadOnlyList<SeenFiducial> Fiducials,
    IReadOnlyList<int> Dropped,
    double ReprojectionPx,
    double PixelsPerMm)
{
    /// <summary>Standard uncertainty of a place on the sheet from the map alone, mm.</summary>
    /// <remarks>Corner noise averages over the fiducials; half of the misfit is taken as common (chosen, not derived).</remarks>
    public double MapUMm => ReprojectionPx / PixelsPerMm * Math.Sqrt((10.0 / (8.0 * Fiducials.Count)) + 0.25);
}

/// <summary>A fiducial seen in a photo, corners refined at full size.</summary>
public sealed record SeenFiducial(int Id, IReadOnlyList<Point2> CornersMm, IReadOnlyList<Point2> CornersPx);

/// <summary>Either a sheet or the reason why there is none.</summary>
/// <param name="Sheet">The sheet, or null.</param>
/// <param name="Reason">The reason, or null.</param>
public sealed record SheetSearch(FoundSheet? Sheet, Reason? Reason);
