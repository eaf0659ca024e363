namespace Whetwright.Core.Ordering;

/// <summary>An order of the day's jobs and what it costs.</summary>
/// <param name="Sequence">Indices into <see cref="BenchDay.Jobs"/>, first to last.</param>
/// <param name="SetupMinutes">Minutes of changes, the one back to the start included where asked for.</param>
/// <param name="WeightedLateMinutes">Σ weight · minutes late.</param>
/// <param name="Bound">No order can cost less than this.</param>
/// <param name="Proved">Whether this order is proved to be a cheapest one.</param>
public sealed record DayOrder(IReadOnlyList<int> Sequence, double SetupMinutes, double WeightedLateMinutes, double Bound, bool Proved)
{
    /// <summary>Set-up minutes plus weighted minutes late.</summary>
    public double Objective => SetupMinutes + WeightedLateMinutes;

    /// <summary>How the objective came to be.</summary>
    public Quantities.Derivation Explain(BenchDay day)
    {
        List<Quantities.DerivationInput> inputs =
        [
            new("S", "minutes of changes", SetupMinutes, "min", 1),
            new("B", "bound that no order can undercut", Bound, "min"),
        ];
        inputs.AddRange(day.Timetable(Sequence).Where(t => t.LateMinutes > 0)
            .Select(t => new Quantities.DerivationInput("L", $"{day.Jobs[t.Job].Id} late", t.LateMinutes, "min", day.Jobs[t.Job].Weight)));
        return new("cost of the day", Objective, "min", "Z = S + Σ w·L", Proved ? "[held-karp]" : "local search, [balas-toth] for the bound", inputs, "ordering.search/2");
    }
}

/// <summary>A job in its place.</summary>
/// <param name="Job">Index into <see cref="BenchDay.Jobs"/>.</param>
/// <param name="ChangeMinutes">Change before it.</param>
/// <param name="DoneMinutes">Clock minute of the day at which it is done, breaks counted in.</param>
/// <param name="LateMinutes">Minutes after its promise; 0 where it is kept or nothing is promised.</param>
public readonly record struct TimedJob(int Job, double ChangeMinutes, double DoneMinutes, double LateMinutes);
