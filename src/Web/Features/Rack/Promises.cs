using System.Globalization;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Gauges.Wear;
using Whetwright.Web.Shared.Showing;
using Whetwright.Workbench.Gauges;
using Calendar = Ical.Net.Calendar;

namespace Whetwright.Web.Features.Rack;

/// <summary>Promises and reminders as a calendar feed (RFC 5545): an all-day entry for each piece that is here and not yet ready, for each whose time comes, and for each wheel to be measured again.</summary>
internal static class Promises
{
    public static async Task<IResult> FeedAsync(RackQuery rack, EdgeHistoryQuery history, WearBook wear, ShopView shop, BookClock clock, CancellationToken cancel)
    {
        IReadOnlyList<RackLine> lines = await rack.OpenAsync(RackOrder.Promise, cancel);
        IReadOnlyList<Reminder> reminders = Reminders.Of(await history.ComingAsync(cancel), clock.Now());
        return Results.Text(Text(lines, reminders, await wear.ToMeasureAsync(cancel), shop, clock.Now()), "text/calendar", System.Text.Encoding.UTF8);
    }

    private const int RemindersBehindDays = 30, RemindersAheadDays = 120; // chosen, not derived: what a calendar shows without scrolling

    /// <summary>The feed.</summary>
    internal static string Text(IEnumerable<RackLine> lines, IEnumerable<Reminder> reminders, IEnumerable<WheelToMeasure> wheels, ShopView shop, DateTime now)
    {
        Calendar calendar = new() { ProductId = "-//Whetwright//Promises//EN" };
        calendar.AddProperty("X-WR-CALNAME", $"{shop.Name}: promises and reminders");

        // Stable over time: a calendar that has it already moves it instead of adding another.
        void AllDay(string uid, DateOnly day, string summary, string description, string path) => calendar.Events.Add(new CalendarEvent
        {
            Uid = uid + "@whetwright",
            DtStamp = new CalDateTime(now),
            Start = new CalDateTime(day),
            End = new CalDateTime(day.AddDays(1)),
            Summary = summary,
            Description = description,
            Url = shop.BaseAddress is { } address ? new Uri(address, path) : null,
        });
        foreach (RackLine line in lines)
        {
            if (line.PromisedFor is not { } day || line.Standing.Next is not { } next)
                continue;
            string tag = TagNumber.Format(line.Tag);
            AllDay(string.Create(CultureInfo.InvariantCulture, $"visit-{line.VisitId}"), day, $"{tag} {line.PieceName}, {line.OwnerName}", BenchWords.Need(next), $"/t/{tag}");
        }

        foreach (Reminder reminder in reminders.Where(r => r.Due >= now.AddDays(-RemindersBehindDays) && r.Due <= now.AddDays(RemindersAheadDays)))
        {
            DateOnly day = DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(reminder.Due, shop.TimeZone));
            AllDay(string.Create(CultureInfo.InvariantCulture, $"reminder-{reminder.Piece.PieceId}"), day, $"Remind {reminder.Piece.Owner}: {reminder.Piece.Name}", $"About {Math.Round(reminder.Days.Median)} days after its last visit ({Math.Round(reminder.Days.From)} to {Math.Round(reminder.Days.To)}); {reminder.Origin}.", string.Create(CultureInfo.InvariantCulture, $"/book/pieces/{reminder.Piece.PieceId}"));
        }

        // Overdue, it stands on today until somebody measures.
        foreach (WheelToMeasure wheel in wheels.Where(w => w.By <= now.AddDays(RemindersAheadDays)))
        {
            DateOnly day = DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(wheel.By < now ? now : wheel.By, shop.TimeZone));
            DateOnly measured = DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(wheel.MeasuredAt, shop.TimeZone));
            AllDay(string.Create(CultureInfo.InvariantCulture, $"wheel-{wheel.WheelId}"), day, $"Measure the wheel again: {wheel.Wheel}, {wheel.Rig}", string.Create(CultureInfo.InvariantCulture, $"Last measured on {measured:yyyy-MM-dd}. By its foretold wear the angle may be off by more than the tolerance of {wheel.ToleranceDeg:0.##}° (k = 2)."), string.Create(CultureInfo.InvariantCulture, $"/kit/wheels/{wheel.WheelId}"));
        }

        return new CalendarSerializer().SerializeToString(calendar) ?? "";
    }
}
