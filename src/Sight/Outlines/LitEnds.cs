using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Ends an edge's line, found under the light, where it meets heel and spine found under the same light: their outline lies on a shadow's rim as often as on
/// steel. Where a side is too short or uneven for that, by the outline alone.
/// </summary>
internal sealed partial class LitEnds(PhotoSampler sampler, LensMap map, double sigmaPx, double pixelMm, MatCamera? camera, HeelFace? face, Point2[] outline, int heelAt, int tipAt, Point2? handlesEnd = null)
{
    /// <summary>A side whose sections scatter more than this about a line is none, mm. Chosen.</summary>
    private const double UnevenMm = 0.12;

    private const double DeepestMm = 3.6;

    /// <summary>Across a shadow wider than this the search begins on its steel's side, mm. Chosen.</summary>
    private const double WideMm = 1.8;

    /// <summary>No lamp over a bench throws a shadow longer than this per millimetre of height. Chosen.</summary>
    private const double LongestPerMm = 1.5;

    /// <summary>Corner and face further apart than so many standard uncertainties of both, or than this at all: the corner is another one, and the face stays. Chosen.</summary>
    private const double Together = 3, FarthestMm = 1.5;

    /// <summary>The corner bears out the outline's face against the one under the light where it lies so many times nearer to it. Chosen.</summary>
    private const double MuchNearer = 3;

    /// <summary>A heel's corner is off by this beside what its fit says, mm: steel is thicker there than the model's plate. Chosen, from photographs of known truth.</summary>
    private const double SettingMm = 0.12;

    /// <summary>The heel's face under the light; null where it has none.</summary>
    public SideLine? Heel { get; private set; }

    /// <summary>The heel's corner as the photo around it shows it.</summary>
    public SeenTip? Corner { get; private set; }

    /// <summary>The tip's end.</summary>
    public TipEnd Tip { get; } = new(sampler, map, sigmaPx, pixelMm, camera, outline, tipAt);

    /// <summary>The line with its ends.</summary>
    /// <param name="line">Stations of the edge's line, heel to tip.</param>
    /// <param name="light">The light along it; null where there is none.</param>
    /// <param name="known">The edge's height where it is known.</param>
    /// <param name="supposed">Where steel seemed to end when the edge was found the first time.</param>
    public EndedLine Of(Point2[] line, EdgeLight? light, KnownHeight? known, Point2? supposed = null)
    {
        BareSide? bare = light is null ? null : new BareSide(sampler, map, sigmaPx, pixelMm, camera, light);
        HeelFace? at = face;
        _steelsEnd = null;
        if (face is { } seen)
        {
            if (known is { } height && seen.BandMm >= LongestPerMm * height.HeelMm)
                seen = seen.WithoutBand();
            Heel = Lit(bare, seen, light);
            if (Heel is null && bare is not null && seen.BandMm > WideMm)
            {
                // A shadow so wide counts where the light finds steel behind it; bright patina beside the rim looks like one.
                seen = seen.WithoutBand();
                Heel = Lit(bare, seen, light);
            }

            at = seen;
            line = EdgeEnds.AtHeel(line, Heel is { } h ? seen with { Line = h.Line, ScatterMm = h.ScatterMm } : seen, outline, heelAt);
        }

        (line, double heelU) = AtCorner(line, light, at, supposed, at is { } by ? HeelUncertainty.Mm(at, Heel, EdgeEnds.BesideFaceMm(line, Heel?.Line ?? by.Line)) : HeelUncertainty.Mm(at, Heel));
        return Tip.Of(line, light, bare) with { HeelUMm = heelU, SteelsEnd = _steelsEnd };
    }

    /// <summary>The heel's face under the light; across a wide shadow the search begins on its steel's side.</summary>
    private static SideLine? Lit(BareSide? bare, HeelFace seen, EdgeLight? light)
    {
        Point2[] path = seen.BandMm > WideMm ? [.. seen.PathMm.Select(p => p + (seen.Forward * seen.BandMm))] : seen.PathMm;
        return bare?.Of(path, seen.Forward, light!.HeelMm, 1, _ => DeepestMm, 0) is { ScatterMm: < UnevenMm } lit ? lit : null;
    }

    /// <summary>
    /// The line with its heel weighed from where the face's line has it and where the corner's patch has it. A face under the light that the corner contradicts
    /// gives way to the outline's where the corner agrees with that: patina looks like a shadow across a face, at the corner it does not.
    /// </summary>
    private (Point2[] Line, double HeelUMm) AtCorner(Point2[] line, EdgeLight? light, HeelFace? at, Point2? supposed, double faceU)
    {
        StraightLine[] lines = at is { } side ? [Heel?.Line ?? side.Line, side.Line, side.WithoutBand().Line] : [];
        Corner = at is { } face && light is not null ? HeelCorner.Of(line, light, face, lines, outline[0], l => new(sampler, map, sigmaPx, pixelMm, camera, l)) : null;
        if (light is not null && SteelEnds(line, light, at, lines.Length > 0 ? lines[0] : null, supposed) is { } shown)
            return shown;
        if (Corner is null && Heel is null && light is not null && Faceless(line, light) is { } alone)
            return alone;
        if (Corner is not { } corner)
            return (line, faceU);
        double cornerU = CornerU(corner);
        var edge = new StraightLine(corner.Place, corner.Along);
        double byOutline = HeelUncertainty.Mm(at, null);
        (double, double)[] faces = [((corner.Place - line[0]).Dot(corner.Along), faceU), .. lines.Skip(1).Select(l => ((corner.Place - edge.Meets(l)).Dot(corner.Along), byOutline))];
        if (corner.Ended([.. line.Reverse()]) is not { } ended)
            return (line, faceU);
        if (BornOut(faces, cornerU) is not var (apart, faceUMm))
            return Heel is null && HeelCorner.StandsAlone(corner, outline[heelAt]) ? ([.. ended.Reverse()], Math.Max(cornerU, HeelUncertainty.LeastMm)) : (line, faceU);
        (double by, double u) = EndsOfTwo.Weigh(apart, faceUMm, cornerU);

        // Face and corner stand in one light and on one line of the edge: together they are no better than the best.
        return (EndsOfTwo.Moved([.. ended.Reverse()], by - apart, 0), Math.Max(u, HeelUncertainty.LeastMm));
    }

    private TipSearch AnyCorner(EdgeLight l) => new(sampler, map, sigmaPx, pixelMm, camera, l) { AngleSpreadRad = HeelCorner.AnySpreadRad, ReachMm = HeelCorner.ShortReachMm };

    private double LightAt(Point2 p) => sampler.LightAt(map.ToPhoto(p));

    /// <summary>The face that a corner bears out; null where it is another corner.</summary>
    /// <param name="faces">How far the corner lies beyond each, and how well each is known; the best known first.</param>
    /// <param name="cornerUMm">Standard uncertainty of the corner.</param>
    internal static (double ApartMm, double UMm)? BornOut(IReadOnlyList<(double ApartMm, double UMm)> faces, double cornerUMm)
    {
        double nearest = Math.Abs(faces[0].ApartMm) / MuchNearer;
        return faces.Where((f, i) => (i == 0 || Math.Abs(f.ApartMm) < nearest) && Math.Abs(f.ApartMm) <= Math.Min(FarthestMm, Together * Math.Sqrt((f.UMm * f.UMm) + (cornerUMm * cornerUMm))))
            .Select(f => ((double, double)?)f).FirstOrDefault();
    }

    /// <summary>
    /// The line begun at a corner that has no face, sought where the handle ends, if the outline has the blade begin well inside that (along the shoulder of a bevel as bright as the
    /// paper), where the outline turns, and where the line begins; null where there is none.
    /// </summary>
    private (Point2[] Line, double HeelUMm)? Faceless(Point2[] line, EdgeLight light)
    {
        if (handlesEnd is { } end && HeelCorner.AtHandlesEnd(line, light, end, outline[0], AnyCorner, LightAt) is { } before)
            return Begun(before, before.Seen.ShowsItsSide ? AtEndMm : HeelUncertainty.LeastMm);
        foreach (Point2 at in (Point2[])[outline[heelAt], line[0]])
        {
            if (HeelCorner.WithoutFace(line, light, at, outline[0], AnyCorner, LightAt) is { } begun)
                return Begun(begun, HeelUncertainty.LeastMm);
        }

        return null;

        (Point2[], double) Begun((SeenTip Seen, Point2[] Line) at, double leastU)
        {
            Corner = at.Seen;
            return (at.Line, Math.Max(leastU, CornerU(at.Seen)));
        }
    }

    private static double CornerU(SeenTip corner) => Math.Sqrt((corner.UMm * corner.UMm) + (SettingMm * SettingMm));
}
