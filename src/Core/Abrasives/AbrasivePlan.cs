using Whetwright.Core.Quantities;

namespace Whetwright.Core.Abrasives;

/// <summary>An abrasive that the shop owns.</summary>
/// <param name="Name">For people; unique.</param>
/// <param name="D50Um">Median grain, µm.</param>
/// <param name="Rate">Area per pass and side.</param>
/// <param name="ChangeMinutes">Minutes to change to it.</param>
public sealed record OwnedAbrasive(string Name, double D50Um, CuttingRate Rate, double ChangeMinutes)
{
    /// <summary>What heat and burr need on it; null where its form is not told.</summary>
    public Sections.StageMedium? Medium { get; init; }

    /// <summary>The wheel it is on, for the check of its speed; null where it is none.</summary>
    public Fixtures.Wheel? Wheel { get; init; }
}

/// <summary>What the chain must do.</summary>
/// <param name="LeftMm2">Area to take off the left, mm²; 0 where that side is not ground.</param>
/// <param name="RightMm2">Area to take off the right.</param>
/// <param name="FinishD50Um">The last stage must be this fine or finer.</param>
/// <param name="MaxRatio">No step may be finer than this ratio of the grain before it; above 1.</param>
public sealed record AbrasiveTask(double LeftMm2, double RightMm2, double FinishD50Um, double MaxRatio)
{
    /// <summary>Scratches already there come from this grain; null: none deeper than the shape takes.</summary>
    public double? FromD50Um { get; init; }

    /// <summary>Width of the facet on the left, mm; null for <see cref="AbrasivePlanner.UsualFacetMm"/>.</summary>
    public double? LeftFacetMm { get; init; }

    /// <summary>Width of the facet on the right.</summary>
    public double? RightFacetMm { get; init; }

    /// <summary>Minutes for one pass; null for <see cref="AbrasivePlanner.UsualPassMinutes"/>.</summary>
    public double? PassMinutes { get; init; }
}

/// <summary>One stage of the chain.</summary>
/// <param name="Abrasive">With what.</param>
/// <param name="CutLeftMm2">Area it takes off the left.</param>
/// <param name="CutRightMm2">Area it takes off the right.</param>
/// <param name="PassesLeft">Passes on the left, at the median rate.</param>
/// <param name="PassesRight">Passes on the right.</param>
/// <param name="PassesRange">Fewest and most passes per side that the rate's 95 % interval allows, over the larger side.</param>
/// <param name="Minutes">Change and passes.</param>
public sealed record AbrasiveStage(
    OwnedAbrasive Abrasive, double CutLeftMm2, double CutRightMm2, int PassesLeft, int PassesRight, (int Fewest, int Most) PassesRange, double Minutes)
{
    /// <summary>When to stop and look.</summary>
    public IReadOnlyList<StageStop> Stops { get; init; } = [];
}

/// <summary>The chain of least time.</summary>
/// <param name="Stages">In order; empty where refused.</param>
/// <param name="Minutes">Total.</param>
/// <param name="MinutesRange">With every rate at the ends of its 95 % interval: wider than a 95 % interval of the total.</param>
/// <param name="Refusals">Why there is no chain.</param>
/// <param name="Notes">Guesses and defaults, burr, pen test, heat.</param>
public sealed record AbrasivePlan(
    IReadOnlyList<AbrasiveStage> Stages, double Minutes, (double Least, double Most) MinutesRange, IReadOnlyList<Reason> Refusals, IReadOnlyList<Reason> Notes);
