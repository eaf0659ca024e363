using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;

namespace Whetwright.Web.Features.Counter.Back;

/// <summary>One piece of an owner that is here.</summary>
/// <param name="Visit">Its visit, with the piece.</param>
/// <param name="Standing">Where it stands.</param>
/// <param name="Charges">What is charged so far.</param>
/// <param name="Lines">Lines of the price list that can be added.</param>
public sealed record PieceHere(Visit Visit, VisitStanding Standing, IReadOnlyList<Charge> Charges, IReadOnlyList<PriceLine> Lines)
{
    /// <summary>The work is done.</summary>
    public bool IsReady => Standing.Next is null;

    /// <summary>Tag with check digit.</summary>
    public string Tag => TagNumber.Format(Visit.Tag);
}

/// <summary>A hand-back of the last days.</summary>
/// <param name="HandBackId">The fact.</param>
/// <param name="Words">The piece.</param>
/// <param name="At">When, UTC.</param>
public sealed record HandedLately(long HandBackId, string Words, DateTime At);

/// <summary>What a hand-back begins with.</summary>
/// <param name="Owner">Whose.</param>
/// <param name="Pieces">What is here.</param>
/// <param name="Rates">Tax rates.</param>
/// <param name="EarlierMinor">Owed from before; negative for a credit.</param>
/// <param name="Seen">Latest charge, payment and hand-back: what the person saw.</param>
/// <param name="Lately">Handed back in the last days, for mistakes.</param>
public sealed record BackGround(
    Owner Owner, IReadOnlyList<PieceHere> Pieces, IReadOnlyList<TaxRate> Rates, long EarlierMinor, string Seen, IReadOnlyList<HandedLately> Lately)
{
    private const int LatelyDays = 14; // chosen, not derived

    /// <summary>Reads it; null where there is no such owner.</summary>
    internal static async Task<BackGround?> ReadAsync(long ownerId, IDbContextFactory<BookContext> books, StandingQuery standings, AccountQuery accounts, BookClock clock, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        Owner? owner = await db.Owners.AsNoTracking().FirstOrDefaultAsync(o => o.Id == ownerId, cancel);
        if (owner is null)
            return null;
        List<Visit> visits = await db.Visits.AsNoTracking().Include(v => v.Piece).Where(v => v.HandBackId == null && v.Piece!.OwnerId == ownerId).OrderBy(v => v.Id).ToListAsync(cancel);
        long[] ids = [.. visits.Select(v => v.Id)];
        ILookup<long, Charge> charges = (await db.Charges.AsNoTracking().Standing().Where(c => ids.Contains(c.VisitId)).OrderBy(c => c.Id).ToListAsync(cancel)).ToLookup(c => c.VisitId);
        List<PriceLine> prices = await db.Prices.AsNoTracking().Where(p => !p.Retired && (p.OwnerId == null || p.OwnerId == ownerId)).ToListAsync(cancel);
        IReadOnlyDictionary<long, VisitStanding> stand = await standings.OfAsync(ids, cancel);
        long here = ids.Length == 0 ? 0 : await accounts.DueAsync(ids, cancel);
        DateTime since = clock.Now().AddDays(-LatelyDays);
        var lately = await db.HandBacks.AsNoTracking().Standing().Where(h => h.HappenedAt >= since && h.Visit!.Piece!.OwnerId == ownerId && h.Visit.HandBackId == h.Id)
            .OrderByDescending(h => h.Id).Take(60).Select(h => new { h.Id, h.EnteredAt, h.HappenedAt, h.Visit!.Tag, h.Visit.Piece!.Name }).ToListAsync(cancel);
        return new(
            owner,
            [.. visits.Select(v => new PieceHere(v, stand[v.Id], [.. charges[v.Id]], Lines(prices, v, ownerId)))],
            await db.TaxRates.AsNoTracking().ToListAsync(cancel),
            await accounts.OwedAsync(ownerId, cancel) - here,
            await SeenAsync(db, ownerId, cancel),
            [.. lately.GroupBy(h => h.EnteredAt).Select(g => new HandedLately(g.First().Id, string.Join(", ", g.Select(h => $"{h.Name} ({TagNumber.Format(h.Tag)})")), g.First().HappenedAt))]);
    }

    /// <summary>The latest charge, payment and hand-back of an owner.</summary>
    internal static async Task<string> SeenAsync(BookContext db, long ownerId, CancellationToken cancel)
    {
        long charge = await db.Charges.Where(c => c.Visit!.Piece!.OwnerId == ownerId).MaxAsync(c => (long?)c.Id, cancel) ?? 0;
        long payment = await db.Payments.Where(p => p.OwnerId == ownerId).MaxAsync(p => (long?)p.Id, cancel) ?? 0;
        long handBack = await db.HandBacks.Where(h => h.Visit!.Piece!.OwnerId == ownerId).MaxAsync(h => (long?)h.Id, cancel) ?? 0;
        return string.Create(CultureInfo.InvariantCulture, $"{charge}-{payment}-{handBack}");
    }

    private static IReadOnlyList<PriceLine> Lines(List<PriceLine> prices, Visit visit, long ownerId)
    {
        PriceLine? usual = PriceList.Choose(prices, visit.Piece!.Kind, visit.Piece.LengthMm, ownerId);
        IReadOnlyList<PriceLine> extras = PriceList.Extras(prices, visit.Piece.Kind, visit.Piece.LengthMm, ownerId);
        return usual is null ? extras : [usual, .. extras];
    }
}
