namespace Whetwright.Core.Ordering;

/// <summary>
/// Iterated local search over orders: moving a run of one to three jobs, swapping two, then a random kick and again.
/// Seeded, anytime, cancellable.
/// </summary>
/// <remarks>
/// Kick: two neighbouring runs change places (the double bridge; O. Martin, S. W. Otto, E. W. Felten, 1991, citation from memory). A worse
/// local optimum is taken now and then, with a temperature that falls over the rounds.
/// </remarks>
internal sealed class OrderSearch(BenchDay day, int seed)
{
    private readonly Random _random = new(seed);
    private readonly int _count = day.Jobs.Count;
    private readonly bool _hasPromises = day.HasPromises;
    private readonly double[] _setup = new double[day.Jobs.Count + 1];
    private readonly double[] _worked = new double[day.Jobs.Count + 1];
    private readonly double[] _late = new double[day.Jobs.Count + 1];
    private double _total;
    private int[] _sequence = [];
    private int[] _trial = new int[day.Jobs.Count];

    /// <summary>Longest run of jobs that one move carries. Chosen, not derived.</summary>
    private const int LongestRun = 3;

    /// <summary>Best order found in so many rounds, or fewer when cancelled.</summary>
    internal int[] Run(int rounds, CancellationToken cancellationToken)
    {
        int[] current = Improve(Greedy(), cancellationToken, out double currentCost);
        int[] best = current;
        double bestCost = currentCost;
        int sinceBest = 0;
        for (int round = 0; round < rounds && !cancellationToken.IsCancellationRequested; round++)
        {
            int[] candidate = Improve(Kick(current), cancellationToken, out double cost);
            double temperature = 0.02 * bestCost * (1 - ((double)(round % 400) / 400));
            if (cost <= currentCost || _random.NextDouble() < Math.Exp((currentCost - cost) / Math.Max(1e-12, temperature)))
                (current, currentCost) = (candidate, cost);
            if (cost < bestCost - 1e-9)
            {
                (best, bestCost, sinceBest) = (candidate, cost, 0);
            }
            else if (++sinceBest % 150 == 0)
            {
                (current, currentCost) = (best, bestCost);
            }

            if (bestCost <= 1e-12)
                break;
        }

        return best;
    }

    /// <summary>First order: of the jobs that may start, the one with the cheapest change and lateness, soonest promise first among equals.</summary>
    private int[] Greedy()
    {
        int[] sequence = new int[_count];
        bool[] done = new bool[_count];
        double worked = 0;
        int last = -1;
        for (int at = 0; at < _count; at++)
        {
            int next = -1;
            (double Cost, double Due) least = (double.PositiveInfinity, double.PositiveInfinity);
            for (int job = 0; job < _count; job++)
            {
                if (done[job] || !IsReady(job, done))
                    continue;
                double change = day.ChangeMinutes(last, job);
                (double, double) cost = (change + day.LateCost(job, worked + change + day.MinutesOf(job)), day.Jobs[job].DueMinutes ?? double.MaxValue);
                if (next < 0 || cost.CompareTo(least) < 0)
                    (next, least) = (job, cost);
            }

            worked += day.ChangeMinutes(last, next) + day.MinutesOf(next);
            sequence[at] = last = next;
            done[next] = true;
        }

        return sequence;
    }

    private bool IsReady(int job, bool[] done)
    {
        foreach (int before in day.After(job))
        {
            if (!done[before])
                return false;
        }

        return true;
    }

    private int[] Kick(int[] sequence)
    {
        for (int attempt = 0; attempt < 20; attempt++)
        {
            if (_count < 4)
                break;
            int first = _random.Next(_count - 1);
            int longest = Math.Max(2, Math.Min(_count / 3, 12));
            int second = Math.Min(_count - 1, first + 1 + _random.Next(longest));
            int end = Math.Min(_count, second + 1 + _random.Next(longest));
            int[] kicked = [.. sequence[..first], .. sequence[second..end], .. sequence[first..second], .. sequence[end..]];
            if (day.KeepsPrecedence(kicked))
                return kicked;
        }

        return [.. sequence];
    }

    /// <summary>Takes improving moves, in an order drawn anew, until none is left.</summary>
    private int[] Improve(int[] start, CancellationToken cancellationToken, out double cost)
    {
        _sequence = [.. start];
        Remember(0);
        int[] froms = [.. Enumerable.Range(0, _count)];
        bool improved = true;
        while (improved && !cancellationToken.IsCancellationRequested)
        {
            improved = false;
            _random.Shuffle(froms);
            foreach (int from in froms)
            {
                for (int run = 1; run <= LongestRun && from + run <= _count; run++)
                {
                    for (int to = 0; to <= _count - run; to++)
                    {
                        if (to == from)
                            continue;
                        MoveRun(_sequence, _trial, from, run, to);
                        improved |= TakeIfCheaper(Math.Min(from, to), Math.Max(from, to) + run);
                    }
                }

                for (int other = from + 1; other < _count; other++)
                {
                    _sequence.CopyTo(_trial, 0);
                    (_trial[from], _trial[other]) = (_trial[other], _trial[from]);
                    improved |= TakeIfCheaper(from, other + 1);
                }
            }
        }

        cost = _total;
        return [.. _sequence];
    }

    private static void MoveRun(int[] sequence, int[] trial, int from, int run, int to)
    {
        ReadOnlySpan<int> rest = sequence;
        if (to < from)
        {
            rest[..to].CopyTo(trial);
            rest.Slice(from, run).CopyTo(trial.AsSpan(to));
            rest[to..from].CopyTo(trial.AsSpan(to + run));
            rest[(from + run)..].CopyTo(trial.AsSpan(from + run));
        }
        else
        {
            rest[..from].CopyTo(trial);
            rest[(from + run)..(to + run)].CopyTo(trial.AsSpan(from));
            rest.Slice(from, run).CopyTo(trial.AsSpan(to));
            rest[(to + run)..].CopyTo(trial.AsSpan(to + run));
        }
    }

    /// <summary>Takes the trial order if it costs less; it differs from the current one only in places first to end − 1.</summary>
    private bool TakeIfCheaper(int first, int end)
    {
        double setup = _setup[first];
        double worked = _worked[first];
        double late = _late[first];
        int last = first == 0 ? -1 : _trial[first - 1];
        for (int at = first; at < _count; at++)
        {
            int job = _trial[at];
            double change = day.ChangeMinutes(last, job);
            setup += change;
            worked += change + day.MinutesOf(job);
            late += _hasPromises ? day.LateCost(job, worked) : 0;
            if (setup + late >= _total - 1e-9)
                return false;
            last = job;

            // Past the changed stretch the rest costs what it did, unless a promise now meets another time.
            if (at >= end && (!_hasPromises || Math.Abs(worked - _worked[at + 1]) < 1e-12))
            {
                setup += _setup[_count] - _setup[at + 1];
                late += _late[_count] - _late[at + 1];
                last = _trial[^1];
                break;
            }
        }

        if (day.ReturnToStart)
            setup += day.ChangeMinutes(last, -1);
        if (setup + late >= _total - 1e-9 || !day.KeepsPrecedence(_trial))
            return false;
        (_sequence, _trial) = (_trial, _sequence);
        Remember(first);
        return true;
    }

    /// <summary>Set-up, work and lateness before each place of the current order, from a place on.</summary>
    private void Remember(int first)
    {
        int last = first == 0 ? -1 : _sequence[first - 1];
        for (int at = first; at < _count; at++)
        {
            int job = _sequence[at];
            double change = day.ChangeMinutes(last, job);
            _setup[at + 1] = _setup[at] + change;
            _worked[at + 1] = _worked[at] + change + day.MinutesOf(job);
            _late[at + 1] = _late[at] + (_hasPromises ? day.LateCost(job, _worked[at + 1]) : 0);
            last = job;
        }

        _total = _setup[_count] + _late[_count] + (day.ReturnToStart ? day.ChangeMinutes(last, -1) : 0);
    }
}
