using System.Globalization;

using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>A row of scallops.</summary>
/// <param name="Pitch">From one point to the next.</param>
/// <param name="Depth">From the points to the bottom of a scallop.</param>
public sealed record Serration(Length Pitch, Length Depth)
{
    /// <summary>
    /// Radius of a scallop taken as a circular arc over the whole pitch, r = d/2 + p²/(8d). A pointed or flat-bottomed scallop has another:
    /// measure it and use <see cref="RodFits"/> with that. Source: [sagitta], turned round.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Pitch or depth is not above zero, or the depth is over half the pitch.</exception>
    public Length ScallopRadius
    {
        get
        {
            double pitch = Require.Positive(Pitch.Millimetres, nameof(Pitch));
            double depth = Require.Within(Require.Positive(Depth.Millimetres, nameof(Depth)), 0, pitch / 2, nameof(Depth));
            return Length.FromMillimetres((depth / 2) + (pitch * pitch / (8 * depth)));
        }
    }

    /// <summary>
    /// Whether a rod fits a scallop of radius r. A rod of more than 2r rides on the points and leaves the bottom dull; one much thinner than 2r
    /// grooves it. Fits from <see cref="ThinnestShare"/> of 2r to 2r.
    /// </summary>
    public static RodFit RodFits(Length rodDiameter, Length scallopRadius)
    {
        double rod = Require.Positive(rodDiameter.Millimetres, nameof(rodDiameter));
        double hole = 2 * Require.Positive(scallopRadius.Millimetres, nameof(scallopRadius));
        return rod > hole ? RodFit.TooThick : rod < ThinnestShare * hole ? RodFit.TooThin : RodFit.Fits;
    }

    /// <summary>Thinnest rod that still shapes rather than grooves, as a share of the scallop's diameter (chosen, not derived).</summary>
    public const double ThinnestShare = 0.6;

    /// <summary>The thickest of the rods at hand that fits; null where none does, with the reason.</summary>
    public static Length? BestRod(IEnumerable<Length> rods, Length scallopRadius, out Reason? reason)
    {
        Length? best = null;
        foreach (Length rod in rods)
        {
            if (RodFits(rod, scallopRadius) == RodFit.Fits && (best is null || rod > best))
                best = rod;
        }

        reason = best is not null ? null : new("no-rod-fits", string.Create(
            CultureInfo.InvariantCulture,
            $"No rod at hand is between {ThinnestShare * 2 * scallopRadius.Millimetres:0.0} and {2 * scallopRadius.Millimetres:0.0} mm, as scallops of radius {scallopRadius.Millimetres:0.0} mm ask; use a tapered rod, or abrasive round a dowel of that size."));
        return best;
    }
}

/// <summary>How a rod sits in a scallop.</summary>
public enum RodFit
{
    /// <summary>Touches the bottom and follows the sides.</summary>
    Fits = 0,

    /// <summary>Rides on the points.</summary>
    TooThick = 1,

    /// <summary>Grooves the bottom.</summary>
    TooThin = 2,
}
