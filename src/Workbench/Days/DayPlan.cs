using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;

namespace Whetwright.Workbench.Days;

/// <summary>A bench day in an order: what is stored of it, and what it costs.</summary>
/// <param name="Operations">In order.</param>
/// <param name="Setups">What changes take, and where that is from.</param>
/// <param name="AbrasiveMinutes">Minutes typed for a change to an abrasive.</param>
/// <param name="StartMinutes">Start of the bench day, minutes after midnight, the shop's clock.</param>
/// <param name="Breaks">Breaks, minutes from the start.</param>
/// <param name="FoundCost">What the order found by the search costs; null before a search.</param>
/// <param name="Bound">No order costs less.</param>
/// <param name="Proved">The order found is proved to be a cheapest one.</param>
public sealed record DayPlan(
    IReadOnlyList<DayOperation> Operations, SetupTimes Setups, IReadOnlyDictionary<long, double> AbrasiveMinutes, double StartMinutes, IReadOnlyList<BenchBreak> Breaks,
    double? FoundCost, double Bound, bool Proved)
{
    /// <summary>Changes in the log that were left out because a pause lay in them.</summary>
    public int Broken { get; init; }

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web);

    /// <summary>As stored.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Json);

    /// <summary>From the book; null where another version wrote it.</summary>
    public static DayPlan? Read(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<DayPlan>(json, Json) is { Operations: not null, Setups: { Clamp: not null, Wheel: not null, Angle: not null, Rig: not null }, AbrasiveMinutes: not null, Breaks: not null } plan ? plan : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }

    /// <summary>The day for Core; null with the reason where it cannot be one.</summary>
    public BenchDay? Day(out Reason? reason)
    {
        Dictionary<long, string> before = [];
        List<BenchJob> jobs = [];
        // Precedence is the stages' own order, whatever order the operations stand in now.
        foreach (DayOperation o in Operations.OrderBy(o => o.Id, StringComparer.Ordinal))
        {
            jobs.Add(new(o.Id, o.Minutes, o.DueMinutes, o.Weight, before.TryGetValue(o.VisitId, out string? first) ? [first] : null));
            before[o.VisitId] = o.Id;
        }

        DayOperation[] sorted = [.. Operations.OrderBy(o => o.Id, StringComparer.Ordinal)];
        double[][] change = Setups.Matrix([.. sorted.Select(Setup)]);
        return BenchDay.Create(jobs, change, Breaks, false, out reason);
    }

    /// <summary>Minutes of the change before an operation.</summary>
    public double Change(DayOperation? from, DayOperation to) => Setups.Between(from is null ? null : Setup(from), Setup(to));

    private BenchSetup Setup(DayOperation o) => o.Setup(o.AbrasiveId is { } id && AbrasiveMinutes.TryGetValue(id, out double typed) ? typed : null);

    /// <summary>Puts it in the best order found.</summary>
    public (DayPlan? Plan, Reason? Why) Ordered(CancellationToken stop)
    {
        if (Day(out Reason? reason) is not { } day)
            return (null, reason);
        DayOrder order = OrderPlanner.Plan(day, rounds: int.MaxValue, cancellationToken: stop);
        return (In(order.Sequence) with { FoundCost = order.Objective, Bound = order.Bound, Proved = order.Proved }, null);
    }

    /// <summary>The same operations in another order, 0-based into the operations sorted by their id.</summary>
    private DayPlan In(IReadOnlyList<int> sequence)
    {
        DayOperation[] sorted = [.. Operations.OrderBy(o => o.Id, StringComparer.Ordinal)];
        return this with { Operations = [.. sequence.Select(i => sorted[i])] };
    }

    /// <summary>The same operations in the order of these ids; the text says why that is no order.</summary>
    public (DayPlan? Plan, string? Why) By(IReadOnlyList<string> ids)
    {
        Dictionary<string, DayOperation> all = Operations.ToDictionary(o => o.Id, StringComparer.Ordinal);
        if (ids.Count != all.Count || ids.Distinct(StringComparer.Ordinal).Count() != all.Count || ids.Any(id => !all.ContainsKey(id)))
            return (null, "The order does not hold every operation once; open the page again.");
        DayPlan moved = this with { Operations = [.. ids.Select(id => all[id])] };
        foreach (IGrouping<long, DayOperation> visit in moved.Operations.GroupBy(o => o.VisitId))
        {
            if (!visit.Select(o => o.Id).SequenceEqual(visit.Select(o => o.Id).Order(StringComparer.Ordinal), StringComparer.Ordinal))
                return (null, $"{visit.First().Tag}: {string.Join(" before ", visit.Select(o => o.Id).Order(StringComparer.Ordinal).Select(id => all[id].What))} it must be; coarse before fine.");
        }

        return (moved, null);
    }

    /// <summary>What this order costs.</summary>
    [JsonIgnore]
    public DayOrder? Cost
    {
        get
        {
            if (Day(out _) is not { } day)
                return null;
            string[] sorted = [.. Operations.Select(o => o.Id).Order(StringComparer.Ordinal)];
            return OrderPlanner.Evaluate(day, [.. Operations.Select(o => Array.IndexOf(sorted, o.Id))]);
        }
    }

    /// <summary>When each operation begins and ends, minutes from the start, in order; breaks are waited out and work goes on after them.</summary>
    [JsonIgnore]
    public IReadOnlyList<DayLine> Times
    {
        get
        {
            List<DayLine> lines = [];
            double at = 0;
            DayOperation? before = null;
            foreach (DayOperation o in Operations)
            {
                double change = Change(before, o);
                double begin = Worked(at, change), end = Worked(begin, o.Minutes);
                lines.Add(new(o, before, change, begin, end, o.DueMinutes is { } due ? Math.Max(0, end - due) : 0));
                (at, before) = (end, o);
            }

            return lines;
        }
    }

    /// <summary>The clock after working so long from then on.</summary>
    private double Worked(double from, double minutes)
    {
        double at = from;
        foreach (BenchBreak pause in Breaks.OrderBy(b => b.FromMinutes))
        {
            if (at >= pause.ToMinutes)
                continue;
            if (at >= pause.FromMinutes)
                at = pause.ToMinutes;
            else if (at + minutes > pause.FromMinutes)
                at += pause.ToMinutes - pause.FromMinutes;
        }

        return at + minutes;
    }

    /// <summary>A minute of the day as a clock shows it: "08:35".</summary>
    public string Clock(double minutesFromStart)
    {
        int all = (int)Math.Round(StartMinutes + minutesFromStart);
        return string.Create(CultureInfo.InvariantCulture, $"{all / 60 % 24:00}:{all % 60:00}");
    }
}
