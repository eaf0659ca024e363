using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the edge's line from its smooth path, and cuts or lengthens it to heel and tip; anew when the edge's height becomes known, for the height tells
/// shadow from steel.
/// </summary>
internal sealed class EdgeTrace(PhotoSampler sampler, LensMap map, MatCamera camera, double blurPx, double pixelMm, SmoothEdge edge, Func<Point2[], EdgeLight?, KnownHeight?, EndedLine> ends)
{
    public SeenEdge Of(KnownHeight? known)
    {
        Point2[] path = Contour.Open([.. edge.Points()], 0.5 * pixelMm);
        Vector2[] inward = OutlineView.Inward(path, edge.Outward);
        var sections = new EdgeSections(sampler, map, blurPx, camera, known);
        (double[] place, double[] outwardMm, _) = sections.Of(path, inward, pixelMm);
        double spacing = path[0].DistanceTo(path[1]);
        Point2[] line = [.. path.Select((p, i) => p + (inward[i] * -EdgeSections.At(place, outwardMm, i * spacing)))];
        EndedLine ended = ends(line, sections.Light, known);
        line = ended.Line;
        inward = OutlineView.Inward(line, edge.Outward);
        IReadOnlyList<SeenChip> places = new ChipFinder(sampler, map, blurPx).Find(line, inward, pixelMm, sections.DoubtMm);
        return new(line, inward, places, OutlineBudget.Shadow(sections.DoubtMm), ended.TipUMm, sections.Light) { HeelUMm = ended.HeelUMm };
    }
}
