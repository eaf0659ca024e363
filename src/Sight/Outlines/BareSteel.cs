using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Takes the shadow off the heel's face, where the outline was drawn onto the shadow's rim.</summary>
internal static class BareSteel
{
    private const double FaceFromMm = 1.5;
    private const double FaceToMm = 25;

    /// <summary>A shadow's rim may tear the outline into a loop of this size, mm. Chosen.</summary>
    private const double LoopMm = 2.5;

    /// <summary>An outline that comes no further from the edge than this within so far has left the face for a handle's side, or the spine, mm. Chosen.</summary>
    private const double UpMm = 1, UpOverMm = 3;

    /// <summary>A shorter face has no line, mm. Chosen.</summary>
    private const double ShortestLineMm = 2.5;

    /// <summary>A shorter face is not judged for shadow, mm. Chosen.</summary>
    private const double ShortestFaceMm = 4;

    /// <summary>The face's own line is taken from so far of it, mm: it may be bent further up. Chosen.</summary>
    private const double FaceLineToMm = 12;

    /// <summary>The heel's face as a line on the mat, drawn in where a band of shaded paper lies along it; null where the heel has no face.</summary>
    /// <param name="edge">The edge.</param>
    /// <param name="outline">The outline in order, heel before tip.</param>
    /// <param name="heelAt">Index of the heel's corner.</param>
    /// <param name="band">Finds bands.</param>
    public static HeelFace? Face(SmoothEdge edge, Point2[] outline, int heelAt, PaperBand band)
    {
        // Along the edge at its heel; the face runs off from it, until it turns back along a handle.
        Vector2 forward = (edge.Place(edge.AlongMm[0] + 15, At(edge, edge.AlongMm[0] + 15)) - edge.Place(edge.AlongMm[0] + 2, At(edge, edge.AlongMm[0] + 2))).Normalized();
        Vector2 down = new(-forward.Y, forward.X);
        if (down.Dot(edge.Outward) > 0)
            down *= -1;
        List<Point2> face = Up(outline, heelAt, edge.Heel, forward, down);

        // The last millimetre before a handle belongs to the fillet of its shadow.
        double length = face.Count < 2 ? 0 : face[0].DistanceTo(face[^1]);
        if (length < ShortestLineMm)
            return null;
        face.RemoveRange(face.Count - Math.Max(1, face.Count / 8), Math.Max(1, face.Count / 8));
        List<Point2> near = [.. face.TakeWhile(p => p.DistanceTo(face[0]) < FaceLineToMm)];
        StraightLine line = StraightLine.Through(near, 1, 0);
        double[] off = [.. near.Select(p => Math.Abs(line.Direction.Cross(p - line.At))).Order()];
        var seen = new HeelFace(line, off[off.Length / 2], [.. near], forward, 0);
        if (length < ShortestFaceMm || band.Of(face, [.. face.Select(_ => forward)], 6) is not { } found)
            return seen;
        double back = face[0].DistanceTo(face[^1]) / 2;
        double wide = found.WideMm - (found.PerMm * back);
        return wide is > 0.3 and < 7 ? seen with { BandMm = wide, Line = new(line.At + (forward * wide), (line.Direction + (forward * found.PerMm)).Normalized()) } : seen;
    }

    /// <summary>The outline along the face, from the corner up, as far as it goes away from the edge: not along a handle's side, nor the spine.</summary>
    /// <param name="outline">The outline in order, heel before tip.</param>
    /// <param name="heelAt">Index of the heel's corner.</param>
    /// <param name="heel">The edge's beginning.</param>
    /// <param name="forward">Along the edge toward the tip.</param>
    /// <param name="up">Square to it, into the blade.</param>
    internal static List<Point2> Up(Point2[] outline, int heelAt, Point2 heel, Vector2 forward, Vector2 up)
    {
        var face = new List<Point2>();
        double deepest = 0;
        for (int i = heelAt; i >= 0; i--)
        {
            Vector2 from = outline[i] - heel;
            double depth = from.Dot(up);
            deepest = Math.Max(deepest, depth);
            if (depth > FaceToMm || depth < deepest - LoopMm || Math.Abs(from.Dot(forward)) > 3 + (0.25 * Math.Max(0, depth)) || (depth > FaceFromMm && !Climbs(i, depth)))
                break;
            if (depth > FaceFromMm && (face.Count == 0 || face[^1].DistanceTo(outline[i]) > 0.3))
                face.Add(outline[i]);
        }

        return face;

        // Within so far as the crow flies: a torn outline winds.
        bool Climbs(int i, double depth) =>
            Enumerable.Range(1, i).Select(back => outline[i - back]).TakeWhile(p => p.DistanceTo(outline[i]) < UpOverMm).Any(p => (p - heel).Dot(up) - depth > UpMm);
    }

    private static double At(SmoothEdge edge, double along)
    {
        int i = Array.FindIndex(edge.AlongMm, v => v >= along);
        return edge.SmoothMm[i < 0 ? edge.SmoothMm.Length - 1 : i];
    }
}
