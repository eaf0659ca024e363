using Whetwright.Records;
using Whetwright.Records.Kit;
using Whetwright.Workbench;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges;

/// <summary>What the wheels are foretold to have lost since they were measured; the regressions are made again only when something was entered that changes them.</summary>
internal sealed class WearKept(RatesKept rates, KitQuery kit, BookClock clock)
{
    private sealed record Kept(LearntRates Rates, IReadOnlyList<WheelLog> Logs);

    private Kept? last;

    /// <summary>By wheel, as of now; see <see cref="WheelWorn"/>.</summary>
    public async Task<IReadOnlyDictionary<long, WheelWorn>> NowAsync(CancellationToken cancel)
    {
        LearntRates learnt = await rates.NowAsync(cancel);
        if (last is not { } kept || !ReferenceEquals(kept.Rates, learnt))
            last = kept = new(learnt, WheelLog.Of(await kit.RigsAsync(cancel), learnt.Steel));
        TimeZoneInfo zone = (await kit.CardAsync(cancel)).Zone();
        return WheelWorn.Of(kept.Logs, clock.Now(), at => ShopDays.DayOf(at, zone));
    }
}
