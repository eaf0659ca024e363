using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The tip as the place where the edge's line meets the spine's, each fitted over some millimetres, and the outline's own end: what is known before the photo around the
/// tip is looked at, and what remains where that tells nothing.
/// </summary>
internal static class TipLines
{
    /// <summary>The spine's line at the tip, mm from it. Chosen.</summary>
    private const double FlankFromMm = 0.8, FlankToMm = 8;

    /// <summary>An outline that ends this far before both lines meet is torn off there, mm. Chosen: shadows draw the meeting out by less.</summary>
    private const double TornMm = 1;

    /// <summary>Points sharper than this (cosine) are drawn out by the least shadow on either side; the outline's own end bounds them. Chosen: 60°.</summary>
    private const double SharpCosine = 0.5;

    /// <summary>A sharp point's outline and the meeting of its sides are two looks at it: where they agree within this their middle is taken, else the outline's end. Chosen.</summary>
    private const double AgreeMm = 0.5;

    /// <summary>The stations with the edge ended at the spine's line.</summary>
    /// <param name="stations">Evenly along the edge, heel to tip.</param>
    /// <param name="line">The outline in order, heel before tip.</param>
    /// <param name="tipAt">Index of the tip's corner.</param>
    /// <param name="lit">The spine's line at the tip where it was found under the light; else the outline's.</param>
    public static Point2[] Of(Point2[] stations, Point2[] line, int tipAt, StraightLine? lit = null)
    {
        Point2 tip = line[tipAt];
        var flank = new List<Point2>();
        for (int i = tipAt; i < line.Length && line[i].DistanceTo(tip) < FlankToMm; i++)
        {
            if (line[i].DistanceTo(tip) > FlankFromMm)
                flank.Add(line[i]);
        }

        if (flank.Count < 12)
            return stations;

        // Near the tip itself: edge and spine may be bent.
        StraightLine spine = lit ?? StraightLine.Through(flank, degree: 2, at: 0);
        if (EdgeEnds.EdgeLine(stations, stations[^1], 2) is not { } first || Math.Abs(first.Direction.Cross(spine.Direction)) < EdgeEnds.LeastSine
            || EdgeEnds.EdgeLine(stations, first.Meets(spine), 2) is not { } edge || Math.Abs(edge.Direction.Cross(spine.Direction)) < EdgeEnds.LeastSine)
            return stations;
        double meets = edge.Direction.Dot(edge.Meets(spine) - edge.At);

        // Where the outline leaves the edge's line; a smoothed outline's point stands back by about its own spacing.
        double spacing = line[tipAt].DistanceTo(line[tipAt - 1]);
        double[] on = [.. line.Where(p => p.DistanceTo(tip) < FlankToMm && Math.Abs(edge.Direction.Cross(p - edge.At)) < EdgeEnds.InShadowMm).Select(p => edge.Direction.Dot(p - edge.At) + spacing)];
        double at = on.Length == 0 ? meets : on.Max();
        double more = meets - at;
        bool sharp = Math.Abs(edge.Direction.Dot(spine.Direction)) > SharpCosine;
        if (lit is not null && Math.Abs(more) > AgreeMm)
            return Of(stations, line, tipAt);
        double share = lit is null ? (more > TornMm || (!sharp && Math.Abs(more) < EdgeEnds.OnLineMm) ? 1 : 0) : sharp || Math.Abs(more) > EdgeEnds.OnLineMm ? 0.5 : 1;
        return EdgeEnds.Ended(stations, edge, edge.At + (edge.Direction * (at + (share * more)))) ?? stations;
    }
}
