using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>The form of a facet between shoulder and apex.</summary>
public enum FacetForm
{
    /// <summary>Flat: one angle.</summary>
    Flat = 0,

    /// <summary>Convex: steeper toward the apex.</summary>
    Convex = 1,

    /// <summary>Hollow: flattest at the apex.</summary>
    Hollow = 2,
}

/// <summary>Which end of a smeared mark is which.</summary>
public static class FacetCurvature
{
    /// <summary>
    /// A convex bevel smears from the shoulder, nearest zero, to the apex; a hollow one the other way round, since its angle is smallest at the
    /// apex (common practice, no source; follows from the curvature).
    /// </summary>
    /// <param name="nearZero">Bevel at the end of the smear nearest zero.</param>
    /// <param name="farFromZero">Bevel at the far end.</param>
    /// <param name="form">The facet's form; for a flat one a smear is roughness and both ends get its middle.</param>
    /// <exception cref="ArgumentException">The far end is nearer zero than the near end.</exception>
    public static FacetRange EndsOfSmear(Angle nearZero, Angle farFromZero, FacetForm form)
    {
        if (farFromZero < nearZero)
            throw new ArgumentException($"The far end, {farFromZero}, must not lie nearer zero than the near end, {nearZero}.", nameof(farFromZero));
        Angle middle = (nearZero + farFromZero) / 2;
        return form switch
        {
            FacetForm.Convex => new(nearZero, farFromZero),
            FacetForm.Hollow => new(farFromZero, nearZero),
            _ => new(middle, middle),
        };
    }
}
