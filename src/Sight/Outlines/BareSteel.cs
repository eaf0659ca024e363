using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Takes the shadow off the heel's face and off the spine, where the outline was drawn onto the shadow's rim.</summary>
internal static class BareSteel
{
    private const double FaceFromMm = 1.5;
    private const double FaceToMm = 25;

    /// <summary>A shadow's rim may tear the outline into a loop of this size, mm. Chosen.</summary>
    private const double LoopMm = 2.5;

    /// <summary>A shorter face has no line, mm. Chosen.</summary>
    private const double ShortestLineMm = 2.5;

    /// <summary>A shorter face is not judged for shadow, mm. Chosen.</summary>
    private const double ShortestFaceMm = 4;

    /// <summary>The spine is judged in stretches of this, mm. Chosen.</summary>
    private const double StretchMm = 12;

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
        var face = new List<Point2>();
        double deepest = 0;
        for (int i = heelAt; i >= 0; i--)
        {
            Vector2 from = outline[i] - edge.Heel;
            double depth = from.Dot(down);
            deepest = Math.Max(deepest, depth);
            if (depth > FaceToMm || depth < deepest - LoopMm || Math.Abs(from.Dot(forward)) > 3 + (0.25 * Math.Max(0, depth)))
                break;
            if (depth > FaceFromMm && (face.Count == 0 || face[^1].DistanceTo(outline[i]) > 0.3))
                face.Add(outline[i]);
        }

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

    /// <summary>The outline with the spine's stretch drawn in where a band of shaded paper lies along it.</summary>
    public static RefinedOutline Spine(RefinedOutline outline, SmoothEdge edge, PaperBand band)
    {
        Point2[] p = outline.Points;
        int n = p.Length;
        Vector2[] inward = Contour.Inward(p, Math.Max(2, (int)(2 / Math.Max(0.01, p[0].DistanceTo(p[1])))));
        double to = (edge.Tip - edge.Origin).Dot(edge.X);
        double from = (edge.Heel - edge.Origin).Dot(edge.X);
        bool[] spine = [.. Enumerable.Range(0, n).Select(i => inward[i].Dot(edge.Outward) > 0.5 && (p[i] - edge.Origin).Dot(edge.X) is var x && x > from + 1 && x < to - 4)];
        var stretches = new SortedDictionary<int, List<int>>();
        for (int i = 0; i < n; i++)
        {
            if (!spine[i])
                continue;
            int key = (int)(((p[i] - edge.Origin).Dot(edge.X) - from) / StretchMm);
            if (!stretches.TryGetValue(key, out List<int>? list))
                stretches[key] = list = [];
            if (list.Count == 0 || p[list[^1]].DistanceTo(p[i]) > 0.3)
                list.Add(i);
        }

        Dictionary<int, double> wide = stretches.Where(s => s.Value.Count > 12)
            .ToDictionary(s => s.Key, s => band.Of([.. s.Value.Select(i => p[i])], [.. s.Value.Select(i => inward[i])], 0)?.WideMm ?? 0);
        if (wide.Count == 0)
            return outline;

        // One stretch alone does not speak: the median of it and its neighbours.
        double Of(int key)
        {
            double[] near = [.. Enumerable.Range(key - 1, 3).Where(wide.ContainsKey).Select(k => wide[k]).Order()];
            return near.Length == 0 ? 0 : near[(near.Length - 1) / 2];
        }

        var moved = new Point2[n];
        for (int i = 0; i < n; i++)
        {
            moved[i] = p[i];
            if (!spine[i])
                continue;
            double at = (((p[i] - edge.Origin).Dot(edge.X) - from) / StretchMm) - 0.5;
            int key = (int)Math.Floor(at);
            double t = at - key;
            moved[i] = p[i] + (inward[i] * (((1 - t) * Of(key)) + (t * Of(key + 1))));
        }

        return outline with { Points = moved };
    }

    private static double At(SmoothEdge edge, double along)
    {
        int i = Array.FindIndex(edge.AlongMm, v => v >= along);
        return edge.SmoothMm[i < 0 ? edge.SmoothMm.Length - 1 : i];
    }
}
