using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Bench;

/// <summary>Appends what happened to a visit: readings, aims, settings, passes, charges, anything that is a <see cref="VisitFact"/>.</summary>
public sealed class BenchLog
{
    /// <summary>Adds a fact, or a correction of one.</summary>
    /// <param name="db">The write's context.</param>
    /// <param name="fact">The fact.</param>
    /// <param name="seen">The latest fact of this kind and visit that the form knew of: a second tab is told by a conflict that carries what the first saved.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<SaveOutcome<T>> AddAsync<T>(BookContext db, T fact, Seen seen = default, CancellationToken cancel = default)
        where T : VisitFact
    {
        long visit = fact.VisitId;
        if (fact is HandBack)
            throw new ArgumentException($"A hand-back goes through {nameof(HandBackDesk)}, which keeps the visit in step.", nameof(fact));
        if (!await db.Visits.AnyAsync(v => v.Id == visit, cancel))
            return new SaveOutcome<T>.Refused(nameof(fact.VisitId), visit.ToString(CultureInfo.InvariantCulture), "a visit in the book would be right");
        if (FactCheck.Of(fact) is { Count: > 0 } problems)
            return new SaveOutcome<T>.Refused(problems);
        return await db.AddFactAsync(fact, f => f.VisitId == visit, seen, cancel);
    }

    /// <summary>The latest fact of a kind, corrected or not: what a form carries as seen. Null for none.</summary>
    public async Task<long?> LatestAsync<T>(BookContext db, long visitId, CancellationToken cancel = default)
        where T : VisitFact =>
        await db.Set<T>().Where(f => f.VisitId == visitId).MaxAsync(f => (long?)f.Id, cancel);
}
