using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <content>The heel where the steel itself shows its end.</content>
internal sealed partial class LitEnds
{
    /// <summary>Steel that ends nearer to the supposed heel than this ends there, mm; from a heel that the outline alone tells, nearer than the second. Chosen.</summary>
    private const double FromHeelMm = 0.5, FromOutlinesMm = 0.2;

    /// <summary>A corner so near to where steel ends, along the edge, is its own, one that the photo shows very surely so near, and none lies further off than this, mm. Chosen.</summary>
    private const double AtEndMm = 0.4, AtSureEndMm = 0.7, VerySureMm = 0.15, FarthestCornerMm = 1;

    /// <summary>Bevel and flank that end together, or steel that was seen to end there twice, bear out a corner that leaves so many times more unexplained. Chosen.</summary>
    private const double BornOutTwice = 2;

    /// <summary>So far inside the steel's end the line may still be bent by what lies beyond, mm. Chosen.</summary>
    private const double BentMm = 3;

    /// <summary>Steel supposed to go on by more than this beyond where the outline has the heel must be seen there, unless bevel and flank both end there, mm. Chosen.</summary>
    private const double FarBeyondMm = 1.5;

    private Point2? _steelsEnd;

    /// <summary>
    /// The line begun where the steel itself shows its end: bevel and flank stop together there, or one of them does and the photo around shows the heel's corner at the same place. Null
    /// where it ends where it was supposed, or is not seen so plainly; then the place is kept for the line to be found anew without what lies beyond it.
    /// </summary>
    private (Point2[] Line, double HeelUMm)? SteelEnds(Point2[] line, EdgeLight light, HeelFace? at, StraightLine? faceLine, Point2? supposed)
    {
        Vector2 forward = at?.Forward ?? (line[line.Length / 12] - line[0]).Normalized();
        Vector2 up = faceLine?.Direction ?? new(-forward.Y, forward.X);
        if (up.Dot(outline[0] - line[line.Length / 2]) < 0)
            up *= -1;
        double[] ends = [.. SteelEnd.Along(LightAt, line[0], forward, up, sigmaPx * pixelMm)];
        bool both = ends.Length == 2 && Math.Abs(ends[0] - ends[1]) < AtEndMm;
        double near = Corner is null && Heel is null ? FromOutlinesMm : FromHeelMm;
        foreach (double ahead in both ? [ends.Average()] : ends)
        {
            Point2 end = line[0] + (forward * ahead);
            bool again = supposed is { } first && Math.Abs((first - end).Dot(forward)) < FromHeelMm;
            Point2[] left = ahead <= 0 ? line : [.. line.SkipWhile(p => (p - end).Dot(forward) < BentMm)];
            if ((Math.Abs(ahead) < near && !again) || HeelCorner.Extended(left, end) is not { } reaching)
                continue;
            SeenTip? seen = Corner is { } known && known.Place.DistanceTo(reaching[0]) < AtEndMm ? known
                : at is { } face && faceLine is not null ? HeelCorner.Of(reaching, light, face, [new(reaching[0], up)], outline[0], l => new(sampler, map, sigmaPx, pixelMm, camera, l), shown: true)
                : HeelCorner.WithoutFace(left, light, end, outline[0], AnyCorner, LightAt, shown: both || again || ahead > -FarBeyondMm)?.Seen;
            if (seen is not null && IsAt(reaching[0], seen, forward, both || again) && (both || again || !Doubted(seen, faceLine)) && seen.Ended([.. reaching.Reverse()]) is { } ended)
            {
                (_steelsEnd, Corner) = (null, seen);
                return ([.. ended.Reverse()], Math.Max(CornerU(seen), seen.ShowsItsSide ? AtEndMm : HeelUncertainty.LeastMm));
            }

            if (both)
                return (reaching, AtEndMm);
            if (ahead > 0)
                _steelsEnd ??= reaching[0];
        }

        return null;
    }

    /// <summary>Whether the heel's own face and corner were found under the light in one place, and the corner explains more than another: then that may be a stain's.</summary>
    private bool Doubted(SeenTip other, StraightLine? faceLine) =>
        Heel is not null && faceLine is { } line && Corner is { } known && IsDoubted(known, Math.Abs((known.Place - line.At).Cross(line.Direction)), other);

    /// <summary>The same of a corner so far from the face's line.</summary>
    internal static bool IsDoubted(SeenTip known, double fromFaceMm, SeenTip other) => fromFaceMm < AtEndMm && known.UMm < VerySureMm && other.MisfitShare > known.MisfitShare;

    /// <summary>Whether a corner is the one where steel was seen to end.</summary>
    /// <param name="end">Where steel ends.</param>
    /// <param name="seen">The corner.</param>
    /// <param name="forward">Along the edge.</param>
    /// <param name="plain">Whether steel's end is seen plainly.</param>
    internal static bool IsAt(Point2 end, SeenTip seen, Vector2 forward, bool plain) =>
        seen.UMm < SeenTip.DoubtfulMm && seen.MisfitShare < (plain ? BornOutTwice : 1) * SeenTip.UnexplainedShare && seen.Place.DistanceTo(end) < FarthestCornerMm
        && Math.Abs((seen.Place - end).Dot(forward)) < (seen.UMm < VerySureMm ? AtSureEndMm : AtEndMm);
}
