namespace Whetwright.Core.Sections;

/// <summary>
/// Closed forms for flat facets on a wedge. Angles in radians from the mid-plane, lengths in millimetres from the virtual apex of
/// the old facets. All derived in docs/sources.md [section] from plane trigonometry; they agree with the polygons of <see cref="SectionChange"/>.
/// </summary>
public static class SectionFormulas
{
    /// <summary>Height of the shoulder over the virtual apex: b₀ = t_e / (tan θ0L + tan θ0R).</summary>
    public static double ShoulderHeightMm(double behindEdgeMm, double oldLeftRad, double oldRightRad) =>
        behindEdgeMm / (Math.Tan(oldLeftRad) + Math.Tan(oldRightRad));

    /// <summary>Height at which a land of width v lies, the least recession that takes it away: r = v / (tan θ0L + tan θ0R). 30 µm at 15°: 0.056 mm.</summary>
    public static double LandRecessionMm(double landMm, double oldLeftRad, double oldRightRad) =>
        landMm / (Math.Tan(oldLeftRad) + Math.Tan(oldRightRad));

    /// <summary>Recession for a micro-bevel m wide on a flat facet: r = m sin(θ1 − θ0) / sin θ0. For θ1 ≥ θ0 and while its shoulder stays on the old facet.</summary>
    public static double MicroRecessionMm(double microWidthMm, double oldRad, double newRad) =>
        microWidthMm * Math.Sin(newRad - oldRad) / Math.Sin(oldRad);

    /// <summary>Recession at which nothing of the old facet is left: r_full = b₀ (1 − tan θ0 / tan θ1), zero for θ1 ≤ θ0.</summary>
    public static double FullRecessionMm(double shoulderHeightMm, double oldRad, double newRad) =>
        Math.Max(0, shoulderHeightMm * (1 - (Math.Tan(oldRad) / Math.Tan(newRad))));

    /// <summary>
    /// Height over the virtual apex where the new facet meets the flank: X = (a − b₀ tan β + r tan θ1) / (tan θ1 − tan β), with a = b₀ tan θ0.
    /// Holds for θ1 &gt; β and r ≥ r_full.
    /// </summary>
    public static double FlankShoulderMm(double shoulderHeightMm, double oldRad, double flankRad, double newRad, double recessionMm) =>
        ((shoulderHeightMm * (Math.Tan(oldRad) - Math.Tan(flankRad))) + (recessionMm * Math.Tan(newRad))) / (Math.Tan(newRad) - Math.Tan(flankRad));

    /// <summary>One side's part in the growth of thickness at a fixed height over the spine line, mm per mm of height lost: tan β (2 tan β for two sides).</summary>
    public static double GrowthAtFixedHeight(double flankRad) => Math.Tan(flankRad);

    /// <summary>One side's part in the growth of thickness at the shoulder, mm per mm of height lost: tan β · tan θ / (tan θ − tan β).</summary>
    public static double GrowthAtShoulder(double flankRad, double facetRad) =>
        Math.Tan(flankRad) * Math.Tan(facetRad) / (Math.Tan(facetRad) - Math.Tan(flankRad));

    /// <summary>Depth of a hollow facet under its chord: s = R − √(R² − w²/4) (sagitta; any geometry text).</summary>
    public static double SagittaMm(double radiusMm, double chordMm) =>
        chordMm * chordMm / 4 / (radiusMm + Math.Sqrt((radiusMm * radiusMm) - (chordMm * chordMm / 4)));

    /// <summary>Area between a hollow facet and its chord: R²/2 · (φ − sin φ), φ = 2 asin(w/2R) (circular segment; any geometry text).</summary>
    public static double SegmentAreaMm2(double radiusMm, double chordMm)
    {
        double phi = 2 * Math.Asin(chordMm / (2 * radiusMm));
        return radiusMm * radiusMm / 2 * (phi - Math.Sin(phi));
    }
}
