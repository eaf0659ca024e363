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
}
