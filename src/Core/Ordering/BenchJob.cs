namespace Whetwright.Core.Ordering;

/// <summary>One operation of a bench day: a piece, or one stage of it.</summary>
/// <param name="Id">Name, unique within the day.</param>
/// <param name="Minutes">Working minutes at the bench, zero or more, without the change before it.</param>
/// <param name="DueMinutes">Promise, clock minutes from the start of the day; null where nothing is promised.</param>
/// <param name="Weight">Cost of one minute late, in set-up minutes; zero or more.</param>
/// <param name="After">Ids of the operations that have to be finished before this one starts.</param>
public sealed record BenchJob(string Id, double Minutes, double? DueMinutes = null, double Weight = 1, IReadOnlyList<string>? After = null);

/// <summary>A span of clock minutes in which nobody works; work goes on after it where it stopped.</summary>
/// <param name="FromMinutes">Start, clock minutes from the start of the day.</param>
/// <param name="ToMinutes">End, after the start.</param>
public readonly record struct BenchBreak(double FromMinutes, double ToMinutes);
