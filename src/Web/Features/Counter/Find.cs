using Microsoft.AspNetCore.Http;
using Whetwright.Records;
using Whetwright.Records.Owners;
using Whetwright.Records.Shop;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter;

/// <summary>Who stands at the counter.</summary>
/// <param name="Typed">What was typed.</param>
/// <param name="Found">Owners that fit.</param>
/// <param name="Days">The load of the coming days.</param>
public sealed record FindModel(string? Typed, IReadOnlyList<OwnerFound> Found, IReadOnlyList<DayLoad> Days);

/// <summary>Finds an owner as one types.</summary>
internal static class Find
{
    public static async Task<IResult> ShowAsync(OwnerQuery owners, LoadQuery load, BookClock clock, ShopView shop, string? who, CancellationToken cancel)
    {
        string? typed = string.IsNullOrWhiteSpace(who) ? null : who.Trim();
        return Page.Of<CounterPage>("Counter", new FindModel(typed, await owners.FindAsync(typed, 12, cancel), await load.ComingAsync(clock.Today(shop.TimeZone), LoadFigure.DaysShown, cancel)), Room.Counter);
    }
}
