using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>What is wrong with a profile, and from where it is put right.</summary>
public enum ProfileRepair
{
    /// <summary>Point broken off; the spine is brought down to the edge, which stays as it is.</summary>
    BrokenTipFromSpine = 0,

    /// <summary>Point broken off; the edge is swept up to the spine.</summary>
    BrokenTipFromEdge = 1,

    /// <summary>A full bolster stands proud of the edge and keeps it off the board; it is ground back.</summary>
    FullBolster = 2,

    /// <summary>The heel was ground away and rounds off; the edge ahead of it is brought down to a straight run from the heel.</summary>
    OverGroundHeel = 3,

    /// <summary>A hollow in the edge leaves a gap to the board; the edge on both sides is brought down to its deepest place.</summary>
    BoardGap = 4,

    /// <summary>A chip is run out: the whole edge goes back to its root in the same curve.</summary>
    ChipRunOut = 5,
}

/// <summary>
/// An outline to repair, in the blade frame: x from heel to tip, y outward, steel at lower y. Numbers that a repair does not use may be left out.
/// </summary>
/// <param name="Repair">What to do.</param>
/// <param name="EdgeMm">The old edge, heel to tip, x rising from point to point.</param>
/// <param name="HeightMm">Height of the blade at the heel; without <c>SpineMm</c> the spine is taken as straight, along x, at that depth under the heel.</param>
public sealed record ReshapeInput(ProfileRepair Repair, IReadOnlyList<Point2> EdgeMm, double HeightMm)
{
    /// <summary>The spine, heel to tip, x rising; null takes it as straight.</summary>
    public IReadOnlyList<Point2>? SpineMm { get; init; }

    /// <summary>Thickness behind the edge.</summary>
    public double BehindEdgeMm { get; init; } = 0.3;

    /// <summary>Thickness at the spine.</summary>
    public double SpineThicknessMm { get; init; } = 2;

    /// <summary>
    /// Where the new curve starts (broken tip: this far along x the old edge or spine is left), where the bolster ends, or where the straight run from
    /// the heel meets the old edge.
    /// </summary>
    public double? AtMm { get; init; }

    /// <summary>Chip: its place along x.</summary>
    public double? ChipAtMm { get; init; }

    /// <summary>Chip: its depth square to the edge.</summary>
    public double? ChipDepthMm { get; init; }

    /// <summary>Bolster: how far under the edge line it shall lie.</summary>
    public double BolsterClearanceMm { get; init; } = 1;

    /// <summary>Bolster: its thickness, the same all over; null counts it as thick as the blade.</summary>
    public double? BolsterThicknessMm { get; init; }

    /// <summary>Steel that the shop's own tool takes off in a minute; null takes the default range.</summary>
    public double? RemovalMm3PerMinute { get; init; }

    /// <summary>Slowest removal by default, 20 mm³ a minute: a labelled guess for a coarse stone by hand. Chosen, not derived.</summary>
    public const double SlowestMm3PerMinute = 20;

    /// <summary>Fastest removal by default, 300 mm³ a minute: a labelled guess for a coarse belt. Chosen, not derived.</summary>
    public const double FastestMm3PerMinute = 300;
}

/// <summary>How far the new edge lies from one place of the old.</summary>
/// <param name="AtMm">Place along x.</param>
/// <param name="GapMm">Shortest distance from the old edge there to the new one.</param>
public readonly record struct EdgeGap(double AtMm, double GapMm);

/// <summary>The new outline and what it takes.</summary>
/// <param name="EdgeMm">New edge, heel to tip.</param>
/// <param name="SpineMm">New spine, heel to tip.</param>
/// <param name="Gaps">Gap at each station of the old edge.</param>
/// <param name="RemovedMm2">Area between the outlines.</param>
/// <param name="RemovedMm3">Steel, thickness running straight from behind the edge to the spine.</param>
/// <param name="MinutesFrom">Least time at the fastest removal.</param>
/// <param name="MinutesTo">Most time at the slowest.</param>
/// <param name="LengthLostMm">How much shorter the blade gets along x.</param>
/// <param name="Notes">Guesses that entered, and what to mind at the bench.</param>
public sealed record ReshapeResult(
    IReadOnlyList<Point2> EdgeMm,
    IReadOnlyList<Point2> SpineMm,
    IReadOnlyList<EdgeGap> Gaps,
    double RemovedMm2,
    double RemovedMm3,
    double MinutesFrom,
    double MinutesTo,
    double LengthLostMm,
    IReadOnlyList<Reason> Notes)
{
    /// <summary>Largest gap.</summary>
    public double WorstGapMm => Gaps.Max(gap => gap.GapMm);
}

/// <summary>What came of a repair.</summary>
public abstract record ReshapeOutcome
{
    private ReshapeOutcome()
    {
    }

    /// <summary>The repair.</summary>
    public sealed record Repaired(ReshapeResult Result) : ReshapeOutcome;

    /// <summary>No such repair: why, and what to do.</summary>
    public sealed record Refused(IReadOnlyList<Reason> Reasons) : ReshapeOutcome;
}
