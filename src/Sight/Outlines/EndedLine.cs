using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>An edge's line begun at the heel and ended at the tip.</summary>
/// <param name="Line">Its stations, heel to tip.</param>
/// <param name="TipUMm">Standard uncertainty of the tip's place along the edge.</param>
internal sealed record EndedLine(Point2[] Line, double TipUMm)
{
    /// <summary>Standard uncertainty of the heel's place along the edge.</summary>
    public double HeelUMm { get; init; }

    /// <summary>Where steel seems to end further in than the heel was found, the photo around not bearing it out; null where it ends at the heel.</summary>
    public Point2? SteelsEnd { get; init; }
}
