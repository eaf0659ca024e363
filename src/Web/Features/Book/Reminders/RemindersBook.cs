using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Standing;
using Whetwright.Web.Features.Gauges.Wear;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Book.Reminders;

/// <summary>Pieces whose time has come, and those that come next.</summary>
/// <param name="Due">Their day has passed.</param>
/// <param name="Coming">Within <see cref="RemindersBook.AheadDays"/> days.</param>
/// <param name="Later">How many come later.</param>
/// <param name="Now">Now, UTC.</param>
public sealed record RemindersModel(IReadOnlyList<Reminder> Due, IReadOnlyList<Reminder> Coming, int Later, DateTime Now)
{
    /// <summary>Wheels to be measured again within that time.</summary>
    public IReadOnlyList<WheelToMeasure> Wheels { get; init; } = [];
}

/// <summary>Service intervals: whom to remind.</summary>
internal static class RemindersBook
{
    /// <summary>Days that the list looks ahead (chosen, not derived).</summary>
    public const int AheadDays = 60;

    public static async Task<IResult> ShowAsync(EdgeHistoryQuery history, WearBook wear, BookClock clock, CancellationToken cancel)
    {
        DateTime now = clock.Now();
        IReadOnlyList<Reminder> all = Workbench.Gauges.Reminders.Of(await history.ComingAsync(cancel), now);
        Reminder[] due = [.. all.Where(r => r.Due <= now)], coming = [.. all.Where(r => r.Due > now && r.Due <= now.AddDays(AheadDays))];
        WheelToMeasure[] wheels = [.. (await wear.ToMeasureAsync(cancel)).Where(w => w.By <= now.AddDays(AheadDays))];
        return Page.Of<RemindersPage>("Reminders", new RemindersModel(due, coming, all.Count - due.Length - coming.Length, now) { Wheels = wheels }, Room.Book);
    }
}
