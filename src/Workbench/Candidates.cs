using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Core.Visits;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;

namespace Whetwright.Workbench;

/// <summary>An edge to choose.</summary>
/// <param name="Source">Where it comes from.</param>
/// <param name="Name">In words: "as found", "as last time", the rule's name.</param>
/// <param name="Angles">Per blade side; 0 on a back.</param>
/// <param name="ToleranceDeg">Tolerance.</param>
/// <param name="MicroDeg">Micro-bevel; null for none.</param>
/// <param name="Cost">What it takes; null where the section cannot be computed.</param>
/// <param name="WhyNoCost">Why not, and what to measure.</param>
public sealed record Candidate(
    TargetSource Source, string Name, SidePair Angles, double ToleranceDeg, double? MicroDeg, SectionResult? Cost, IReadOnlyList<Reason> WhyNoCost)
{
    /// <summary>New against old; null without a cost.</summary>
    public EdgeRatios? Ratios => Cost is null ? null : EdgeRatios.Of(Cost.Input.Old, Cost.Input.New, steel: Steel);

    /// <summary>The steel, where it is known: for the life.</summary>
    public SteelData? Steel { get; init; }
}

/// <summary>The edges a person can choose from, each with what it costs.</summary>
public static class Candidates
{
    /// <summary>Name and version of the method behind the costs.</summary>
    public const string Method = "sections.clip/1";

    /// <summary>Found, last time, the first house rule that fits.</summary>
    /// <param name="blade">The piece.</param>
    /// <param name="found">Angles found per blade side; null where not known.</param>
    /// <param name="last">The last visit's aim; null for none.</param>
    /// <param name="rules">House rules.</param>
    /// <param name="piece">The piece's row, for the rules.</param>
    /// <param name="chipMm">Deepest chip.</param>
    /// <param name="toleranceDeg">The shop's tolerance.</param>
    public static IReadOnlyList<Candidate> For(Blade blade, SidePair? found, AimChosen? last, IEnumerable<HouseRule> rules, Piece piece, double chipMm, double toleranceDeg)
    {
        List<Candidate> all = [];
        if (found is not null)
            all.Add(Weigh(blade, found, found, TargetSource.Found, "as found", toleranceDeg, null, chipMm));
        if (last is not null)
            all.Add(Weigh(blade, found, new(last.LeftDeg, last.RightDeg), TargetSource.LastTime, "as last time", last.ToleranceDeg, last.MicroDeg, chipMm));
        if (Rule(rules, piece) is { } rule)
            all.Add(Weigh(blade, found, BothSides(blade, rule.AngleDeg), TargetSource.HouseRule, rule.Name, rule.ToleranceDeg, rule.MicroDeg, chipMm));
        return all;
    }

    /// <summary>The first house rule that fits the piece.</summary>
    public static HouseRule? Rule(IEnumerable<HouseRule> rules, Piece piece) => rules.OrderBy(r => r.Order).FirstOrDefault(r =>
        (r.Kind is null || r.Kind == piece.Kind)
        && (r.FromLengthMm is null || piece.LengthMm >= r.FromLengthMm)
        && (r.ToLengthMm is null || piece.LengthMm < r.ToLengthMm));

    /// <summary>The same angle on every side that is ground; 0 on a back.</summary>
    public static SidePair BothSides(Blade blade, double angleDeg) =>
        blade.Reference != AngleReference.Back ? new(angleDeg, angleDeg)
        : (blade.Hand ?? Side.Right) == Side.Right ? new(0, angleDeg) : new(angleDeg, 0);

    /// <summary>One choice with what it costs.</summary>
    /// <param name="blade">The piece.</param>
    /// <param name="found">Angles found per blade side; null where not known.</param>
    /// <param name="wanted">Angles wanted.</param>
    /// <param name="source">Where it comes from.</param>
    /// <param name="name">In words.</param>
    /// <param name="toleranceDeg">Tolerance.</param>
    /// <param name="microDeg">Micro-bevel; null for none.</param>
    /// <param name="chipMm">Deepest chip.</param>
    /// <param name="until">What a steeper facet is ground for; null for a clean apex.</param>
    /// <param name="microWidthMm">Width of a micro-bevel that the steeper facet shall be; null for none.</param>
    public static Candidate Weigh(
        Blade blade, SidePair? found, SidePair wanted, TargetSource source, string name, double toleranceDeg, double? microDeg, double chipMm, GrindUntil? until = null, double? microWidthMm = null)
    {
        (SectionResult? cost, IReadOnlyList<Reason> why, _) = VisitSection.Of(
            blade, found, wanted, null, new() { ChipMm = chipMm, Until = until, MicroWidthMm = microWidthMm });
        return new(source, name, wanted, toleranceDeg, microDeg, cost, cost is null ? why : [.. why, .. cost.Notes]);
    }
}
