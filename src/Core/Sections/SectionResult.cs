using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>Which requirement set the recession.</summary>
public enum RecessionCause
{
    /// <summary>Nothing has to go.</summary>
    Nothing = 0,

    /// <summary>It was given.</summary>
    Given = 1,

    /// <summary>The land and the burr allowance.</summary>
    Land = 2,

    /// <summary>The root of the chip and its margin.</summary>
    Chip = 3,

    /// <summary>The depth of blued steel.</summary>
    BluedSteel = 4,

    /// <summary>The width of the micro-bevel.</summary>
    MicroBevel = 5,

    /// <summary>That nothing of the old facet be left.</summary>
    FullFacet = 6,
}

/// <summary>One side of the section, before and after.</summary>
/// <param name="FacetWidthMm">New facet: straight distance from the new apex (or the land's corner, where a land stays) to where it ends on the old facet or the flank.</param>
/// <param name="OldFacetWidthMm">Old facet as found: straight distance from the land's corner to the shoulder.</param>
/// <param name="OldFacetLeftMm">What stays of the old facet above the new one; zero where the new one takes it all.</param>
/// <param name="RemovedMm2">Area taken off on this side of the mid-plane. What wore off before is not counted.</param>
/// <param name="ShoulderMm">Height of the shoulder over the old virtual apex, after.</param>
/// <param name="ShoulderDeg">Angle of the new facet at its upper end; for a flat facet the same as at the apex.</param>
/// <param name="ChordDeg">Angle of the straight line from apex to shoulder.</param>
/// <param name="SagittaMm">Depth of a hollow (positive) or height of a convex (negative) facet against that line; zero for a flat one.</param>
public sealed record SectionSide(
    double FacetWidthMm,
    double OldFacetWidthMm,
    double OldFacetLeftMm,
    double RemovedMm2,
    double ShoulderMm,
    double ShoulderDeg,
    double ChordDeg,
    double SagittaMm);

/// <summary>How much thicker the piece gets behind its edge for each millimetre of height that it loses.</summary>
/// <param name="FixedHeight">At a fixed height over the spine line, mm per mm.</param>
/// <param name="Shoulder">At the shoulder of the facets, which climbs as the edge recedes, mm per mm.</param>
public sealed record ThicknessGrowth(double FixedHeight, double Shoulder);

/// <summary>
/// The section to scale, millimetres. X to the blade's right and Y from the old virtual apex toward the spine: as one sees the blade
/// edge down and tip away, with Y up. Polygons are open lists (the last point joins the first); arcs come as short chords.
/// </summary>
/// <param name="Before">As found, the land cut off square.</param>
/// <param name="After">As it will be.</param>
/// <param name="RemovedLeft">What goes on the left, in one or more polygons.</param>
/// <param name="RemovedRight">What goes on the right.</param>
public sealed record SectionOutline(
    IReadOnlyList<Point2> Before,
    IReadOnlyList<Point2> After,
    IReadOnlyList<IReadOnlyList<Point2>> RemovedLeft,
    IReadOnlyList<IReadOnlyList<Point2>> RemovedRight);

/// <summary>What a change of section takes, and what it leaves.</summary>
/// <param name="Input">What it was computed from.</param>
/// <param name="RecessionMm">Recession r of the apex from the old virtual apex.</param>
/// <param name="Cause">What set it.</param>
/// <param name="LandRecessionMm">Where the land lies over the virtual apex: this much of r was worn away before.</param>
/// <param name="FullRecessionMm">Least recession at which nothing of either old facet is left; zero where no new facet is steeper.</param>
/// <param name="Left">Left side.</param>
/// <param name="Right">Right side.</param>
/// <param name="RemovedMm3">Both areas over the length.</param>
/// <param name="RemovedMg">Mass.</param>
/// <param name="LandLeftMm">Width of the blunt strip that stays; zero for a clean apex.</param>
/// <param name="BehindEdgeAfterMm">Thickness behind the edge after: the two half-thicknesses at the shoulders added.</param>
/// <param name="HeightLostMm">Height that this job takes from today's edge.</param>
/// <param name="HeightLeftMm">Height after it, where the height is known.</param>
/// <param name="GrowthPerMm">Growth of the thickness behind the edge.</param>
/// <param name="VisitsUntilThinning">Whole visits left before the thickness behind the edge passes the limit; null where the flanks are parallel (never).</param>
/// <param name="Outline">Polygons to draw.</param>
/// <param name="Notes">What the numbers do not show by themselves, and what was taken as a default.</param>
public sealed record SectionResult(
    SectionInput Input,
    double RecessionMm,
    RecessionCause Cause,
    double LandRecessionMm,
    double FullRecessionMm,
    SectionSide Left,
    SectionSide Right,
    double RemovedMm3,
    double RemovedMg,
    double LandLeftMm,
    double BehindEdgeAfterMm,
    double HeightLostMm,
    double? HeightLeftMm,
    ThicknessGrowth GrowthPerMm,
    int? VisitsUntilThinning,
    SectionOutline Outline,
    IReadOnlyList<Reason> Notes)
{
    /// <summary>One side of it.</summary>
    public SectionSide this[Side side] => side == Side.Left ? Left : Right;
}

/// <summary>What came of the question: numbers, or why there are none.</summary>
public abstract record SectionOutcome
{
    private SectionOutcome()
    {
    }

    /// <summary>The numbers.</summary>
    public sealed record Computed(SectionResult Result) : SectionOutcome;

    /// <summary>No such section: what is wrong and what to do.</summary>
    public sealed record Refused(IReadOnlyList<Reason> Reasons) : SectionOutcome;
}
