using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Where the edge ends: its line, once found under the light, carried on to the heel's face and to the spine's line at the tip, each fitted over
/// some millimetres. The outline's own corners are rounded by blur and torn by shadows.
/// </summary>
internal static class EdgeEnds
{
    /// <summary>The edge's own line is taken from so far inside its end, mm: the corner is left out, a belly hardly bends. Chosen.</summary>
    private const double EdgeFromMm = 1.2, EdgeToMm = 12;

    /// <summary>A corner further off than this is another one, mm. Chosen.</summary>
    private const double FarthestMm = 4;

    /// <summary>Lines that meet more flatly give no place (sine). Chosen.</summary>
    internal const double LeastSine = 0.2;

    /// <summary>The outline lies on the edge's line within this, mm. Chosen.</summary>
    internal const double OnLineMm = 0.35;

    /// <summary>Outside it, where the paper is shaded, within this. Chosen.</summary>
    internal const double InShadowMm = 0.6;

    /// <summary>How far around a corner it is looked for, mm. Chosen.</summary>
    private const double NearMm = 8;

    /// <summary>
    /// The stations with the edge begun at the heel's corner: at the face's line, or where the outline leaves the edge's line before that: a shadow
    /// beside the face joins the outline a little above the corner, and so does not move it.
    /// </summary>
    /// <param name="stations">Evenly along the edge, heel to tip.</param>
    /// <param name="face">The heel's face.</param>
    /// <param name="line">The outline in order, heel before tip.</param>
    /// <param name="heelAt">Index of the heel's corner.</param>
    public static Point2[] AtHeel(Point2[] stations, HeelFace face, Point2[] line, int heelAt)
    {
        Point2 corner = line[heelAt];
        Point2[] near = [.. line[..Math.Min(line.Length, heelAt + (line.Length / 8))].Where(p => p.DistanceTo(corner) < NearMm)];
        Point2[] toHeel = [.. stations.Reverse()];
        if (EdgeLine(toHeel, toHeel[^1], 1) is not { } edge || Math.Abs(edge.Direction.Cross(face.Line.Direction)) < LeastSine)
            return stations;
        // Inward of the edge's line, and along it toward the heel.
        double inward = Math.Sign(edge.Direction.Cross(face.Line.Direction));
        (double Along, double In)[] places = [.. near.Select(p => (edge.Direction.Dot(p - edge.At), inward * edge.Direction.Cross(p - edge.At)))];
        double[] on = [.. places.Where(p => p.In is > -InShadowMm and < OnLineMm).Select(p => p.Along)];
        double meets = edge.Direction.Dot(edge.Meets(face.Line) - edge.At);
        double at = on.Length == 0 ? meets : on.Max();
        (double Along, double In)[] beside = [.. places.Where(p => at - p.Along is > 1 and < NearMm - 2 && Math.Abs(p.In) < 3)];
        bool follows = beside.Count(p => p.In is > -InShadowMm and < OnLineMm) > 0.6 * beside.Length;
        bool finer = face.ScatterMm < OnLineMm / 2 && (!follows || meets < at + OnLineMm);
        return Ended(toHeel, edge, edge.At + (edge.Direction * (finer ? meets : at))) is { } ended ? [.. ended.Reverse()] : stations;
    }

    /// <summary>How far a line begins from where it meets the heel's face, mm; 0 where both run too much alike to tell.</summary>
    /// <param name="line">Stations, heel to tip.</param>
    /// <param name="face">The face's line.</param>
    internal static double BesideFaceMm(Point2[] line, StraightLine face) =>
        EdgeLine([.. line.Reverse()], line[0], 1) is { } edge && Math.Abs(edge.Direction.Cross(face.Direction)) >= LeastSine ? Math.Abs((edge.Meets(face) - line[0]).Dot(edge.Direction)) : 0;

    /// <summary>The line of the stations before an end, a little inside it.</summary>
    internal static StraightLine? EdgeLine(Point2[] stations, Point2 end, int degree)
    {
        Point2[] part = [.. stations.Skip(stations.Length / 2).Where(p => p.DistanceTo(end) is > EdgeFromMm and < EdgeToMm)];
        return part.Length < 12 ? null : StraightLine.Through(part, degree, part.Length - 1);
    }

    /// <summary>The stations ended at a place on their line, those off the line near it left out; null where it is far off.</summary>
    internal static Point2[]? Ended(Point2[] stations, StraightLine edge, Point2 end)
    {
        if (end.DistanceTo(stations[^1]) > FarthestMm)
            return null;
        double spacing = stations[0].DistanceTo(stations[1]);
        Point2[] kept = [.. stations.Where(p =>
        {
            double before = (end - p).Dot(edge.Direction);
            return before > EdgeToMm || (before > EdgeFromMm / 2 && (before > FarthestMm || Math.Abs(edge.Direction.Cross(p - edge.At)) < OnLineMm));
        })];
        return kept.Length < stations.Length / 2 ? null : Contour.Open([.. kept, end], spacing);
    }
}

/// <summary>The heel's face as seen.</summary>
/// <param name="Line">Its line, where the steel ends; a shadow is taken off.</param>
/// <param name="ScatterMm">Median distance of the outline from its line.</param>
/// <param name="PathMm">The outline along it, from the corner on.</param>
/// <param name="Forward">Along the edge toward the tip.</param>
/// <param name="BandMm">Width of the shadow that was taken off its line; 0 of none.</param>
internal readonly record struct HeelFace(StraightLine Line, double ScatterMm, Point2[] PathMm, Vector2 Forward, double BandMm)
{
    /// <summary>The face as the outline has it, no shadow taken off.</summary>
    public HeelFace WithoutBand() => BandMm == 0 || PathMm.Length < 2 ? this : this with { Line = StraightLine.Through(PathMm, 1, 0), BandMm = 0 };
}

/// <summary>A straight line on the mat, or a bent one's tangent.</summary>
/// <param name="At">A point of it.</param>
/// <param name="Direction">Unit vector.</param>
internal readonly record struct StraightLine(Point2 At, Vector2 Direction)
{
    /// <summary>Through points in order, robustly.</summary>
    /// <param name="points">The points.</param>
    /// <param name="degree">1 for a line; 2 for the tangent of a bow.</param>
    /// <param name="at">The point beside which the tangent is taken.</param>
    public static StraightLine Through(IReadOnlyList<Point2> points, int degree, int at)
    {
        Point2 origin = points[0];
        Vector2 x = (points[^1] - origin).Normalized();
        Vector2 y = new(-x.Y, x.X);
        RobustPolynomial fit = RobustPolynomial.Fit([.. points.Select(p => (p - origin).Dot(x))], [.. points.Select(p => (p - origin).Dot(y))], degree, 0.08);
        double s = (points[at] - origin).Dot(x);
        return new(origin + (x * s) + (y * fit.At(s)), (x + (y * fit.Slope(s))).Normalized());
    }

    /// <summary>Where two lines meet; they must not be parallel.</summary>
    public Point2 Meets(StraightLine other) => At + (Direction * ((other.At - At).Cross(other.Direction) / Direction.Cross(other.Direction)));
}
