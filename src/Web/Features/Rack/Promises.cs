using System.Globalization;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared.Showing;
using Calendar = Ical.Net.Calendar;

namespace Whetwright.Web.Features.Rack;

/// <summary>The promises as a calendar feed (RFC 5545): one all-day entry for each piece that is here and not yet ready.</summary>
internal static class Promises
{
    public static async Task<IResult> FeedAsync(RackQuery rack, ShopView shop, BookClock clock, CancellationToken cancel)
    {
        IReadOnlyList<RackLine> lines = await rack.OpenAsync(RackOrder.Promise, cancel);
        return Results.Text(Text(lines, shop, clock.Now()), "text/calendar", System.Text.Encoding.UTF8);
    }

    /// <summary>The feed.</summary>
    internal static string Text(IEnumerable<RackLine> lines, ShopView shop, DateTime now)
    {
        Calendar calendar = new() { ProductId = "-//Whetwright//Promises//EN" };
        calendar.AddProperty("X-WR-CALNAME", $"{shop.Name}: promises");
        foreach (RackLine line in lines)
        {
            if (line.PromisedFor is not { } day || line.Standing.Next is not { } next)
                continue;
            string tag = TagNumber.Format(line.Tag);
            calendar.Events.Add(new CalendarEvent
            {
                // Stable over time: a calendar that has it already moves it instead of adding another.
                Uid = string.Create(CultureInfo.InvariantCulture, $"visit-{line.VisitId}@whetwright"),
                DtStamp = new CalDateTime(now),
                Start = new CalDateTime(day),
                End = new CalDateTime(day.AddDays(1)),
                Summary = $"{tag} {line.PieceName}, {line.OwnerName}",
                Description = BenchWords.Need(next),
                Url = shop.BaseAddress is { } address ? new Uri(address, $"/t/{tag}") : null,
            });
        }

        return new CalendarSerializer().SerializeToString(calendar) ?? "";
    }
}
