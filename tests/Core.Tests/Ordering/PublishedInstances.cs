using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Ordering;

namespace Whetwright.Core.Tests.Ordering;

/// <summary>Published sequencing instances as bench days.</summary>
internal static class PublishedInstances
{
    /// <summary>A closed tour of cities: the first city is the bench as it stands, the others are jobs of no length.</summary>
    internal static BenchDay Tour(string name)
    {
        double[][] matrix = [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Data", $"atsp_{name}.csv")).Skip(1)
            .Select(line => line.Split(',').Skip(1).Select(cell => double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture)).ToArray())];
        BenchJob[] jobs = [.. Enumerable.Range(1, matrix.Length - 1).Select(city => new BenchJob($"city {city + 1}", 0))];
        return Day(jobs, matrix, returnToStart: true);
    }

    /// <summary>One of the first three weighted-tardiness instances of forty jobs, with its published optimum.</summary>
    internal static (BenchDay Day, double Optimum) Tardiness(int index)
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Data", "wt40_first3.json")));
        JsonElement instance = document.RootElement.GetProperty("instances")[index];
        double[] minutes = Numbers(instance, "processing");
        double[] weights = Numbers(instance, "weight");
        double[] due = Numbers(instance, "due");
        BenchJob[] jobs = [.. minutes.Select((length, job) => new BenchJob($"job {job + 1}", length, due[job], weights[job]))];
        double[][] none = [.. Enumerable.Range(0, jobs.Length + 1).Select(_ => new double[jobs.Length + 1])];
        return (Day(jobs, none), instance.GetProperty("optimal_total_weighted_tardiness").GetDouble());
    }

    internal static BenchDay Day(
        IReadOnlyList<BenchJob> jobs,
        IReadOnlyList<IReadOnlyList<double>> changes,
        IReadOnlyList<BenchBreak>? breaks = null,
        bool returnToStart = false) =>
        BenchDay.Create(jobs, changes, breaks, returnToStart, out Whetwright.Core.Quantities.Reason? reason)
        ?? throw new InvalidOperationException(reason!.Text);

    private static double[] Numbers(JsonElement instance, string name) =>
        [.. instance.GetProperty(name).EnumerateArray().Select(value => value.GetDouble())];
}
