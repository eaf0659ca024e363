using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using Minor = Whetwright.Web.Shared.Showing.Money;

namespace Whetwright.Web.Features.Book.Accounts;

/// <summary>Takings by week or month.</summary>
/// <param name="ByWeek">By week, else by month.</param>
/// <param name="Until">The day that the stretch ends with.</param>
/// <param name="Lines">The weeks or months with their names, the earliest first.</param>
/// <param name="Bars">As bars.</param>
/// <param name="Earlier">Address of the stretch before.</param>
/// <param name="Later">Address of the stretch after; null for now.</param>
public sealed record TakingsModel(bool ByWeek, DateOnly Until, IReadOnlyList<(string Name, TakingsOf Of)> Lines, Drawing Bars, string Earlier, string? Later)
{
    /// <summary>Rates that were charged in the stretch.</summary>
    public IReadOnlyList<int> Rates { get; } = [.. Lines.SelectMany(l => l.Of.Rates).Select(r => r.MilliPercent).Distinct().Order()];
}

/// <summary>Shows takings.</summary>
internal static class TakingsBook
{
    private const int Weeks = 12, Months = 12;

    public static async Task<IResult> ShowAsync(string? by, string? until, Takings takings, BookClock clock, ShopView shop, UnitsView units, CancellationToken cancel)
    {
        DateOnly today = clock.Today(shop.TimeZone);
        DateOnly day = today;
        if (!string.IsNullOrEmpty(until) && (!DateOnly.TryParseExact(until, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out day) || day.Year is < 1971 or > 9990))
            return Page.NotFound($"“{until}” is no day to end with; one such as {today.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)} would be right.");
        bool weeks = by != "month";
        List<(string Name, TakingsOf Of)> lines = [];
        if (weeks)
        {
            foreach (TakingsOf week in await takings.ByWeekAsync(day, Weeks, shop.TimeZone, cancel))
                lines.Add((string.Create(CultureInfo.InvariantCulture, $"W{ISOWeek.GetWeekOfYear(week.From)}"), week));
        }
        else
        {
            DateOnly first = new DateOnly(day.Year, day.Month, 1).AddMonths(1 - Months);
            for (int i = 0; i < Months; i++)
            {
                DateOnly month = first.AddMonths(i);
                lines.Add((month.ToString("MMM", units.Culture), await takings.MonthAsync(month.Year, month.Month, shop.TimeZone, cancel)));
            }
        }

        Drawing bars = TakingsPicture.Draw(
            [.. lines.Select(l => new TakingsBar(l.Name, Major(l.Of.ChargedMinor, shop), Major(l.Of.ReceivedMinor, shop)))], amount => units.Number(amount));
        DateOnly before = lines[0].Of.From.AddDays(-1), after = lines[^1].Of.To.AddDays(weeks ? (7 * Weeks) - 1 : 0);
        if (!weeks)
            after = lines[^1].Of.To.AddMonths(Months).AddDays(-1);
        return Page.Of<TakingsPage>("Takings", new TakingsModel(weeks, day, lines, bars, Address(weeks, before), lines[^1].Of.To > today ? null : Address(weeks, after)), Room.Book);
    }

    private static double Major(long minor, ShopView shop) => (double)Minor.FromMinor(minor, shop.Currency);

    private static string Address(bool weeks, DateOnly until) => string.Create(CultureInfo.InvariantCulture, $"/book/takings?by={(weeks ? "week" : "month")}&until={until:yyyy-MM-dd}");
}
