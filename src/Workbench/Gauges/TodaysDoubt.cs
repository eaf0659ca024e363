using System.Text.Json;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Core.Quantities;
using Whetwright.Records.Bench;

namespace Whetwright.Workbench.Gauges;

/// <summary>One source of today's uncertainty of what a rig will grind.</summary>
/// <param name="Name">In words.</param>
/// <param name="UDeg">Standard uncertainty, degrees.</param>
/// <param name="Of">"setting", "scatter", "bias".</param>
public sealed record DoubtSource(string Name, double UDeg, string Of);

/// <summary>
/// What makes the next piece on a rig uncertain: the sources of its last setting, with today's diameters; the scatter from piece to piece that the log shows;
/// and, while a bias is known and not taken out, the bias itself.
/// </summary>
/// <param name="Sources">The largest first.</param>
/// <param name="UDeg">All together, root of squares.</param>
/// <param name="MeasureFirst">What to measure or do first, in words; null where nothing is left.</param>
/// <param name="AfterDeg">What would be left then.</param>
/// <param name="WhyNot">Why the setting's sources cannot be told; null where they can.</param>
public sealed record TodaysDoubt(IReadOnlyList<DoubtSource> Sources, double UDeg, string? MeasureFirst, double? AfterDeg, string? WhyNot)
{
    /// <summary>Works it out.</summary>
    /// <param name="last">The rig's last setting; null for none.</param>
    /// <param name="today">The rig today.</param>
    /// <param name="judged">Its wheels by their log.</param>
    public static TodaysDoubt Of(SettingMade? last, Composed<Rig> today, IReadOnlyList<WheelJudged> judged)
    {
        List<DoubtSource> sources = [];
        List<(string What, double After)> next = [];
        (SettingPlan? plan, string? whyNot) = Again(last, today);
        if (plan is not null)
        {
            sources.AddRange(plan.Budget.Where(b => b.Uncertainty > 0.001).Select(b => new DoubtSource(Said(b.Source), b.Uncertainty, "setting")));
            next.AddRange(plan.MeasureNext.Select(m => (m.What, m.UAfterDeg)));
        }

        double setting = Root(sources.Select(s => s.UDeg));
        if (judged.Count > 0 && judged[0].Rig.ScatterDeg is > 0.01 and var scatter)
            sources.Add(new("scatter from piece to piece, beyond the readings", scatter, "scatter"));
        WheelJudged? worst = judged.Where(j => j.Learnt.ProposedCorrectionDeg is not null).MaxBy(j => Math.Abs(j.Learnt.LeftDeg));
        if (worst is not null)
            sources.Add(new("a bias that is known and not taken out", Math.Abs(worst.Learnt.LeftDeg), "bias"));
        double all = Root(sources.Select(s => s.UDeg));
        double others = Math.Sqrt(Math.Max(0, (all * all) - (setting * setting)));
        List<(string What, double After)> ways = [.. next.Select(n => (n.What, Root([n.After, others])))];
        if (worst is not null)
            ways.Add(("take the learnt bias out", Root(sources.Where(s => s.Of != "bias").Select(s => s.UDeg).Append(worst.Learnt.UDeg))));
        (string What, double After)? best = ways.Count == 0 ? null : ways.MinBy(w => w.After);
        return new([.. sources.OrderByDescending(s => s.UDeg)], all, best?.What, best?.After, whyNot);
    }

    private static (SettingPlan? Plan, string? Why) Again(SettingMade? last, Composed<Rig> today)
    {
        if (last is null)
            return (null, "Nothing was set on this rig yet.");
        if (today is not Composed<Rig>.Ready rig)
            return (null, string.Join(' ', ((Composed<Rig>.NotYet)today).Missing));
        try
        {
            StoredSetting stored = StoredSetting.Of(last);
            SettingPlan plan = stored.On(stored.Blade, rig.Value, stored.Wish);
            return plan.Budget.Count > 0 ? (plan, null) : (null, plan.Refusals is [var first, ..] ? first.Text : "This rig's setting tells no sources.");
        }
        catch (Exception e) when (e is InvalidDataException or JsonException or ArgumentException)
        {
            return (null, "The last setting was kept by another version and cannot be made again.");
        }
    }

    private static string Said(string source) => source == "learnt correction" ? "how well the learnt correction is known" : source;

    private static double Root(IEnumerable<double> of) => Math.Sqrt(of.Sum(u => u * u));
}
