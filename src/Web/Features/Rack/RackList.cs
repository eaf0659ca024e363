using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Shop;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Rack;

/// <summary>What is here, by promise, by place, or by what it needs next.</summary>
/// <param name="By">Key of the order: promise, place, next.</param>
/// <param name="Groups">Under headings, in order.</param>
/// <param name="Count">How many pieces.</param>
/// <param name="Late">How many of them are late.</param>
/// <param name="Today">The shop's day.</param>
public sealed record RackModel(string By, IReadOnlyList<RackGroup> Groups, int Count, int Late, DateOnly Today);

/// <summary>Pieces under one heading.</summary>
/// <param name="Title">The heading.</param>
/// <param name="Lines">The pieces.</param>
public sealed record RackGroup(string Title, IReadOnlyList<RackLine> Lines)
{
    /// <summary>Its pieces; those of one set at one step together, where three or more are.</summary>
    public IEnumerable<IReadOnlyList<RackLine>> Rows => Lines.GroupBy(l => l.SetId is null ? (-l.VisitId, null) : (l.SetId.Value, l.Standing.Next))
        .SelectMany(g => g.Count() >= 3 ? (IEnumerable<IReadOnlyList<RackLine>>)[[.. g]] : g.Select(l => (IReadOnlyList<RackLine>)[l]));
}

/// <summary>Shows the rack.</summary>
internal static class RackList
{
    public static async Task<IResult> ShowAsync(
        RackQuery rack, IDbContextFactory<BookContext> books, BookClock clock, UnitsView units, string? by, string? tag, CancellationToken cancel)
    {
        if (!string.IsNullOrWhiteSpace(tag) && TagNumber.TryParse(tag, out int number))
            return Results.Redirect("/t/" + TagNumber.Format(number));
        RackOrder order = by switch { "place" => RackOrder.Place, "next" => RackOrder.Next, _ => RackOrder.Promise };
        DateOnly today = await TodayAsync(books, clock, cancel);
        IReadOnlyList<RackLine> lines = await rack.OpenAsync(order, cancel);
        string? wrongTag = string.IsNullOrWhiteSpace(tag) ? null : tag;
        RackModel model = new(Key(order), Groups(lines, order, today, units), lines.Count, lines.Count(l => l.IsLate(today)), today);
        return wrongTag is null
            ? Page.Of<RackPage>("Rack", model, Room.Rack)
            : Page.NotFound($"“{wrongTag}” is no tag number: its check digit does not fit, so a digit was misread. A tag reads like {TagNumber.Format(1047)}.");
    }

    internal static async Task<DateOnly> TodayAsync(IDbContextFactory<BookContext> books, BookClock clock, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        return clock.Today(card.Zone());
    }

    private static string Key(RackOrder order) => order switch { RackOrder.Place => "place", RackOrder.Next => "next", _ => "promise" };

    private static IReadOnlyList<RackGroup> Groups(IReadOnlyList<RackLine> lines, RackOrder order, DateOnly today, UnitsView units) =>
        [.. lines.GroupBy(l => Title(l, order, today, units), StringComparer.Ordinal)
            .OrderBy(g => order == RackOrder.Promise ? g.Min(l => Rank(l, today)) : 0)
            .Select(g => new RackGroup(g.Key, [.. g]))];

    private static string Title(RackLine line, RackOrder order, DateOnly today, UnitsView units) => order switch
    {
        RackOrder.Place => line.Place ?? "No place noted",
        RackOrder.Next => line.Standing.Next is { } step ? BenchWords.Need(step) : "Ready to be fetched",
        _ when line.Standing.Next is null => "Ready to be fetched",
        _ when line.IsLate(today) => "Late",
        _ => line.PromisedFor is not { } day ? "No day promised" : day == today ? "Today" : day == today.AddDays(1) ? "Tomorrow" : units.Day(day),
    };

    /// <summary>Late first, then by day, then without a day, then what waits to be fetched.</summary>
    private static int Rank(RackLine line, DateOnly today) =>
        line.Standing.Next is null ? int.MaxValue : line.IsLate(today) ? int.MinValue : line.PromisedFor?.DayNumber ?? int.MaxValue - 1;
}
