using System.Text.Json;
using Whetwright.Core.Abrasives;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;

namespace Whetwright.Workbench.Gauges;

/// <summary>What each abrasive takes off per pass, learnt from the shop's own visits; whether it should be dressed; and the steel that each wheel took.</summary>
/// <param name="Rates">By abrasive: the first guess, moved by the visits.</param>
/// <param name="Watches">By wheel: whether its rate falls since it was dressed; missing where too little was ground since.</param>
/// <param name="Steel">By wheel: steel of each visit.</param>
public sealed record LearntRates(
    IReadOnlyDictionary<long, CuttingRate> Rates, IReadOnlyDictionary<long, DressWatch> Watches, IReadOnlyDictionary<long, IReadOnlyList<(DateTime At, double Mm3)>> Steel)
{
    /// <summary>Nothing learnt.</summary>
    public static LearntRates None { get; } = new(new Dictionary<long, CuttingRate>(), new Dictionary<long, DressWatch>(), new Dictionary<long, IReadOnlyList<(DateTime, double)>>());

    /// <summary>
    /// Learns, oldest visit first. A visit tells one area a side and the passes over each abrasive; where several were used the area is shared among them by what each
    /// was expected to take, so all of them are moved by the same factor. A side with fewer passes than <see cref="FewestPasses"/> teaches nothing.
    /// </summary>
    /// <param name="visits">Passes with the section of their visit, oldest first.</param>
    /// <param name="abrasives">Abrasives with their first guesses.</param>
    /// <param name="diameters">Diameter entries that stand: a dressing begins a wheel's watch anew.</param>
    public static LearntRates Of(IReadOnlyList<PassesWithAim> visits, IReadOnlyList<AbrasiveKept> abrasives, IReadOnlyCollection<DiameterEntry> diameters)
    {
        Dictionary<long, CuttingRate> rates = abrasives.Where(a => a.AreaPerPassMm2 is > 0).ToDictionary(a => a.Id, a => CuttingRate.Guess(a.AreaPerPassMm2!.Value));
        Dictionary<long, List<(DateTime At, double Area, double Rate)>> worked = [];
        Dictionary<long, List<(DateTime At, double Mm3)>> steel = [];
        foreach (PassesWithAim visit in visits)
        {
            if (Removed(visit.SectionJson) is not { } removed)
                continue;
            List<(long Abrasive, double Area, int Count)> seen = [];
            foreach ((string side, double area) in ((string, double)[])[("left", removed.LeftMm2), ("right", removed.RightMm2)])
            {
                (long Abrasive, long? Wheel, int Count)[] over = [.. visit.Passes.Where(p => (p.Side == side || p.Side == "both") && p.Count > 0 && p.AbrasiveId is { } id && rates.ContainsKey(id))
                    .GroupBy(p => (AbrasiveId: p.AbrasiveId!.Value, p.WheelId)).Select(g => (g.Key.AbrasiveId, g.Key.WheelId, g.Sum(p => p.Count)))];
                double expected = over.Sum(o => o.Count * rates[o.Abrasive].AreaPerPassMm2);
                if (!(area > 0) || over.Sum(o => o.Count) < FewestPasses)
                    continue;
                foreach ((long abrasive, long? wheel, int count) in over)
                {
                    double own = area * count * rates[abrasive].AreaPerPassMm2 / expected;
                    seen.Add((abrasive, own, count));
                    if (wheel is { } on)
                    {
                        Listed(worked, on).Add((visit.At, own, own / count));
                        Listed(steel, on).Add((visit.At, removed.LeftMm2 + removed.RightMm2 > 0 ? removed.Mm3 * own / (removed.LeftMm2 + removed.RightMm2) : 0));
                    }
                }
            }

            foreach (var one in seen.GroupBy(s => s.Abrasive))
                rates[one.Key] = rates[one.Key].Learn(one.Sum(s => s.Area), one.Sum(s => s.Count));
        }

        return new(
            rates,
            worked.Select(w => (w.Key, Watch: WatchOf(w.Value, diameters.Where(d => d.WheelId == w.Key && d.Cause != DiameterCause.Measured).Select(d => d.HappenedAt).DefaultIfEmpty().Max())))
                .Where(w => w.Watch is not null).ToDictionary(w => w.Key, w => w.Watch!),
            steel.ToDictionary(s => s.Key, s => (IReadOnlyList<(DateTime, double)>)s.Value));
    }

    /// <summary>Passes on a side below which its area says little about the rate (chosen, not derived).</summary>
    public const int FewestPasses = 3;

    private static DressWatch? WatchOf(List<(DateTime At, double Area, double Rate)> worked, DateTime dressed)
    {
        double sum = 0;
        List<RateSinceDressing> since = [];
        foreach (var visit in worked.Where(w => w.At > dressed).GroupBy(w => w.At))
        {
            since.Add(new(sum, visit.Average(v => v.Rate)));
            sum += visit.Sum(v => v.Area);
        }

        return DressWatch.Of(since);
    }

    private static (double LeftMm2, double RightMm2, double Mm3)? Removed(string sectionJson)
    {
        using JsonDocument section = JsonDocument.Parse(sectionJson);
        return section.RootElement.TryGetProperty("sides", out JsonElement sides) && Number(sides, "left", "removedMm2") is { } left && Number(sides, "right", "removedMm2") is { } right
            ? (left, right, section.RootElement.TryGetProperty("removedMm3", out JsonElement steel) && steel.ValueKind == JsonValueKind.Number ? steel.GetDouble() : 0)
            : null;
    }

    private static double? Number(JsonElement of, string side, string key) =>
        of.TryGetProperty(side, out JsonElement one) && one.TryGetProperty(key, out JsonElement value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;

    private static List<T> Listed<T>(Dictionary<long, List<T>> of, long key) => of.TryGetValue(key, out List<T>? list) ? list : of[key] = [];
}
