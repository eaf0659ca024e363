using Whetwright.Records;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Workbench.Gauges;

namespace Whetwright.Web.Features.Gauges;

/// <summary>The learnt rates, worked out again only when something was entered that changes them.</summary>
internal sealed class RatesKept(GaugeQuery gauges, KitQuery kit, BookClock clock)
{
    private sealed record Kept((long, long, long) Stamp, DateOnly Day, string Guesses, LearntRates Rates);

    private Kept? last;

    public async Task<LearntRates> NowAsync(CancellationToken cancel)
    {
        (long, long, long) stamp = await gauges.StampAsync(cancel);
        IReadOnlyList<AbrasiveKept> abrasives = await kit.AbrasivesAsync(cancel);
        DateOnly day = DateOnly.FromDateTime(clock.Now());
        string guesses = string.Join(' ', abrasives.Select(a => FormattableString.Invariant($"{a.Id}:{a.AreaPerPassMm2}")));
        if (last is { } kept && kept.Stamp == stamp && kept.Day == day && kept.Guesses == guesses)
            return kept.Rates;
        IReadOnlyList<RigWhole> rigs = await kit.RigsAsync(cancel);
        LearntRates made = LearntRates.Of(await gauges.PassesAsync(clock.Now(), cancel), abrasives, [.. rigs.SelectMany(r => r.Diameters.Standing())]);
        last = new(stamp, day, guesses, made);
        return made;
    }
}
