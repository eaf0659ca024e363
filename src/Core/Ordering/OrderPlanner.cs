namespace Whetwright.Core.Ordering;

/// <summary>Puts a bench day in order: local search first, then, where the day is small enough, proof.</summary>
public static class OrderPlanner
{
    /// <summary>Rounds of local search where the caller names none. Chosen, not derived.</summary>
    public const int DefaultRounds = 2000;

    /// <summary>Labels that a proof may hold. Chosen, not derived: about 100 MB at the most.</summary>
    private const int MostLabels = 2_000_000;

    /// <summary>The best order found. Never called proved unless it is.</summary>
    /// <param name="day">The day.</param>
    /// <param name="seed">Same day, seed and rounds, not cancelled: same order.</param>
    /// <param name="rounds">Rounds of local search, zero or more.</param>
    /// <param name="cancellationToken">Stops early with the best so far.</param>
    /// <exception cref="ArgumentOutOfRangeException">Negative rounds.</exception>
    public static DayOrder Plan(BenchDay day, int seed = 1, int rounds = DefaultRounds, CancellationToken cancellationToken = default)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(rounds);
        double bound = SetupBound.Of(day);
        // A day that may be proved is not searched for long before the proof is tried.
        int first = day.Jobs.Count <= ExactOrder.MostJobs ? Math.Min(rounds, DefaultRounds) : rounds;
        int[] sequence = new OrderSearch(day, seed).Run(first, bound, cancellationToken);
        double cost = CostOf(day, sequence);
        bool proved = cost <= bound + (1e-9 * Math.Max(1, bound));
        if (!proved && !cancellationToken.IsCancellationRequested)
        {
            int[]? cheaper = ExactOrder.Find(day, cost, MostLabels, cancellationToken);
            if (cheaper is not null)
            {
                if (cheaper.Length > 0)
                    sequence = cheaper;
                (proved, bound) = (true, CostOf(day, sequence));
            }
        }

        if (!proved && rounds > first && !cancellationToken.IsCancellationRequested)
        {
            int[] further = new OrderSearch(day, unchecked(seed + 1)).Run(rounds - first, bound, cancellationToken);
            sequence = CostOf(day, further) < CostOf(day, sequence) ? further : sequence;
            proved = CostOf(day, sequence) <= bound + (1e-9 * Math.Max(1, bound));
        }

        return Describe(day, sequence, bound, proved);
    }

    /// <summary>What an order that a person has made costs, next to the bound.</summary>
    /// <exception cref="ArgumentException">The sequence is no order of this day's jobs, or breaks precedence.</exception>
    public static DayOrder Evaluate(BenchDay day, IReadOnlyList<int> sequence)
    {
        int[] order = [.. sequence];
        if (!order.Order().SequenceEqual(Enumerable.Range(0, day.Jobs.Count)))
            throw new ArgumentException("The sequence must hold every job once.", nameof(sequence));
        if (!day.KeepsPrecedence(order))
            throw new ArgumentException("The sequence starts a job before one that it waits for.", nameof(sequence));
        double bound = SetupBound.Of(day);
        return Describe(day, order, bound, CostOf(day, order) <= bound + (1e-9 * Math.Max(1, bound)));
    }

    private static double CostOf(BenchDay day, int[] sequence)
    {
        (double setup, double late) = day.Cost(sequence);
        return setup + late;
    }

    private static DayOrder Describe(BenchDay day, int[] sequence, double bound, bool proved)
    {
        (double setup, double late) = day.Cost(sequence);
        return new DayOrder(sequence, setup, late, Math.Min(bound, setup + late), proved);
    }
}
