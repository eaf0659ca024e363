using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Ends an edge's line, found under the light, where it meets heel and spine found under the same light: their outline lies on a shadow's rim as often as on
/// steel. Where a side is too short or uneven for that, by the outline alone.
/// </summary>
internal sealed class LitEnds(PhotoSampler sampler, LensMap map, double sigmaPx, double pixelMm, MatCamera? camera, HeelFace? face, Point2[] outline, int heelAt, int tipAt)
{
    /// <summary>A side whose sections scatter more than this about a line is none, mm. Chosen.</summary>
    private const double UnevenMm = 0.12;

    /// <summary>The spine's line at the tip, mm from it: the corner itself is rounded by blur. Chosen.</summary>
    private const double FlankFromMm = 1, FlankToMm = 9;

    /// <summary>Steel is looked at to this share of a point's width: beyond lies the edge. Chosen.</summary>
    private const double OfWidth = 0.6;

    private const double DeepestMm = 3.6;

    /// <summary>Across a shadow wider than this the search begins on its steel's side, mm. Chosen.</summary>
    private const double WideMm = 1.8;

    /// <summary>No lamp over a bench throws a shadow longer than this per millimetre of height. Chosen.</summary>
    private const double LongestPerMm = 1.5;

    /// <summary>The heel's face under the light; null where it has none.</summary>
    public SideLine? Heel { get; private set; }

    /// <summary>The spine at the tip under the light.</summary>
    public SideLine? Spine { get; private set; }

    /// <summary>The line with its ends.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it; null where there is none.</param>
    /// <param name="known">The edge's height where it is known.</param>
    public Point2[] Of(Point2[] line, EdgeLight? light, KnownHeight? known)
    {
        BareSide? bare = light is null ? null : new BareSide(sampler, map, sigmaPx, pixelMm, camera, light);
        if (face is { } seen)
        {
            // A shadow so wide that the search would not reach across it, and that a lamp can throw from this height.
            bool wide = seen.BandMm > WideMm && (known is not { } height || seen.BandMm < LongestPerMm * height.HeelMm);
            Point2[] path = wide ? [.. seen.PathMm.Select(p => p + (seen.Forward * seen.BandMm))] : seen.PathMm;
            Heel = bare?.Of(path, seen.Forward, light!.HeelMm, 1, _ => DeepestMm, 0) is { ScatterMm: < UnevenMm } lit ? lit : null;
            line = EdgeEnds.AtHeel(line, Heel is { } h ? seen with { Line = h.Line, ScatterMm = h.ScatterMm } : seen, outline, heelAt);
        }

        Spine = bare is null ? null : AtTip(line, bare, light!.TipMm);
        return EdgeEnds.AtTip(line, outline, tipAt, Spine?.Line);
    }

    private SideLine? AtTip(Point2[] line, BareSide bare, double heightMm)
    {
        Point2 tip = outline[tipAt];
        Point2[] flank = [.. outline.Skip(tipAt).TakeWhile(p => p.DistanceTo(tip) < FlankToMm).Where(p => p.DistanceTo(tip) > FlankFromMm)];
        if (flank.Length < 12)
            return null;
        Vector2 back = (line[^(1 + (line.Length / 20))] - line[^1]).Normalized();
        Vector2 along = (flank[^1] - flank[0]).Normalized();
        Vector2 toSteel = back - (along * back.Dot(along));
        double sine = toSteel.Norm;
        if (sine < 0.2)
            return null;
        double tangent = back.Dot(along) > 0 ? sine / back.Dot(along) : 10;
        double Deepest(double v) => Math.Clamp(OfWidth * tangent * (FlankFromMm + v), 0.3, DeepestMm);
        return bare.Of(flank, toSteel, heightMm, 2, Deepest, -FlankFromMm) is { ScatterMm: < UnevenMm } lit ? lit : null;
    }
}
