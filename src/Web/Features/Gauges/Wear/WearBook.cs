using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges.Wear;

/// <summary>A wheel to be measured again.</summary>
/// <param name="WheelId">The wheel.</param>
/// <param name="Wheel">Its name.</param>
/// <param name="Rig">Its rig's name.</param>
/// <param name="MeasuredAt">When it was measured last, UTC.</param>
/// <param name="By">When its uncertainty will have used up the tolerance, UTC; now where it has.</param>
/// <param name="ToleranceDeg">The shop's tolerance.</param>
public sealed record WheelToMeasure(long WheelId, string Wheel, string Rig, DateTime MeasuredAt, DateTime By, double ToleranceDeg)
{
    /// <summary>The day has come.</summary>
    public bool Due { get; init; }
}

/// <summary>The wear of all wheels in use.</summary>
/// <param name="Wheels">Each with its rig's name.</param>
/// <param name="Learnt">What the log says of abrasives.</param>
/// <param name="ToleranceDeg">The shop's tolerance.</param>
/// <param name="Now">Now, UTC.</param>
internal sealed record WearLog(IReadOnlyList<(string Rig, WearOnBench Wear)> Wheels, LearntRates Learnt, double ToleranceDeg, DateTime Now);

/// <summary>Reads the wear of the wheels in use.</summary>
internal sealed class WearBook(KitQuery kit, GaugeQuery gauges, RatesKept rates, BookClock clock)
{
    public async Task<WearLog> ReadAsync(CancellationToken cancel)
    {
        double tolerance = (await kit.CardAsync(cancel)).ToleranceDeg;
        LearntRates learnt = await rates.NowAsync(cancel);
        DateTime now = clock.Now();
        List<(string Rig, WearOnBench Wear)> wheels = [];
        foreach (RigWhole rig in (await kit.RigsAsync(cancel)).Where(r => !r.Rig.Retired && r.Rig.Wheels.Count > 0))
        {
            var last = await gauges.LastSettingAsync(rig.Rig.Id, cancel);
            wheels.AddRange(rig.Rig.Wheels.Where(w => !w.Retired).OrderBy(w => w.Id)
                .Select(w => (rig.Rig.Name, WearOnBench.Of(rig, w, learnt.Steel.GetValueOrDefault(w.Id) ?? [], last, tolerance, now))));
        }

        return new(wheels, learnt, tolerance, now);
    }

    /// <summary>Wheels whose day to be measured again is known, the first day first.</summary>
    public async Task<IReadOnlyList<WheelToMeasure>> ToMeasureAsync(CancellationToken cancel)
    {
        WearLog log = await ReadAsync(cancel);
        return
        [
            .. log.Wheels.Where(w => w.Wear is { MeasureBy: not null, History.Count: > 0 })
                .Select(w => new WheelToMeasure(w.Wear.Wheel.Id, w.Wear.Wheel.Name, w.Rig, w.Wear.History[^1].HappenedAt, w.Wear.MeasureBy!.Value.UtcDateTime, log.ToleranceDeg)
                {
                    Due = w.Wear.MeasureBy.Value.UtcDateTime <= log.Now,
                })
                .OrderBy(w => w.By).ThenBy(w => w.WheelId),
        ];
    }
}
