using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>How a wrong distance or a wrong zero bends an angle.</summary>
public static class DistanceSensitivity
{
    /// <summary>
    /// dθ = ¼·sin 4θ · dL/L, radians per unit of relative distance: largest at 22.5°, none at 0° and 45°. From θ = ½·atan(x/L).
    /// For a sheet square to the beam. Derived in docs/conventions.md.
    /// </summary>
    /// <remarks>Signed for a mark left where it is while L is taken larger: the angle then reads less by this much.</remarks>
    public static double RadiansPerRelativeDistance(Angle bevel) => 0.25 * Math.Sin(4 * bevel.Radians);

    /// <summary>
    /// dθ/dx = ½·cos² 2θ / L, radians per millimetre along the target. For a sheet square to the beam. Derived in docs/conventions.md.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Distance not above zero.</exception>
    public static double RadiansPerMillimetre(Angle bevel, Length distance)
    {
        double cosine = Math.Cos(2 * bevel.Radians);
        return 0.5 * cosine * cosine / Require.Positive(distance.Millimetres, nameof(distance));
    }
}
