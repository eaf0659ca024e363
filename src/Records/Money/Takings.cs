using System.Globalization;
using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Money;

/// <summary>What came in during a stretch of days.</summary>
/// <param name="From">First day.</param>
/// <param name="To">Day after the last.</param>
/// <param name="ChargedMinor">Charged for work, tax included; complaints are left out.</param>
/// <param name="TaxMinor">Tax inside it.</param>
/// <param name="ReceivedMinor">Money received, less what was given back.</param>
/// <param name="Visits">Pieces taken in, complaints left out.</param>
/// <param name="Complaints">Complaints taken in.</param>
public sealed record TakingsOf(DateOnly From, DateOnly To, long ChargedMinor, long TaxMinor, long ReceivedMinor, int Visits, int Complaints)
{
    /// <summary>The charges by tax rate, the lowest rate first.</summary>
    public IReadOnlyList<TaxTaken> Rates { get; init; } = [];

    /// <summary>How much of the money received was a deposit: paid before the work.</summary>
    public long DepositsMinor { get; init; }
}

/// <summary>What was charged at one tax rate.</summary>
/// <param name="MilliPercent">The rate, thousandths of a percent.</param>
/// <param name="ChargedMinor">Charged, tax included.</param>
/// <param name="TaxMinor">Tax inside it.</param>
public sealed record TaxTaken(int MilliPercent, long ChargedMinor, long TaxMinor);

/// <summary>Takings by week and month, in the shop's own days.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class Takings(IDbContextFactory<BookContext> books)
{
    /// <summary>One month.</summary>
    public async Task<TakingsOf> MonthAsync(int year, int month, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        DateOnly from = new(year, month, 1);
        return await OfAsync(from, from.AddMonths(1), zone, cancel);
    }

    /// <summary>The twelve months of a year.</summary>
    public async Task<IReadOnlyList<TakingsOf>> ByMonthAsync(int year, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        List<TakingsOf> months = [];
        for (int month = 1; month <= 12; month++)
            months.Add(await MonthAsync(year, month, zone, cancel));
        return months;
    }

    /// <summary>Whole weeks (Monday to Sunday, ISO 8601) that end with the one this day lies in, the earliest first.</summary>
    public async Task<IReadOnlyList<TakingsOf>> ByWeekAsync(DateOnly day, int weeks, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        DateOnly monday = ISOWeek.ToDateOnly(ISOWeek.GetYear(day), ISOWeek.GetWeekOfYear(day), DayOfWeek.Monday);
        List<TakingsOf> list = [];
        for (int i = weeks - 1; i >= 0; i--)
            list.Add(await OfAsync(monday.AddDays(-7 * i), monday.AddDays((-7 * i) + 7), zone, cancel));
        return list;
    }

    /// <summary>Any stretch of days.</summary>
    public async Task<TakingsOf> OfAsync(DateOnly from, DateOnly to, TimeZoneInfo zone, CancellationToken cancel = default)
    {
        DateTime start = ShopDays.StartOf(from, zone), end = ShopDays.StartOf(to, zone);
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        var rates = await db.Charges.Where(c => c.HappenedAt >= start && c.HappenedAt < end).Where(c => c.Visit!.ComplaintAboutId == null)
            .Where(c => !c.Withdrawn && !db.Charges.Any(later => later.CorrectsId == c.Id))
            .GroupBy(c => c.TaxMilliPercent).Select(g => new { Rate = g.Key, Sum = g.Sum(c => c.AmountMinor) }).ToListAsync(cancel);
        var money = await db.Payments.Where(p => p.HappenedAt >= start && p.HappenedAt < end)
            .Where(p => !p.Withdrawn && !db.Payments.Any(later => later.CorrectsId == p.Id))
            .GroupBy(p => p.Deposit).Select(g => new { Deposit = g.Key, Sum = g.Sum(p => p.AmountMinor) }).ToListAsync(cancel);
        var visits = await db.Visits.Where(v => v.HappenedAt >= start && v.HappenedAt < end)
            .GroupBy(v => v.ComplaintAboutId != null).Select(g => new { Complaint = g.Key, Count = g.Count() }).ToListAsync(cancel);
        return new TakingsOf(
            from, to, rates.Sum(r => r.Sum), rates.Sum(r => TaxInside(r.Sum, r.Rate)), money.Sum(m => m.Sum),
            visits.Where(v => !v.Complaint).Sum(v => v.Count), visits.Where(v => v.Complaint).Sum(v => v.Count))
        {
            Rates = [.. rates.OrderBy(r => r.Rate).Select(r => new TaxTaken(r.Rate, r.Sum, TaxInside(r.Sum, r.Rate)))],
            DepositsMinor = money.Where(m => m.Deposit).Sum(m => m.Sum),
        };
    }

    /// <summary>The tax inside an amount: A r / (100 % + r), rounded to the nearest minor unit, halves away from zero.</summary>
    public static long TaxInside(long amountMinor, int taxMilliPercent) =>
        (long)Math.Round((decimal)amountMinor * taxMilliPercent / (100_000 + taxMilliPercent), MidpointRounding.AwayFromZero);
}
