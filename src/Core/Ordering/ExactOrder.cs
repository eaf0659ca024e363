namespace Whetwright.Core.Ordering;

/// <summary>
/// Proves the cheapest order of a small day by dynamic programming over sets of finished jobs.
/// </summary>
/// <remarks>
/// A state is the set done and the job done last. With the set known, the time worked is its minutes plus the set-up so far, so a
/// partial order is told by two numbers: set-up so far σ, and cost so far σ + λ. One that is not smaller in either can be dropped, since later
/// lateness never falls with time. Without promises one label per state remains: M. Held and R. M. Karp, "A dynamic programming approach to
/// sequencing problems", J. SIAM 10(1), 1962 (citation from memory).
/// </remarks>
internal static class ExactOrder
{
    /// <summary>Most jobs tried: the state's set is a bit mask. Chosen, not derived.</summary>
    internal const int MostJobs = 20;

    /// <summary>The cheapest sequence, or null where the labels would pass <paramref name="mostLabels"/> or the search was cancelled.</summary>
    /// <param name="day">The day.</param>
    /// <param name="upperBound">Cost of a known order: partial orders at or above it are dropped.</param>
    /// <param name="mostLabels">Most labels held, which bounds memory and time.</param>
    /// <param name="cancellationToken">Stops the search; null comes back.</param>
    /// <returns>The sequence; an empty one where nothing is cheaper than the upper bound.</returns>
    internal static int[]? Find(BenchDay day, double upperBound, int mostLabels, CancellationToken cancellationToken)
    {
        int count = day.Jobs.Count;
        if (count > MostJobs)
            return null;

        int[] waitsFor = new int[count];
        double[] leastInto = new double[count];
        for (int job = 0; job < count; job++)
        {
            foreach (int before in day.After(job))
                waitsFor[job] |= 1 << before;
            leastInto[job] = double.PositiveInfinity;
            for (int from = -1; from < count; from++)
            {
                if (from != job)
                    leastInto[job] = Math.Min(leastInto[job], day.ChangeMinutes(from, job));
            }
        }

        double leastBack = !day.ReturnToStart ? 0 : Enumerable.Range(0, count).Min(job => day.ChangeMinutes(job, -1));
        double cut = upperBound - (1e-9 * Math.Max(1, Math.Abs(upperBound)));
        List<Label> all = [];
        Dictionary<(int Set, int Last), List<int>> layer = [];

        bool Extend(int parent, int set, int last, int job, double setup, double late, double minutes, double restLeast)
        {
            double change = day.ChangeMinutes(last, job);
            double newSetup = setup + change;
            double newLate = late + day.LateCost(job, newSetup + minutes + day.MinutesOf(job));
            if (newSetup + newLate + restLeast - leastInto[job] + leastBack >= cut)
                return true;

            (int Set, int Last) key = (set | (1 << job), job);
            if (!layer.TryGetValue(key, out List<int>? labels))
                layer[key] = labels = [];
            for (int at = labels.Count - 1; at >= 0; at--)
            {
                Label other = all[labels[at]];
                if (other.Setup <= newSetup && other.Setup + other.Late <= newSetup + newLate)
                    return true;
                if (newSetup <= other.Setup && newSetup + newLate <= other.Setup + other.Late)
                    labels.RemoveAt(at);
            }

            labels.Add(all.Count);
            all.Add(new Label(parent, job, newSetup, newLate));
            return all.Count <= mostLabels;
        }

        double restOfAll = leastInto.Sum();
        for (int job = 0; job < count; job++)
        {
            if (waitsFor[job] == 0 && !Extend(-1, 0, -1, job, 0, 0, 0, restOfAll))
                return null;
        }

        for (int size = 1; size < count; size++)
        {
            Dictionary<(int Set, int Last), List<int>> done = layer;
            layer = [];
            foreach (((int set, int last), List<int> labels) in done)
            {
                if (cancellationToken.IsCancellationRequested)
                    return null;
                double minutes = 0;
                double rest = 0;
                for (int job = 0; job < count; job++)
                {
                    if ((set & (1 << job)) != 0)
                        minutes += day.MinutesOf(job);
                    else
                        rest += leastInto[job];
                }

                for (int job = 0; job < count; job++)
                {
                    if ((set & (1 << job)) != 0 || (waitsFor[job] & ~set) != 0)
                        continue;
                    foreach (int label in labels)
                    {
                        if (!Extend(label, set, last, job, all[label].Setup, all[label].Late, minutes, rest))
                            return null;
                    }
                }
            }
        }

        int best = -1;
        double bestCost = cut;
        foreach (int label in layer.Values.SelectMany(labels => labels))
        {
            double cost = all[label].Setup + all[label].Late + (day.ReturnToStart ? day.ChangeMinutes(all[label].Job, -1) : 0);
            if (cost < bestCost)
                (best, bestCost) = (label, cost);
        }

        List<int> sequence = [];
        for (int at = best; at >= 0; at = all[at].Parent)
            sequence.Add(all[at].Job);
        sequence.Reverse();
        return [.. sequence];
    }

    private readonly record struct Label(int Parent, int Job, double Setup, double Late);
}
