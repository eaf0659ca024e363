using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Privacy;

/// <summary>An owner of whom nothing was heard for longer than the shop keeps.</summary>
/// <param name="Id">Key.</param>
/// <param name="Name">Name.</param>
/// <param name="Last">When they were last here, or were entered, UTC.</param>
/// <param name="Pieces">Their pieces.</param>
public sealed record OwnerDue(long Id, string Name, DateTime Last, int Pieces);

/// <summary>How long the shop keeps people whom it no longer sees.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="clock">The time.</param>
public sealed class Retention(IDbContextFactory<BookContext> books, BookClock clock)
{
    /// <summary>Owners with nothing in the shop whose last visit is older than the card's months, the longest gone first; none where the card keeps for good.</summary>
    public async Task<IReadOnlyList<OwnerDue>> DueAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        int? months = await db.Shop.Select(s => s.ForgetAfterMonths).SingleAsync(cancel);
        if (months is not { } kept)
            return [];
        DateTime before = clock.Now().AddMonths(-kept);
        var old = await db.Owners.Where(o => o.ErasedAt == null && o.EnteredAt < before)
            .Where(o => !db.Visits.Any(v => v.Piece!.OwnerId == o.Id && (v.HappenedAt >= before || v.HandBackId == null)))
            .Where(o => !db.Payments.Any(p => p.OwnerId == o.Id && p.HappenedAt >= before))
            .Select(o => new { o.Id, o.Name, o.EnteredAt, Last = db.Visits.Where(v => v.Piece!.OwnerId == o.Id).Max(v => (DateTime?)v.HappenedAt), Pieces = o.Pieces.Count })
            .ToListAsync(cancel);
        return [.. old.Select(o => new OwnerDue(o.Id, o.Name, o.Last ?? o.EnteredAt, o.Pieces)).OrderBy(o => o.Last).ThenBy(o => o.Id)];
    }
}
