namespace Whetwright.Sight.Outlines;

/// <summary>
/// The size of a chip. Three measures of its depth: the notch that was fitted, and how far the rim of the dark line along the edge steps inward there, at its foot and halfway
/// down. Each is at times wrong by a millimetre (bright steel beside a small chip is taken for paper, a shadow in a deep one for steel), seldom two of them at once: their median is taken.
/// </summary>
internal static class ChipSize
{
    // Depth by each measure: a + b·what it shows, mm. From 631 chips on 480 training photos of Darkroom, six-fold judged: root mean square error 0.29 mm, 0.40 by the fit alone.
    private const double FitBase = 0.2, OfFit = 0.9;
    private const double FootBase = 0.9, OfFoot = 0.87;
    private const double HalfwayBase = 0.35, OfHalfway = 0.95;

    /// <summary>Of a notch that was fitted, and how far the dark line's rim steps inward within it where that is seen, mm.</summary>
    /// <param name="fitted">The notch.</param>
    /// <param name="footMm">By the rim's foot.</param>
    /// <param name="halfwayMm">By the rim halfway down.</param>
    public static NotchShape Of(NotchShape fitted, double? footMm, double? halfwayMm)
    {
        double byFit = FitBase + (OfFit * fitted.DepthMm);
        double[] depths = [.. new[] { byFit, FootBase + (OfFoot * footMm), HalfwayBase + (OfHalfway * halfwayMm) }.OfType<double>().Order()];
        double depth = (depths[(depths.Length - 1) / 2] + depths[depths.Length / 2]) / 2;

        // What is deeper or shallower than its fit is wider or narrower too, by half as much in proportion.
        return fitted with { DepthMm = depth, WidthMm = fitted.WidthMm * Math.Sqrt(depth / byFit) };
    }

    /// <summary>Standard uncertainty of a told depth: it grows with the depth, and what the line is in doubt the depth is too. From the same chips: 0.10 mm of 0.6, 0.28 of 1.2, 0.41 of 2.5; 98 % within twice this.</summary>
    /// <param name="depthMm">As told.</param>
    /// <param name="lineDoubtMm">How far the edge's line may lie off as far as shadows tell.</param>
    public static double DepthUMm(double depthMm, double lineDoubtMm) => Math.Sqrt((0.28 * 0.28 * depthMm) + (lineDoubtMm * lineDoubtMm));
}
