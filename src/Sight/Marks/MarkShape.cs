using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Marks;

/// <summary>What one heap of light looks like, before anyone says what it comes from.</summary>
internal sealed record MarkShape
{
    /// <summary>The heap.</summary>
    public required MarkBlob Blob { get; init; }

    /// <summary>Ridge: the middle of the light across, row by row, sheet mm; only rows that carry their share.</summary>
    public required IReadOnlyList<RidgePoint> Ridge { get; init; }

    /// <summary>Middle of the light along the edge, sheet mm.</summary>
    public required double CentreYMm { get; init; }

    /// <summary>Where the ridge is at that height, sheet mm.</summary>
    public required double CentreXMm { get; init; }

    /// <summary>Standard deviation along the edge that the height at half level stands for, mm.</summary>
    public required double AlongSdMm { get; init; }

    /// <summary>The same across.</summary>
    public required double AcrossSdMm { get; init; }

    /// <summary>The spread across in degrees of bevel.</summary>
    public double AcrossDeg(double distanceMm) =>
        AcrossSdMm * double.RadiansToDegrees(Math.Pow(Math.Cos(double.DegreesToRadians(2 * RoughDeg)), 2) / (2 * distanceMm));

    /// <summary>Light in all, full scale × mm².</summary>
    public required double Flux { get; init; }

    /// <summary>Part of the brighter half that is clipped.</summary>
    public required double Clipped { get; init; }

    /// <summary>True where it touches the end of what the photo shows of the sheet, or a fiducial.</summary>
    public required bool AtRim { get; init; }

    /// <summary>Peak in units of the noise there.</summary>
    public required double SignalToNoise { get; init; }

    /// <summary>True for ink in the laser's colour: no brighter than bare paper beside it.</summary>
    public required bool IsInk { get; init; }

    /// <summary>Bevel that a mark here would mean with a level edge, degrees, for sorting; below zero never.</summary>
    public double RoughDeg { get; init; }

    /// <summary>Tilt that a mark of unskewed scratches here has as a facet, radians: alike along the whole of one arc.</summary>
    public double FacetRad { get; init; }

    /// <summary>Side of the target.</summary>
    public Side Side { get; init; }

    /// <summary>Outward from zero, mm.</summary>
    public double OutMm { get; init; }
}

/// <summary>One row of a ridge.</summary>
/// <param name="XMm">Middle of the light, sheet mm.</param>
/// <param name="YMm">Row, sheet mm.</param>
/// <param name="WidthMm">Width at the level used.</param>
/// <param name="Light">Light of the row as a part of the fullest row's.</param>
internal readonly record struct RidgePoint(double XMm, double YMm, double WidthMm, double Light)
{
    /// <summary>What of the row the blade, a fiducial or the rim takes away.</summary>
    public RidgeCut Cut { get; init; }
}

/// <summary>How much of a row of a ridge can be seen.</summary>
internal enum RidgeCut
{
    /// <summary>Both flanks.</summary>
    None = 0,

    /// <summary>The top and one flank.</summary>
    Flank = 1,

    /// <summary>Not even the top.</summary>
    Top = 2,
}
