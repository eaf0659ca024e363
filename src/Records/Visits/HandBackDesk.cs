using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Money;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Visits;

/// <summary>What is said when pieces leave.</summary>
public sealed record HandBackForm
{
    /// <summary>The visits that end.</summary>
    public IReadOnlyList<long> VisitIds { get; init; } = [];

    /// <summary>To whom, where not the owner.</summary>
    public string? To { get; init; }

    /// <summary>The edge note's text by visit.</summary>
    public IReadOnlyDictionary<long, string> EdgeNotes { get; init; } = new Dictionary<long, string>();

    /// <summary>What is paid with it; null for nothing.</summary>
    public PaymentForm? Payment { get; init; }

    /// <summary>When, UTC; null for now.</summary>
    public DateTime? HappenedAt { get; init; }
}

/// <summary>Hands pieces back, and takes that back where it was a mistake.</summary>
/// <param name="clock">The time.</param>
/// <param name="till">Takes the money.</param>
public sealed class HandBackDesk(BookClock clock, Till till)
{
    /// <summary>Ends the visits: all of them and the payment, or nothing.</summary>
    public async Task<SaveOutcome<IReadOnlyList<HandBack>>> HandBackAsync(BookContext db, HandBackForm form, CancellationToken cancel = default)
    {
        long[] ids = [.. form.VisitIds.Distinct()];
        if (ids.Length == 0)
            return new SaveOutcome<IReadOnlyList<HandBack>>.Refused(nameof(form.VisitIds), null, "at least one piece would be right");
        DateTime now = clock.Now();
        List<HandBack> done = [];
        foreach (long id in ids)
        {
            Visit? visit = await db.Visits.FirstOrDefaultAsync(v => v.Id == id, cancel);
            if (visit is null)
                return new SaveOutcome<IReadOnlyList<HandBack>>.Refused(nameof(form.VisitIds), id.ToString(CultureInfo.InvariantCulture), "a visit in the book would be right");
            if (visit.HandBackId is { } theirs)
                return new SaveOutcome<IReadOnlyList<HandBack>>.Conflict([await db.HandBacks.AsNoTracking().SingleAsync(h => h.Id == theirs, cancel)]);
            HandBack fact = new()
            {
                VisitId = id,
                HappenedAt = form.HappenedAt ?? now,
                EnteredAt = now,
                To = Trimmed.Of(form.To),
                EdgeNote = form.EdgeNotes.GetValueOrDefault(id),
            };
            db.HandBacks.Add(fact);
            await db.SaveChangesAsync(cancel);
            visit.HandBackId = fact.Id;
            done.Add(fact);
        }

        await db.SaveChangesAsync(cancel);
        if (form.Payment is { } payment && await till.TakeAsync(db, payment with { HappenedAt = payment.HappenedAt ?? form.HappenedAt }, cancel) is SaveOutcome<Payment>.Refused refused)
            return new SaveOutcome<IReadOnlyList<HandBack>>.Refused(refused.Problems);
        return new SaveOutcome<IReadOnlyList<HandBack>>.Saved(done);
    }

    /// <summary>The moment for a fact that is written beside it, UTC.</summary>
    public DateTime Now() => clock.Now();

    /// <summary>The piece is here after all: the hand-back is withdrawn, the visit open again. Payments stay; they are facts of their own.</summary>
    public async Task<SaveOutcome<HandBack>> UndoAsync(BookContext db, long visitId, CancellationToken cancel = default)
    {
        Visit? visit = await db.Visits.FirstOrDefaultAsync(v => v.Id == visitId, cancel);
        if (visit?.HandBackId is not { } handBack)
            return new SaveOutcome<HandBack>.Refused(nameof(visitId), visitId.ToString(CultureInfo.InvariantCulture), "a visit that was handed back would be right");
        if (await db.Visits.Where(v => v.PieceId == visit.PieceId && v.HandBackId == null).Select(v => (int?)v.Tag).FirstOrDefaultAsync(cancel) is { } here)
            return new SaveOutcome<HandBack>.Refused(nameof(visitId), visitId.ToString(CultureInfo.InvariantCulture), $"the piece came again since, under tag {TagNumber.Format(here)}: one visit at a time would be right");
        DateTime now = clock.Now();
        HandBack withdrawn = new() { VisitId = visitId, HappenedAt = now, EnteredAt = now, CorrectsId = handBack, Withdrawn = true };
        db.HandBacks.Add(withdrawn);
        visit.HandBackId = null;
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<HandBack>.Saved(withdrawn);
    }
}
