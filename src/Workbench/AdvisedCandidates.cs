using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Core.Visits;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Records.Pieces;
using Whetwright.Records.Standing;

namespace Whetwright.Workbench;

/// <summary>The candidates with two more, a thinner and a stronger edge, and what the piece's own history says of each. The person decides.</summary>
public static class AdvisedCandidates
{
    /// <summary>Found, last time, house rule; thinner and stronger than the first of them, where such an edge can be.</summary>
    public static IReadOnlyList<Candidate> For(Blade blade, SidePair? found, AimChosen? last, IEnumerable<HouseRule> rules, Piece piece, double chipMm, double toleranceDeg, SteelData? steel = null)
    {
        List<Candidate> all = [.. Candidates.For(blade, found, last, rules, piece, chipMm, toleranceDeg)];
        if (all.Count > 0)
        {
            SidePair start = all[0].Angles;
            Side? back = Back(start);
            if (EdgeAdvice.Thinner(start, blade.PrimaryHalf?.Degrees ?? 0, back) is { } thinner)
                all.Add(Candidates.Weigh(blade, found, thinner, TargetSource.Thinner, "thinner", toleranceDeg, null, chipMm));
            if (EdgeAdvice.Stronger(start, back) is { } stronger)
                all.Add(Candidates.Weigh(blade, found, stronger, TargetSource.Stronger, "stronger", toleranceDeg, null, chipMm));
        }

        return steel is null ? all : [.. all.Select(c => c with { Steel = steel })];
    }

    /// <summary>What history and cost say of a candidate, in words; a complaint with the owner's own.</summary>
    /// <param name="card">The candidate.</param>
    /// <param name="found">As found; null where not known.</param>
    /// <param name="history">Edges of the piece before, the newest first.</param>
    public static IReadOnlyList<Reason> Reasons(Candidate card, SidePair? found, IReadOnlyList<EdgeBefore> history)
    {
        Side? back = Back(card.Angles);
        EdgeAdvice advice = EdgeAdvice.Of(
            card.Angles, found, card.Cost,
            [.. history.Select(e => new EdgeTried(new(DateTime.SpecifyKind(e.At, DateTimeKind.Utc)), new(e.LeftDeg, e.RightDeg), e.CameAgain, e.NextChipMm ?? 0, e.Complaint is not null))], card.Steel, back);
        List<Reason> said = [.. advice.Reasons.Where(r => r.Code is not ("cost-not-known" or "complaint-at-this-angle"))];
        double deg = Math.Max(card.Angles.LeftDeg, card.Angles.RightDeg);
        said.InsertRange(0, history.Where(e => e.Complaint is not null && Math.Abs(e.Deg - deg) <= EdgeAdvice.AlikeDeg).Take(2)
            .Select(e => new Reason("complaint-at-this-angle", FormattableString.Invariant($"A complaint came after it had {e.Deg:0.#}° ({e.At:yyyy-MM-dd}): “{e.Complaint}”."))));
        if (advice.TriedAlike == 0 && !history.Any(e => Math.Abs(e.Deg - deg) <= EdgeAdvice.AlikeDeg))
            said.Add(new("not-tried", "This piece was not ground at about this angle before."));
        return said;
    }

    /// <summary>The side that is the back: the one with no angle.</summary>
    private static Side? Back(SidePair angles) => angles.LeftDeg <= 0 ? Side.Left : angles.RightDeg <= 0 ? Side.Right : null;
}
