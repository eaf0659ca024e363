using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Finds chips: notches that explain the photo along the smooth edge better than stains of the steel do (<see cref="NotchModel"/>, <see cref="ChipEvidence"/>).</summary>
internal sealed class ChipFinder(PhotoSampler sampler, LensMap map, double sigmaPx)
{
    /// <summary>Log odds from which a place is called a chip. Chosen so that one in some sixty training photos shows one that is none: blades of another kind are not foreseen by them.</summary>
    public const double LeastLogOdds = 0;

    /// <summary>
    /// Depth to tell for a fitted one. Of small notches the blur hides the ground, a deep fit has at times taken steel in; 0.26 mm + 0.85 of the fit,
    /// from some 560 chips on training photos.
    /// </summary>
    public static double DepthMm(double fittedMm) => 0.26 + (0.85 * fittedMm);

    /// <summary>Standard uncertainty of a told depth: it grows with the depth, and what the line is in doubt the depth is too. From the same chips: 0.16 mm of 0.6, 0.33 of 1.2, 0.41 of 2.5.</summary>
    /// <param name="depthMm">As told.</param>
    /// <param name="lineDoubtMm">How far the edge's line may lie off as far as shadows tell.</param>
    public static double DepthUMm(double depthMm, double lineDoubtMm) => Math.Sqrt((0.28 * 0.28 * depthMm) + (lineDoubtMm * lineDoubtMm));

    /// <summary>Places along a line of evenly spaced stations that look like chips, heel to tip.</summary>
    /// <param name="line">The smooth edge.</param>
    /// <param name="inward">Normals toward the steel.</param>
    /// <param name="pxMm">Size of a pixel.</param>
    /// <param name="doubtMm">How far the line may lie off as far as shadows tell.</param>
    public IReadOnlyList<SeenChip> Find(Point2[] line, Vector2[] inward, double pxMm, double doubtMm) =>
    [
        .. Weighed(line, inward, pxMm).OrderBy(w => w.Notch.AtMm).Select(w =>
        {
            NotchShape shape = w.Notch.Shape with { DepthMm = DepthMm(w.Notch.Shape.DepthMm) };
            return new SeenChip(w.Notch.AtMm, shape, w.Evidence.LogOdds, DepthUMm(shape.DepthMm, doubtMm));
        }),
    ];

    /// <summary>All places that look like notches, with what speaks for and against them.</summary>
    internal IReadOnlyList<(NotchFit Notch, ChipEvidence Evidence)> Weighed(Point2[] line, Vector2[] inward, double pxMm)
    {
        if (line.Length < 2)
            return [];
        return new NotchSearch(EdgeStrip.Along(sampler, map, EvenEdge.Of(line), inward, line[0].DistanceTo(line[1]), pxMm), Math.Max(0.45, sigmaPx) * pxMm).Weighed();
    }
}
