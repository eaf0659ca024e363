using Whetwright.Core.Blades;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Records.Standing;

namespace Whetwright.Workbench.Gauges;

/// <summary>When a piece will want grinding again.</summary>
/// <param name="Piece">The piece.</param>
/// <param name="Days">Days between its visits: expected, with the interval that holds the next with 95 %.</param>
/// <param name="Loss">Height it loses at a visit, mm.</param>
/// <param name="Last">When it came last, UTC.</param>
public sealed record Reminder(PieceComing Piece, UsualAmount Days, UsualAmount Loss, DateTime Last)
{
    /// <summary>The day to remind of.</summary>
    public DateTime Due => Last.AddDays(Days.Median);

    /// <summary>Earliest of the interval.</summary>
    public DateTime From => Last.AddDays(Days.From);

    /// <summary>Latest of the interval.</summary>
    public DateTime To => Last.AddDays(Days.To);

    /// <summary>What it was learnt from.</summary>
    public string Origin => Days.IsGuess ? "a guess: nothing of its kind has come twice yet"
        : Days.Own == 0 ? FormattableString.Invariant($"from {Days.OfKind} intervals of its kind")
        : FormattableString.Invariant($"from {Days.Own} of its own and {Days.OfKind - Days.Own} of its kind; its own count for {100 * Days.OwnShare:0} %");
}

/// <summary>Service intervals from the pieces' own histories.</summary>
public static class Reminders
{
    /// <summary>A piece that has stayed away for more than three times its interval's upper end is not reminded of any more (chosen, not derived): it is gone.</summary>
    public const double GivenUpAfter = 3;

    /// <summary>Pieces that are not here, those due first.</summary>
    /// <param name="pieces">From the book.</param>
    /// <param name="now">Now, UTC.</param>
    public static IReadOnlyList<Reminder> Of(IReadOnlyList<PieceComing> pieces, DateTime now)
    {
        UsualAmounts days = UsualAmounts.Learn(pieces.Select(p => new AmountHistory(Key(p), p.Kind.Key(), Gaps(p))), AmountPrior.Days);
        UsualAmounts losses = UsualAmounts.Learn(pieces.Select(p => new AmountHistory(Key(p), p.Kind.Key(), p.LossesMm)), AmountPrior.LossMm);
        return
        [
            .. pieces.Where(p => !p.Here && p.Visits.Count > 0)
                .Select(p => new Reminder(p, days.Next(Key(p), p.Kind.Key()), losses.Next(Key(p), p.Kind.Key()), p.Visits[^1]))
                .Where(r => (now - r.Last).TotalDays <= GivenUpAfter * r.Days.To)
                .OrderBy(r => r.Due),
        ];
    }

    /// <summary>Days from visit to visit, one at least.</summary>
    private static double[] Gaps(PieceComing piece) => [.. Enumerable.Range(1, Math.Max(0, piece.Visits.Count - 1)).Select(i => Math.Max(1, (piece.Visits[i] - piece.Visits[i - 1]).TotalDays))];

    private static string Key(PieceComing piece) => RigLog.Key(piece.PieceId);
}
