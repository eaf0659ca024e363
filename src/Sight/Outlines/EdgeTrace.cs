using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the edge's line from its smooth path, and cuts or lengthens it to heel and tip; anew when the edge's height becomes known, for the height tells
/// shadow from steel.
/// </summary>
internal sealed class EdgeTrace(PhotoSampler sampler, LensMap map, MatCamera camera, double blurPx, double pixelMm, SmoothEdge edge, Func<KnownHeight, SpineSide?> spine, Func<Point2[], EdgeLight?, KnownHeight?, Point2?, EndedLine> ends)
{
    /// <summary>A line whose steel seems to end further in than the first of these, or whose heel was cut by more than the second, is found anew without what lies beyond, mm. Chosen.</summary>
    private const double EndsInsideMm = 1, CutMm = 2.5;

    /// <summary>Found anew the heel must be so near to where steel seemed to end, mm, and so sure. Chosen.</summary>
    private const double SameMm = 0.5, SureMm = 0.5;

    public SeenEdge Of(KnownHeight? known)
    {
        Point2[] path = Contour.Open([.. edge.Points()], 0.5 * pixelMm);
        SpineSide? side = known is { } height ? spine(height) : null;
        (SeenEdge seen, Point2? steelsEnd, double misfit) = Along(path, known, side);
        Point2 from = steelsEnd ?? seen.Line[0];
        Vector2 forward = (path[path.Length / 12] - path[0]).Normalized();
        Point2[] left = [.. path.SkipWhile(p => (p - from).Dot(forward) < 0)];
        if ((from - path[0]).Dot(forward) < (steelsEnd is null ? CutMm : EndsInsideMm) || left.Length < path.Length / 2)
            return seen;

        // What lies beyond the steel's end bends the line near it, and the light found along that is not the steel's.
        (SeenEdge again, _, double misfitAgain) = Along(left, known, side, steelsEnd);
        bool better = steelsEnd is null ? misfitAgain < misfit : Math.Abs((again.Line[0] - from).Dot(forward)) < SameMm && again.HeelUMm < SureMm;
        return better ? again : seen;
    }

    /// <summary>The edge along a path, where steel seems to end further in than its heel, and how badly its light explains it.</summary>
    /// <param name="path">The path.</param>
    /// <param name="known">The edge's height where it is known.</param>
    /// <param name="side">The spine's side where the edge's height is known.</param>
    /// <param name="supposed">Where steel seemed to end the first time.</param>
    private (SeenEdge Seen, Point2? SteelsEnd, double Misfit) Along(Point2[] path, KnownHeight? known, SpineSide? side, Point2? supposed = null)
    {
        Vector2[] inward = OutlineView.Inward(path, edge.Outward);
        var sections = new EdgeSections(sampler, map, blurPx, camera, known, side);
        (double[] place, double[] outwardMm, _) = sections.Of(path, inward, pixelMm);
        double spacing = path[0].DistanceTo(path[1]);
        Point2[] line = [.. path.Select((p, i) => p + (inward[i] * -EdgeSections.At(place, outwardMm, i * spacing)))];
        EndedLine ended = ends(line, sections.Light, known, supposed);
        line = ended.Line;
        inward = OutlineView.Inward(line, edge.Outward);
        IReadOnlyList<SeenChip> places = new ChipFinder(sampler, map, blurPx).Find(line, inward, pixelMm, sections.DoubtMm);
        return (new(line, inward, places, OutlineBudget.Shadow(sections.DoubtMm), ended.TipUMm, sections.Light) { HeelUMm = ended.HeelUMm }, ended.SteelsEnd, sections.Misfit);
    }
}
