using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>The heel's corner in the photo around it: edge and heel's face meet there as edge and spine do at a tip, seen from the other end.</summary>
internal static class HeelCorner
{
    /// <summary>A face shorter than this may be a handle's shadow, mm. Chosen.</summary>
    private const double ShortestFaceMm = 3;

    /// <summary>A corner whose face is turned against the face's line by more than this is another one. Chosen: 15°.</summary>
    private const double MostTurnedRad = 0.26;

    /// <summary>Beginnings so far before and beyond the place, mm, and with faces so far from square. Chosen.</summary>
    private const double AsideMm = 1, AslantRad = 0.3;

    /// <summary>Its face may have any angle within this, standard deviation, and is looked at no further up than this, mm: a handle begins there. Chosen.</summary>
    public const double AnySpreadRad = 0.25, ShortReachMm = 2.5;

    /// <summary>A corner without a face is believed only where it is near, about square, on the edge's own line, sure of its place, and leaves little unexplained. Chosen.</summary>
    private const double FarthestMm = 2, MostAslantRad = 0.6, OnLineMm = 0.25, SureMm = 0.4, PlainShare = 0.1;

    /// <summary>The line taken from so much of its heel where it is carried on, mm. Chosen.</summary>
    private const double CarriedFromMm = 20;

    /// <summary>A line carried on by more than this must be seen there, mm. Chosen.</summary>
    private const double CarriedMm = 1.5;

    /// <summary>Nor is it carried on to a handle by more than this, mm. Chosen.</summary>
    private const double MostCarriedMm = 25;

    /// <summary>Light is looked at from so far to so far on either side of the line, mm, and must grow by this share, which is noise. Chosen.</summary>
    private const double BesideFromMm = 0.1, BesideToMm = 0.45, BrighterBy = 0.005;

    /// <summary>The corner; null where the face is too short, the patch tells too little or the heel's own side is seen.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it.</param>
    /// <param name="face">The heel's face as the outline has it.</param>
    /// <param name="lines">Lines that it may have, the one that is best known first.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    /// <param name="search">Searches a corner under a light.</param>
    /// <param name="shown">Whether something else shows that a corner is there, so that one which the patch alone does not tell counts too.</param>
    public static SeenTip? Of(Point2[] line, EdgeLight light, HeelFace face, StraightLine[] lines, Point2 spineSide, Func<EdgeLight, TipSearch> search, bool shown = false)
    {
        if (face.PathMm.Length < 2 || face.PathMm[0].DistanceTo(face.PathMm[^1]) < ShortestFaceMm)
            return null;
        return search(Turned(light)).Of([.. line.Reverse()], line[0], lines[0], spineSide, lines.AsSpan(1)) is { } seen && (seen.Tells || shown)
            && (lines.Any(l => Math.Abs(seen.Best.Shape.AngleRad - AngleOf(line, l)) < MostTurnedRad) || (face.ScatterMm > HeelUncertainty.TornFromMm && Plain(seen))) ? seen : null;
    }

    /// <summary>
    /// The corner where a handle ends, and the line begun there, if steel goes on to it from where the line begins: seen between, and the corner near the handle's own end, its side
    /// seen or not. Null where it is not.
    /// </summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it.</param>
    /// <param name="end">Where the handle ends, somewhere across the blade.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    /// <param name="search">Searches a corner under a light.</param>
    /// <param name="lightAt">The photo's light at a place on the mat.</param>
    public static (SeenTip Seen, Point2[] Line)? AtHandlesEnd(Point2[] line, EdgeLight light, Point2 end, Point2 spineSide, Func<EdgeLight, TipSearch> search, Func<Point2, double> lightAt) =>
        (line[0] - end).Dot((line[line.Length / 12] - line[0]).Normalized()) is > CarriedMm and < MostCarriedMm
        && Sought(line, light, end, spineSide, search, lightAt, shown: false) is { } found && IsCorner(found.Seen) ? found : null;

    /// <summary>Whether a corner is believed without a face to bear it out.</summary>
    private static bool Plain(SeenTip seen) => !seen.ShowsItsSide && IsCorner(seen);

    private static bool IsCorner(SeenTip seen) => seen is { UMm: < SureMm, MisfitShare: < PlainShare }
        && Math.Abs(seen.Best.Shape.AngleRad - (Math.PI / 2)) < MostAslantRad && Math.Abs(seen.Best.Shape.EdgeMm) < OnLineMm;

    /// <summary>Whether a corner is believed against a face that only the outline tells: it is plain, and the outline has its own corner there.</summary>
    public static bool StandsAlone(SeenTip seen, Point2 outlinesCorner) => Plain(seen) && seen.Place.DistanceTo(outlinesCorner) < FarthestMm;

    /// <summary>
    /// The corner of a heel whose face has no line of its own, being short or torn: some right angle within a millimetre or two of a place, and the line begun
    /// there; null where the photo shows none.
    /// </summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it.</param>
    /// <param name="at">About where it is.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    /// <param name="search">Searches a corner under a light.</param>
    /// <param name="lightAt">The photo's light at a place on the mat.</param>
    /// <param name="shown">Whether something else shows that a corner is there.</param>
    public static (SeenTip Seen, Point2[] Line)? WithoutFace(Point2[] line, EdgeLight light, Point2 at, Point2 spineSide, Func<EdgeLight, TipSearch> search, Func<Point2, double> lightAt, bool shown = false) =>
        Sought(line, light, at, spineSide, search, lightAt, shown) is { } found && (Plain(found.Seen) || shown) ? found : null;

    private static (SeenTip Seen, Point2[] Line)? Sought(Point2[] line, EdgeLight light, Point2 at, Point2 spineSide, Func<EdgeLight, TipSearch> search, Func<Point2, double> lightAt, bool shown)
    {
        if (Extended(line, at) is not { } reaching)
            return null;
        Vector2 forward = (reaching[Math.Min(reaching.Length - 1, reaching.Length / 12)] - reaching[0]).Normalized();
        Vector2 up = new(-forward.Y, forward.X);
        if (up.Dot(spineSide - reaching[reaching.Length / 2]) < 0)
            up *= -1;
        double carried = (line[0] - reaching[0]).Dot(forward);
        if (!shown && carried > CarriedMm && !IsSteel(reaching[0], forward, up, carried, lightAt))
            return null;
        StraightLine Face(double beyondMm, double leanRad) => new(reaching[0] + (forward * -beyondMm), (forward * Math.Sin(leanRad)) + (up * Math.Cos(leanRad)));
        SeenTip? seen = search(Turned(light)).Of(
            [.. reaching.Reverse()], reaching[0], Face(0, 0), spineSide, Face(-AsideMm, 0), Face(AsideMm, 0), Face(0, AslantRad), Face(0, -AslantRad));
        return seen is not null && seen.Place.DistanceTo(reaching[0]) < FarthestMm && seen.Ended([.. reaching.Reverse()]) is { } ended ? (seen, [.. ended.Reverse()]) : null;
    }

    /// <summary>
    /// Whether steel ends at the line where it is carried on. Steel keeps light off paper the more the nearer, so that paper beside it never grows brighter toward it: what is
    /// brighter behind the line than before it is a bevel as bright as paper, and what is not is the shade before an unsharpened length that stands back.
    /// </summary>
    private static bool IsSteel(Point2 heel, Vector2 forward, Vector2 up, double carriedMm, Func<Point2, double> lightAt)
    {
        const int stations = 24, steps = 5;
        double Light(double inwardMm) => Enumerable.Range(1, stations).Select(i => lightAt(heel + (forward * (carriedMm * i / (stations + 1))) + (up * inwardMm))).Order().ElementAt(stations / 2);
        double[] beside = [.. Enumerable.Range(0, steps).Select(i => BesideFromMm + ((BesideToMm - BesideFromMm) * i / (steps - 1)))];
        return beside.Max(Light) > (1 + BrighterBy) * beside.Min(d => Light(-d));
    }

    /// <summary>The line carried on straight, or cut, to beside a place; null where little of it would be left.</summary>
    internal static Point2[]? Extended(Point2[] line, Point2 at)
    {
        Point2[] heel = [.. line.Take(line.Length / 2).TakeWhile(p => p.DistanceTo(line[0]) < CarriedFromMm)];
        if (heel.Length < 12)
            return null;
        StraightLine on = StraightLine.Through(heel, 1, 0);
        Vector2 forward = on.Direction.Dot(line[^1] - line[0]) < 0 ? on.Direction * -1 : on.Direction;
        Point2 end = on.At + (forward * forward.Dot(at - on.At));
        double spacing = line[0].DistanceTo(line[1]);
        Point2[] kept = [.. line.Where(p => (p - end).Dot(forward) > spacing)];
        if (kept.Length < line.Length / 2)
            return null;
        double gap = (kept[0] - end).Dot(forward);
        int more = (int)(gap / spacing);
        return [end, .. Enumerable.Range(1, Math.Max(0, more - 1)).Select(i => end + (forward * (i * gap / more))), .. kept];
    }

    /// <summary>The same light, the line gone along from tip to heel.</summary>
    private static EdgeLight Turned(EdgeLight light) => light with
    {
        HeelMm = light.TipMm,
        TipMm = light.HeelMm,
        Lamps = [.. light.Lamps.Select(l => l with { Along = -l.Along })],
    };

    /// <summary>Between the edge gone forward and the face gone up from the corner.</summary>
    private static double AngleOf(Point2[] line, StraightLine face)
    {
        Vector2 forward = (line[Math.Min(line.Length - 1, line.Length / 30)] - line[0]).Normalized();
        return Math.Acos(Math.Clamp(forward.Dot(face.Direction), -1, 1));
    }
}
