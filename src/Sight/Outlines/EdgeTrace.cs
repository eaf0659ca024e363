using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>An edge as it appears on the mat.</summary>
/// <param name="Line">Stations of the smooth edge, heel to tip.</param>
/// <param name="AsIs">The edge with its chips at the same stations.</param>
/// <param name="Chips">What is missing from it.</param>
/// <param name="ShadowUMm">How far shadows may have moved it, standard uncertainty.</param>
internal sealed record SeenEdge(Point2[] Line, Point2[] AsIs, IReadOnlyList<SeenChip> Chips, double ShadowUMm);

/// <summary>
/// Finds the edge's line from its smooth path, and cuts or lengthens it to heel and tip; anew when the edge's height becomes known, for the height tells
/// shadow from steel.
/// </summary>
internal sealed class EdgeTrace(PhotoSampler sampler, LensMap map, MatCamera camera, double blurPx, double pixelMm, SmoothEdge edge, Func<Point2[], EdgeLight?, KnownHeight?, Point2[]> ends)
{
    public SeenEdge Of(KnownHeight? known)
    {
        Point2[] path = Contour.Open([.. edge.Points()], 0.5 * pixelMm);
        Vector2[] inward = OutlineView.Inward(path, edge.Outward);
        var sections = new EdgeSections(sampler, map, blurPx, camera, known);
        (double[] place, double[] outwardMm, _) = sections.Of(path, inward, pixelMm);
        double spacing = path[0].DistanceTo(path[1]);
        Point2[] line = [.. path.Select((p, i) => p + (inward[i] * -EdgeSections.At(place, outwardMm, i * spacing)))];
        line = ends(line, sections.Light, known);
        inward = OutlineView.Inward(line, edge.Outward);
        (IReadOnlyList<SeenChip> chips, double[] depth) = new ChipFinder(sampler, map, blurPx).Find(line, inward, pixelMm);
        Point2[] asIs = [.. line];
        foreach (SeenChip chip in chips)
        {
            for (int i = chip.From; i <= chip.To; i++)
                asIs[i] = line[i] + (inward[i] * depth[i]);
        }

        return new(line, asIs, chips, OutlineBudget.Shadow(sections.DoubtMm));
    }
}
