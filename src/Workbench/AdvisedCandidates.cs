using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;
using Whetwright.Records.Standing;

namespace Whetwright.Workbench;

/// <summary>The candidates with two more, a thinner and a stronger edge, and what the piece's own history says of each. The person decides.</summary>
public static class AdvisedCandidates
{
    /// <summary>2° per side thinner or stronger than where the choice starts (chosen, not derived).</summary>
    public const double StepDeg = 2;

    /// <summary>A thinner edge stays this much steeper than the primary grind, degrees (chosen, not derived).</summary>
    public const double OverPrimaryDeg = 3;

    /// <summary>Edges within this of each other are taken as alike when the history is asked, degrees (chosen, not derived).</summary>
    public const double AlikeDeg = 0.75;

    /// <summary>Found, last time, house rule; thinner and stronger than the first of them.</summary>
    public static IReadOnlyList<Candidate> For(Blade blade, SidePair? found, AimChosen? last, IEnumerable<HouseRule> rules, Piece piece, double chipMm, double toleranceDeg, SteelData? steel = null)
    {
        List<Candidate> all = [.. Candidates.For(blade, found, last, rules, piece, chipMm, toleranceDeg)];
        if (all.Count > 0)
        {
            Candidate start = all[0];
            double least = (blade.PrimaryHalf?.Degrees ?? 0) + OverPrimaryDeg;
            if (Math.Max(start.Angles.LeftDeg, start.Angles.RightDeg) - StepDeg >= least)
                all.Add(Candidates.Weigh(blade, found, Turned(start.Angles, -StepDeg), TargetSource.Thinner, "thinner", toleranceDeg, null, chipMm));
            all.Add(Candidates.Weigh(blade, found, Turned(start.Angles, StepDeg), TargetSource.Stronger, "stronger", toleranceDeg, null, chipMm));
        }

        return steel is null ? all : [.. all.Select(c => c with { Steel = steel })];
    }

    /// <summary>What the history and the cost say of a candidate, in words, the weightiest first.</summary>
    /// <param name="card">The candidate.</param>
    /// <param name="history">Edges of the piece before, the newest first.</param>
    /// <param name="chipNowMm">Deepest chip it has now; 0 for none.</param>
    public static IReadOnlyList<Reason> Reasons(Candidate card, IReadOnlyList<EdgeBefore> history, double chipNowMm)
    {
        double deg = Math.Max(card.Angles.LeftDeg, card.Angles.RightDeg);
        List<Reason> said = [];
        EdgeBefore[] alike = [.. history.Where(e => Math.Abs(e.Deg - deg) <= AlikeDeg)];
        EdgeBefore[] came = [.. alike.Where(e => e.CameAgain)];
        int chipped = came.Count(e => e.NextChipMm > 0);
        foreach (EdgeBefore about in alike.Where(e => e.Complaint is not null).Take(2))
            said.Add(new("complaint", FormattableString.Invariant($"A complaint came after it had {about.Deg:0.#}° ({about.At:yyyy-MM-dd}): “{about.Complaint}”.")));
        if (chipped > 0)
            said.Add(new("chipped", FormattableString.Invariant($"At about {deg:0.#}° it came back chipped {chipped} of {came.Length} times, by {came.Max(e => e.NextChipMm ?? 0):0.##} mm at worst.")));
        else if (came.Length > 0)
            said.Add(new("held", FormattableString.Invariant($"At about {deg:0.#}° it came back {came.Length} time(s) without a chip.")));
        else if (alike.Length == 0)
            said.Add(new("not-tried", "This piece was not ground at about this angle before."));
        if (history.Where(e => e.NextChipMm > 0 && e.Deg > deg + AlikeDeg).OrderByDescending(e => e.Deg).FirstOrDefault() is { } steeper)
            said.Add(new("chipped-steeper", FormattableString.Invariant($"It chipped at {steeper.Deg:0.#}° already, which is stronger than this.")));
        if (chipNowMm > 0 && history is [var latest, ..] && deg > latest.Deg + AlikeDeg)
            said.Add(new("chip-now", FormattableString.Invariant($"It came with a chip of {chipNowMm:0.##} mm from {latest.Deg:0.#}°: stronger than that is the usual answer (common practice, no source).")));
        if (card.Cost is { } cost)
        {
            if (cost.VisitsUntilThinning is <= 3 and var visits)
                said.Add(new("thin-soon", visits <= 0 ? "It must be thinned first, or at once after." : FormattableString.Invariant($"Only {visits} visit(s) are left until it must be thinned.")));
            double old = Math.Max(cost.Left.OldFacetWidthMm, cost.Right.OldFacetWidthMm), made = Math.Max(cost.Left.FacetWidthMm, cost.Right.FacetWidthMm);
            if (old > 0 && made > 1.3 * old)
                said.Add(new("wide-facet", FormattableString.Invariant($"The facet grows from {old:0.##} to {made:0.##} mm: more steel, more time, and it shows.")));
        }

        return said;
    }

    /// <summary>Both ground sides turned; a back stays.</summary>
    private static SidePair Turned(SidePair from, double by) => new(from.LeftDeg > 0 ? Math.Max(1, from.LeftDeg + by) : 0, from.RightDeg > 0 ? Math.Max(1, from.RightDeg + by) : 0);
}
