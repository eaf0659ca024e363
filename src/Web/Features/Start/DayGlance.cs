using Microsoft.AspNetCore.Http;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Pictures;
using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Records.Shop;
using Whetwright.Records.Standing;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Start;

/// <summary>One heap of the day.</summary>
/// <param name="Title">Late, today, ready.</param>
/// <param name="Lines">Its pieces.</param>
/// <param name="Mind">It calls for care.</param>
public sealed record Heap(string Title, IReadOnlyList<RackLine> Lines, bool Mind);

/// <summary>The day at a glance.</summary>
/// <param name="Today">The shop's day.</param>
/// <param name="Heaps">Late, today, ready.</param>
/// <param name="Here">Pieces here.</param>
/// <param name="Load">Load of the coming days.</param>
/// <param name="Missing">What the shop has not told yet, with where to.</param>
public sealed record DayModel(DateOnly Today, IReadOnlyList<Heap> Heaps, int Here, Drawing? Load, IReadOnlyList<(string What, string Address)> Missing);

/// <summary>The first page: the first run on an empty book, afterwards the day.</summary>
internal static class DayGlance
{
    private const int Days = 7;

    public static async Task<IResult> ShowAsync(
        string? rig, KitQuery kit, RackQuery rack, LoadQuery load, BookClock clock, UnitsView units, CancellationToken cancel)
    {
        BookBegun begun = await kit.BegunAsync(cancel);
        if (begun.IsEmpty)
            return FirstRun.Show(rig, units);
        ShopCard card = await kit.CardAsync(cancel);
        DateOnly today = clock.Today(card.Zone());
        IReadOnlyList<RackLine> here = await rack.OpenAsync(cancel: cancel);
        List<DayLoad> coming = [.. await load.ComingAsync(today, Days, cancel)];
        return Page.Of<StartPage>("Today", new DayModel(
            today,
            [
                new("Late", [.. here.Where(l => l.IsLate(today))], true),
                new("For today", [.. here.Where(l => l.PromisedFor == today && l.Standing.Next is not null)], false),
                new("Ready", [.. here.Where(l => l.Standing.Next is null)], false),
            ],
            here.Count,
            begun.Visits == 0 ? null : LoadPicture.Draw([.. coming.Select(d => new LoadDay(d.Day, d.DueMinutes, d.BenchMinutes))], units.Culture),
            [.. await MissingAsync(begun, kit, cancel)]));
    }

    private static async Task<IEnumerable<(string What, string Address)>> MissingAsync(BookBegun begun, KitQuery kit, CancellationToken cancel)
    {
        List<(string, string)> missing = [];
        if (!begun.Named)
            missing.Add(("The shop has no name yet", "/kit/shop"));
        if (begun.Rigs == 0)
            missing.Add(("No rig is described, so nothing can be set", "/kit/rigs/new"));
        if (!(await kit.PricesAsync(cancel)).Any(p => !p.Retired))
            missing.Add(("The price list is empty", "/kit/prices/new"));
        if ((await kit.CalibrationsAsync(cancel)).Count == 0)
            missing.Add(("No instrument is set up: readings lean on defaults", "/kit/instruments/new"));
        return missing;
    }
}
