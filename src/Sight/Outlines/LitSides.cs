using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Which of the two long sides is the edge, by the paper beside both: each is taken for it in turn, and the light sought that explains edge and spine together. The edge is thin
/// and floats; the spine is thick and lies on the mat, or is lifted with the edge; their shadows in one room differ by that. The steel tells nothing here: streaks and
/// stains outvote the shadows, and a spine has no bevel to be explained by.
/// </summary>
/// <param name="Low">The low side taken for the edge.</param>
/// <param name="High">The high side taken for the edge.</param>
internal sealed record LitSides(LitSides.Taken Low, LitSides.Taken High)
{
    /// <summary>Odds (logarithm) by what else is seen above which this is not asked: two searches of a light cost seconds. Chosen.</summary>
    public const double SureOdds = 4;

    /// <summary>Nor is it asked where nothing else tells so much: alone it does not decide. Chosen.</summary>
    public const double LeastOdds = 0.3;

    /// <summary>A difference less than this tells nothing, and is taken off a greater one: below it the comparison was right hardly more often than wrong.</summary>
    private const double Alike = 0.2;

    /// <summary>Odds for each unit by which one side's paper is explained the better, and how far they are trusted at most. Weighed on rendered blades (bench/Outlines).</summary>
    private const double Weight = 3.5, MostOdds = 2.5;

    /// <summary>A side taken for the edge.</summary>
    /// <param name="Misfit">How badly the light explains the paper beside both sides (<see cref="EdgeLightFit.PaperMisfit"/>).</param>
    /// <param name="Line">Its line under that light.</param>
    public sealed record Taken(double Misfit, Point2[] Line)
    {
        /// <summary>How the line was found, kept so that it need not be found again.</summary>
        public Search? By { get; init; }

        /// <summary>The same where it was found with this height; null where with another.</summary>
        public Search? At(KnownHeight? known) => By is { } by && by.Known == known ? by : null;
    }

    /// <summary>How a line was found.</summary>
    /// <param name="Side">The side as the outline has it.</param>
    /// <param name="Known">The edge's height.</param>
    /// <param name="OutwardMm">How far outward of the side each section has the line.</param>
    /// <param name="Sections">The light, and how well it explains the sections.</param>
    public sealed record Search(SmoothEdge Side, KnownHeight Known, double[] OutwardMm, EdgeSections Sections);

    /// <summary>Logarithm of the odds that the high side is the edge.</summary>
    public double EdgeHigh
    {
        get
        {
            double better = Low.Misfit - High.Misfit;
            return Math.Clamp(Weight * (better - Math.Clamp(better, -Alike, Alike)), -MostOdds, MostOdds);
        }
    }

    /// <summary>What was found along a side when it was taken for the edge; null of another side.</summary>
    public Taken? Of(SmoothEdge side) => ReferenceEquals(Low.By?.Side, side) ? Low : ReferenceEquals(High.By?.Side, side) ? High : null;

    /// <summary>Takes each side for the edge; null where one is too short for a light.</summary>
    /// <param name="low">The low side as the outline has it.</param>
    /// <param name="high">The high side.</param>
    /// <param name="sampler">The photo, its sharpening undone.</param>
    /// <param name="map">Mat to photo.</param>
    /// <param name="blurPx">The camera's blur.</param>
    /// <param name="camera">Where the camera stood.</param>
    /// <param name="outline">The whole outline.</param>
    /// <param name="known">The edge's height.</param>
    /// <param name="lifted">Whether a handle lifts the blade.</param>
    /// <param name="spineMm">The spine's thickness where it was told.</param>
    public static LitSides? Of(SmoothEdge low, SmoothEdge high, PhotoSampler sampler, LensMap map, double blurPx, MatCamera camera, RefinedOutline outline, KnownHeight known, bool lifted, double? spineMm)
    {
        return Take(low) is { } asLow && Take(high) is { } asHigh ? new(asLow, asHigh) : null;

        Taken? Take(SmoothEdge side)
        {
            if (new LitSpine(sampler, map, blurPx, camera, outline, side, lifted, spineMm).Side(known) is not { } spine)
                return null;
            Point2[] path = Contour.Open([.. side.Points()], 0.5 * outline.PixelMm);
            var sections = new EdgeSections(sampler, map, blurPx, camera, known, spine);
            (Point2[] line, double[] outwardMm) = sections.Line(path, OutlineView.Inward(path, side.Outward), outline.PixelMm);
            return sections.PaperMisfit is { } misfit ? new(misfit, line) { By = new(side, known, outwardMm, sections) } : null;
        }
    }
}
