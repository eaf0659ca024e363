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

    /// <summary>The corner; null where the face is too short, the patch tells too little or the heel's own side is seen.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it.</param>
    /// <param name="face">The heel's face as the outline has it.</param>
    /// <param name="faceLine">Its line, as well as it is known.</param>
    /// <param name="spineSide">A place on the far side of the blade.</param>
    /// <param name="search">Searches a corner under a light.</param>
    public static SeenTip? Of(Point2[] line, EdgeLight light, HeelFace face, StraightLine faceLine, Point2 spineSide, Func<EdgeLight, TipSearch> search)
    {
        if (face.PathMm.Length < 2 || face.PathMm[0].DistanceTo(face.PathMm[^1]) < ShortestFaceMm)
            return null;
        double angle = AngleOf(line, faceLine);
        return search(Turned(light)).Of([.. line.Reverse()], line[0], faceLine, spineSide) is { } seen && seen.Tells && Math.Abs(seen.Best.Shape.AngleRad - angle) < MostTurnedRad ? seen : null;
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
