using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the edge's line from its smooth path, and cuts or lengthens it to heel and tip; anew when the edge's height becomes known, for the height tells
/// shadow from steel.
/// </summary>
/// <param name="sampler">The photo, its sharpening undone.</param>
/// <param name="map">Mat to photo.</param>
/// <param name="camera">Where the camera stood.</param>
/// <param name="blurPx">The camera's blur.</param>
/// <param name="pixelMm">A pixel on the mat.</param>
/// <param name="edge">The edge as the outline has it.</param>
/// <param name="spine">Sections across the spine, by the edge's height.</param>
/// <param name="ends">Cuts or lengthens a line to heel and tip.</param>
/// <param name="taken">What was found along the edge already, when it was to be told from the spine.</param>
internal sealed class EdgeTrace(PhotoSampler sampler, LensMap map, MatCamera camera, double blurPx, double pixelMm, SmoothEdge edge, Func<KnownHeight, SpineSide?> spine, Func<Point2[], EdgeLight?, KnownHeight?, Point2?, EndedLine> ends, LitSides.Taken? taken = null)
{
    /// <summary>A line whose steel seems to end further in than the first of these, or whose heel was cut by more than the second, is found anew without what lies beyond, mm. Chosen.</summary>
    private const double EndsInsideMm = 1, CutMm = 2.5;

    /// <summary>Found anew the heel must be so near to where steel seemed to end, mm, and so sure. Chosen.</summary>
    private const double SameMm = 0.5, SureMm = 0.5;

    /// <summary>A heel found anew is in no more doubt than so many times that of the one it replaces: what face and corner both told before gives way to nothing less sure. Chosen.</summary>
    private const double LessSure = 1.5;

    /// <summary>Half of a line found this far from its path, mm, has another light sought along it from the beginning: sections around the path showed it in a corner. Chosen.</summary>
    private const double MovedMm = 0.5;

    /// <summary>An edge does not step: a line that does must explain the light by so much better than one that does not. Chosen.</summary>
    private const double WithoutSteps = 1.05;

    /// <summary>The edge, anew for a height that is known.</summary>
    /// <param name="known">The edge's height where it is known.</param>
    public SeenEdge Of(KnownHeight? known)
    {
        Point2[] path = Contour.Open([.. edge.Points()], 0.5 * pixelMm);
        SpineSide? side = known is { } height ? spine(height) : null;
        Traced best = taken?.At(known) is { } by ? Ended(path, taken!.Line, by.OutwardMm, by.Sections, known) : Along(path, known, side);
        if (known is not null)
        {
            if (StiffLine.Of(path) is { } stiff)
            {
                Traced steady = Along(stiff, known, side);
                if (IsAsSure(steady.Seen.HeelUMm, best.Seen.HeelUMm))
                    best = Likelier(best, steady, WithoutSteps);
            }

            if (best.MovedMm > MovedMm)
                best = Likelier(best, Along(Contour.Open(best.Seen.Line, 0.5 * pixelMm), known, side));
        }

        Point2 from = best.SteelsEnd ?? best.Seen.Line[0];
        path = best.Path;
        Vector2 forward = (path[path.Length / 12] - path[0]).Normalized();
        Point2[] left = [.. path.SkipWhile(p => (p - from).Dot(forward) < 0)];
        if ((from - path[0]).Dot(forward) < (best.SteelsEnd is null ? CutMm : EndsInsideMm) || left.Length < path.Length / 2)
            return WithChips(best);

        // What lies beyond the steel's end bends the line near it, and the light found along that is not the steel's.
        Traced again = Along(left, known, side, best.SteelsEnd);
        bool better = IsAsSure(again.Seen.HeelUMm, best.Seen.HeelUMm)
            && (best.SteelsEnd is null ? again.Misfits.Mean < best.Misfits.AlongWith(again.Misfits) : Math.Abs((again.Seen.Line[0] - from).Dot(forward)) < SameMm && again.Seen.HeelUMm < SureMm);
        return WithChips(better ? again : best);
    }

    /// <summary>Whether a heel found anew is sure enough to replace the one before.</summary>
    /// <param name="uMm">Its standard uncertainty.</param>
    /// <param name="beforeUMm">That of the one before.</param>
    internal static bool IsAsSure(double uMm, double beforeUMm) => uMm < LessSure * beforeUMm;

    private SeenEdge WithChips(Traced traced) => traced.Seen with { Places = new ChipFinder(sampler, map, blurPx).Find(traced.Seen.Line, traced.Seen.Inward, pixelMm, traced.DoubtMm) };

    /// <summary>The edge along a path.</summary>
    /// <param name="Path">The path.</param>
    /// <param name="Seen">The edge, its chips not sought yet.</param>
    /// <param name="SteelsEnd">Where steel seems to end further in than its heel.</param>
    /// <param name="Misfits">How badly its light explains the sections.</param>
    /// <param name="DoubtMm">How far the edge may lie from where it was found, as far as its shadows tell.</param>
    /// <param name="MovedMm">How far the line lies from the path, median.</param>
    private sealed record Traced(Point2[] Path, SeenEdge Seen, Point2? SteelsEnd, PathMisfits Misfits, double DoubtMm, double MovedMm);

    private static Traced Likelier(Traced one, Traced other, double byShare = 1) => other.Misfits.Mean < byShare * one.Misfits.Mean ? other : one;

    /// <summary>The edge along a path.</summary>
    /// <param name="path">The path.</param>
    /// <param name="known">The edge's height where it is known.</param>
    /// <param name="side">The spine's side where the edge's height is known.</param>
    /// <param name="supposed">Where steel seemed to end the first time.</param>
    private Traced Along(Point2[] path, KnownHeight? known, SpineSide? side, Point2? supposed = null)
    {
        Vector2[] inward = OutlineView.Inward(path, edge.Outward);
        var sections = new EdgeSections(sampler, map, blurPx, camera, known, side);
        (Point2[] line, double[] outwardMm) = sections.Line(path, inward, pixelMm);
        return Ended(path, line, outwardMm, sections, known, supposed);
    }

    // Such a line cut or lengthened to heel and tip.
    private Traced Ended(Point2[] path, Point2[] line, double[] outwardMm, EdgeSections sections, KnownHeight? known, Point2? supposed = null)
    {
        double spacing = path[0].DistanceTo(path[1]);
        EndedLine ended = ends(line, sections.Light, known, supposed);
        SeenEdge seen = new(ended.Line, OutlineView.Inward(ended.Line, edge.Outward), [], OutlineBudget.Shadow(sections.DoubtMm), ended.TipUMm, sections.Light) { HeelUMm = ended.HeelUMm };
        return new(path, seen, ended.SteelsEnd, new((path.Length - 1) * spacing, sections.Misfits), sections.DoubtMm, outwardMm.Select(Math.Abs).Order().ElementAt(outwardMm.Length / 2));
    }
}
