using Whetwright.Core.Quantities;

namespace Whetwright.Core.Targets;

/// <summary>Where a bevel's mark falls on a flat target square to the beam.</summary>
public static class BevelScale
{
    /// <summary>
    /// Distance of the mark from zero: x = L tan 2θ; L from the edge to the target, θ the bevel's angle to the mid-plane. Holds for 0 ≤ θ &lt; 45°, no
    /// roll, no pitch, target square to the beam; the edge's own thickness is left out. Source: optical lever, [hecht] ch. 4.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Distance not above zero, or angle outside [0°, 45°).</exception>
    public static Length Offset(Length distance, Angle bevel)
    {
        Require.Positive(distance.Millimetres, nameof(distance));
        if (!(bevel.Degrees >= 0 && bevel.Degrees < 45))
            throw new ArgumentOutOfRangeException(nameof(bevel), bevel.Degrees, "Must be at least 0° and under 45°: steeper bevels throw the light sideways or back.");
        return distance * Math.Tan(2 * bevel.Radians);
    }

    /// <summary>The other way round: θ = ½ atan(x/L).</summary>
    /// <exception cref="ArgumentOutOfRangeException">Distance not above zero, or offset below zero.</exception>
    public static Angle Bevel(Length distance, Length offset) => Angle.FromRadians(
        Math.Atan2(Require.NotNegative(offset.Millimetres, nameof(offset)), Require.Positive(distance.Millimetres, nameof(distance))) / 2);
}
