using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Finds chips: notches that explain the photo along the smooth edge better than stains of the steel do (<see cref="NotchModel"/>, <see cref="ChipEvidence"/>).</summary>
internal sealed class ChipFinder(PhotoSampler sampler, LensMap map, double sigmaPx)
{
    /// <summary>Log odds from which a place is called a chip. Chosen so that one in some sixty training photos shows one that is none: blades of another kind are not foreseen by them.</summary>
    public const double LeastLogOdds = 0;

    /// <summary>Places along a line of evenly spaced stations that look like chips, heel to tip.</summary>
    /// <param name="line">The smooth edge.</param>
    /// <param name="inward">Normals toward the steel.</param>
    /// <param name="pxMm">Size of a pixel.</param>
    /// <param name="doubtMm">How far the line may lie off as far as shadows tell.</param>
    public IReadOnlyList<SeenChip> Find(Point2[] line, Vector2[] inward, double pxMm, double doubtMm) =>
    [
        .. Weighed(line, inward, pxMm).OrderBy(w => w.ToldAtMm)
            .Select(w => new SeenChip(w.ToldAtMm, w.Told, w.Evidence.LogOdds, ChipSize.DepthUMm(w.Told.DepthMm, doubtMm))),
    ];

    /// <summary>All places that look like notches, with what speaks for and against them.</summary>
    internal IReadOnlyList<WeighedNotch> Weighed(Point2[] line, Vector2[] inward, double pxMm)
    {
        if (line.Length < 2)
            return [];
        double blurMm = Math.Max(0.45, sigmaPx) * pxMm;
        return new NotchSearch(EdgeStrip.Along(sampler, map, EvenEdge.Of(line), inward, line[0].DistanceTo(line[1]), pxMm, blurMm), blurMm).Weighed();
    }
}
