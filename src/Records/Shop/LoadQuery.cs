using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Standing;

namespace Whetwright.Records.Shop;

/// <summary>Reads the load of the coming days from what is on the rack.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class LoadQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>The coming days. A piece counts with the minutes of its charges until it is ready.</summary>
    /// <param name="today">The shop's day.</param>
    /// <param name="days">How many days; a quarter of a year is enough for a promise.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<DayLoad>> ComingAsync(DateOnly today, int days = 90, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        var open = await db.Visits.Where(v => v.HandBackId == null).Select(v => new { v.Id, v.PromisedFor }).ToListAsync(cancel);
        Dictionary<long, double> minutes = await db.Charges.Standing().Where(c => c.Visit!.HandBackId == null)
            .GroupBy(c => c.VisitId).Select(g => new { g.Key, Sum = g.Sum(c => c.Minutes) }).ToDictionaryAsync(g => g.Key, g => g.Sum, cancel);
        IReadOnlyDictionary<long, VisitStanding> standings = await StandingQuery.OfAsync(db, [.. open.Select(v => v.Id)], cancel);
        return Load.Days(
            card, [.. open.Where(v => standings[v.Id].Next is not null).Select(v => new Waiting(v.PromisedFor, minutes.GetValueOrDefault(v.Id)))], today, days);
    }

    /// <summary>The day that so many more minutes can be promised for; null where the coming days are full.</summary>
    public async Task<DateOnly?> PromiseAsync(double minutes, DateOnly today, CancellationToken cancel = default) =>
        Load.Promise(await ComingAsync(today, cancel: cancel), minutes);
}
