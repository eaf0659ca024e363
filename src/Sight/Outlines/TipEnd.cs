using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>Ends an edge's line at the tip: where the photo around it shows it to be, or, where that tells nothing, where the lines of edge and spine and the outline's own end say.</summary>
internal sealed class TipEnd(PhotoSampler sampler, LensMap map, double sigmaPx, double pixelMm, MatCamera? camera, Point2[] outline, int tipAt)
{
    /// <summary>A side whose sections scatter more than this about a line is none, mm. Chosen.</summary>
    private const double UnevenMm = 0.12;

    /// <summary>The spine's line at the tip, mm from it: the corner itself is rounded by blur. Chosen.</summary>
    private const double FlankFromMm = 1, FlankToMm = 9;

    /// <summary>Steel is looked at to this share of a point's width: beyond lies the edge. Chosen.</summary>
    private const double OfWidth = 0.6;

    private const double DeepestMm = 3.6;

    /// <summary>Standard uncertainty of a tip from lines alone, mm. Chosen, from photographs of known truth.</summary>
    public const double LinesUMm = 0.4;

    /// <summary>Angles between edge and spine where the search begins when no spine was seen, and their spread. Chosen.</summary>
    private static readonly double[] s_risesRad = [0.45, 0.9, 1.5];
    private const double AnyRiseRad = 0.3;

    /// <summary>The spine at the tip under the light.</summary>
    public SideLine? Spine { get; private set; }

    /// <summary>The tip as the photo around it shows it.</summary>
    public SeenTip? Seen { get; private set; }

    /// <summary>The line with its tip.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it; null where there is none.</param>
    /// <param name="bare">Finds bare sides under that light.</param>
    public EndedLine Of(Point2[] line, EdgeLight? light, BareSide? bare)
    {
        Spine = bare is null ? null : SpineOf(line, bare, light!.TipMm);
        Point2[] byLines = TipLines.Of(line, outline, tipAt, Spine?.Line);
        if (light is null || (Spine?.Line ?? OutlinesSpine()) is not { } spine)
            return new(byLines, ByLinesUMm(byLines[^1], outline[tipAt]));
        Seen = new TipSearch(sampler, map, sigmaPx, pixelMm, camera, light).Of(line, byLines[^1], spine, outline[0]) ?? AnySpine(line, byLines[^1], light);
        return Seen is { Tells: true } seen && seen.Ended(line) is { } ended
            ? new(ended, TipUncertainty.Mm(seen.UMm, seen.MisfitShare, (seen.Place - byLines[^1]).Dot(seen.Along)))
            : new(byLines, ByLinesUMm(byLines[^1], outline[tipAt]));
    }

    /// <summary>Standard uncertainty of a tip from lines alone: where the outline ends elsewhere, half of what lies between is in doubt, as at the heel.</summary>
    internal static double ByLinesUMm(Point2 meet, Point2 outlinesEnd) => Math.Max(LinesUMm, meet.DistanceTo(outlinesEnd) / 2);

    /// <summary>The tip where the outline goes back along the edge's own bevel, for the flank is as bright as the paper: its spine may rise at any angle.</summary>
    private SeenTip? AnySpine(Point2[] line, Point2 at, EdgeLight light)
    {
        Vector2 back = (line[^(1 + (line.Length / 20))] - at).Normalized();
        Vector2 up = new(-back.Y, back.X);
        if (up.Dot(outline[0] - at) < 0)
            up *= -1;
        StraightLine[] spines = [.. s_risesRad.Select(a => new StraightLine(at, (back * Math.Cos(a)) + (up * Math.Sin(a))))];
        var search = new TipSearch(sampler, map, sigmaPx, pixelMm, camera, light) { AngleSpreadRad = AnyRiseRad };
        return spines.Select(s => search.Of(line, at, s, outline[0])).OfType<SeenTip>().Where(t => t.Tells).MinBy(t => t.MisfitShare);
    }

    private StraightLine? OutlinesSpine()
    {
        Point2[] flank = Flank();
        return flank.Length < 12 ? null : StraightLine.Through(flank, 2, 0);
    }

    private Point2[] Flank()
    {
        Point2 tip = outline[tipAt];
        return [.. outline.Skip(tipAt).TakeWhile(p => p.DistanceTo(tip) < FlankToMm).Where(p => p.DistanceTo(tip) > FlankFromMm)];
    }

    private SideLine? SpineOf(Point2[] line, BareSide bare, double heightMm)
    {
        Point2[] flank = Flank();
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
