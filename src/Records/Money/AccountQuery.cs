using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Visits;

namespace Whetwright.Records.Money;

/// <summary>One line of a statement.</summary>
/// <param name="Day">In the shop's days.</param>
/// <param name="Text">What for.</param>
/// <param name="PieceName">The piece, for a charge.</param>
/// <param name="Tag">Its tag.</param>
/// <param name="AmountMinor">Charges positive, payments negative.</param>
/// <param name="TaxMilliPercent">Tax rate of a charge.</param>
public sealed record StatementLine(DateOnly Day, string Text, string? PieceName, int? Tag, long AmountMinor, int? TaxMilliPercent);

/// <summary>An account's statement.</summary>
/// <param name="OwnerId">Whose.</param>
/// <param name="From">First day.</param>
/// <param name="To">Day after the last.</param>
/// <param name="OpeningMinor">Owed before the first day.</param>
/// <param name="Lines">By day.</param>
/// <param name="ClosingMinor">Owed after the last day.</param>
public sealed record Statement(long OwnerId, DateOnly From, DateOnly To, long OpeningMinor, IReadOnlyList<StatementLine> Lines, long ClosingMinor);

/// <summary>What is owed.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class AccountQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>The statement of one month.</summary>
    public async Task<Statement> MonthAsync(long ownerId, int year, int month, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        DateOnly from = new(year, month, 1), to = from.AddMonths(1);
        DateTime start = ShopDays.StartOf(from, zone), end = ShopDays.StartOf(to, zone);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        long opening = await Charges(db, ownerId).Where(c => c.HappenedAt < start).SumAsync(c => c.AmountMinor, cancel)
            - await Payments(db, ownerId).Where(p => p.HappenedAt < start).SumAsync(p => p.AmountMinor, cancel);
        var charges = await Charges(db, ownerId).Where(c => c.HappenedAt >= start && c.HappenedAt < end)
            .Select(c => new { c.HappenedAt, c.Text, c.Visit!.Piece!.Name, c.Visit.Tag, c.AmountMinor, c.TaxMilliPercent }).ToListAsync(cancel);
        var payments = await Payments(db, ownerId).Where(p => p.HappenedAt >= start && p.HappenedAt < end)
            .Select(p => new { p.HappenedAt, p.How, p.AmountMinor, p.Deposit }).ToListAsync(cancel);
        List<StatementLine> lines =
        [
            .. charges.Select(c => (c.HappenedAt, Line: new StatementLine(ShopDays.DayOf(c.HappenedAt, zone), c.Text, c.Name, c.Tag, c.AmountMinor, c.TaxMilliPercent)))
                .Concat(payments.Select(p => (p.HappenedAt, Line: new StatementLine(
                    ShopDays.DayOf(p.HappenedAt, zone), $"{(p.Deposit ? "deposit" : "payment")}, {p.How}", null, null, -p.AmountMinor, null))))
                .OrderBy(l => l.HappenedAt).Select(l => l.Line),
        ];
        return new Statement(ownerId, from, to, opening, lines, opening + lines.Sum(l => l.AmountMinor));
    }

    /// <summary>What an owner owes now: all charges less all payments; negative where the shop owes.</summary>
    public async Task<long> OwedAsync(long ownerId, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await Charges(db, ownerId).SumAsync(c => c.AmountMinor, cancel) - await Payments(db, ownerId).SumAsync(p => p.AmountMinor, cancel);
    }

    /// <summary>What is due on these visits: their charges, less what was paid for them and for their receipts.</summary>
    public async Task<long> DueAsync(IReadOnlyCollection<long> visitIds, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        long charged = await db.Charges.Standing().Where(c => visitIds.Contains(c.VisitId)).SumAsync(c => c.AmountMinor, cancel);
        long paid = await db.Payments.Standing().Where(p => p.VisitId != null && visitIds.Contains(p.VisitId.Value)).SumAsync(p => p.AmountMinor, cancel);
        long[] intakes = await db.Visits.Where(v => visitIds.Contains(v.Id) && v.IntakeId != null).Select(v => v.IntakeId!.Value).Distinct().ToArrayAsync(cancel);
        foreach (long intake in intakes)
            paid += await LeftOfReceiptAsync(db, intake, visitIds, cancel);
        return charged - paid;
    }

    /// <summary>Money paid for a whole receipt first covers its pieces that left already.</summary>
    private static async Task<long> LeftOfReceiptAsync(BookContext db, long intakeId, IReadOnlyCollection<long> asked, CancellationToken cancel)
    {
        long paid = await db.Payments.Standing().Where(p => p.IntakeId == intakeId && p.VisitId == null).SumAsync(p => p.AmountMinor, cancel);
        long[] left = await db.Visits.Where(v => v.IntakeId == intakeId && v.HandBackId != null && !asked.Contains(v.Id)).Select(v => v.Id).ToArrayAsync(cancel);
        long theirs = await db.Charges.Standing().Where(c => left.Contains(c.VisitId)).SumAsync(c => c.AmountMinor, cancel)
            - await db.Payments.Standing().Where(p => p.VisitId != null && left.Contains(p.VisitId.Value)).SumAsync(p => p.AmountMinor, cancel);
        return paid - Math.Clamp(theirs, 0, Math.Max(paid, 0));
    }

    private static IQueryable<Charge> Charges(BookContext db, long ownerId) => db.Charges.Standing().Where(c => c.Visit!.Piece!.OwnerId == ownerId);

    private static IQueryable<Payment> Payments(BookContext db, long ownerId) => db.Payments.Standing().Where(p => p.OwnerId == ownerId);
}
