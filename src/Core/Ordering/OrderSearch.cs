namespace Whetwright.Core.Ordering;

/// <summary>
/// Iterated local search over orders: moving a run of one to three jobs, swapping two, then a random kick and again.
/// Seeded, anytime, cancellable.
/// </summary>
/// <remarks>
/// Kick: two neighbouring runs change places (the double bridge; O. Martin, S. W. Otto, E. W. Felten, 1991, citation from memory). A worse
/// local optimum is taken now and then, with a temperature that falls over the rounds. After a kick only the jobs beside a changed place are tried first
/// (don't-look bits; J. L. Bentley, 1992, citation from memory); a new best is then tried as a whole.
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
    private readonly int[] _place = new int[day.Jobs.Count];
    private readonly int[][] _before = [.. Enumerable.Range(0, day.Jobs.Count).Select(job => day.After(job).ToArray())];
    private readonly int[][] _behind = [.. Enumerable.Range(0, day.Jobs.Count).Select(job => Enumerable.Range(0, day.Jobs.Count).Where(other => day.After(other).Contains(job)).ToArray())];
    private readonly Queue<int> _open = new();
    private readonly bool[] _isOpen = new bool[day.Jobs.Count];

    /// <summary>Longest run of jobs that one move carries. Chosen, not derived.</summary>
    private const int LongestRun = 3;

    /// <summary>Rounds from warm to cold. Chosen, not derived.</summary>
    private const int Cooling = 1000;

    /// <summary>Rounds without a new best after which the search goes back to it. Chosen, not derived.</summary>
    private const int GiveUp = 500;

    /// <summary>Best order found in so many rounds, or fewer when cancelled or when none can cost less.</summary>
    /// <param name="rounds">Rounds.</param>
    /// <param name="bound">No order costs less than this.</param>
    /// <param name="cancellationToken">Stops early.</param>
    internal int[] Run(int rounds, double bound, CancellationToken cancellationToken)
    {
        int[] current = Improve(Greedy(), null, cancellationToken, out double currentCost);
        int[] best = current;
        double bestCost = currentCost;
        int sinceBest = 0;
        for (int round = 0; round < rounds && !cancellationToken.IsCancellationRequested; round++)
        {
            int[] candidate = Kick(current, out List<int> touched);
            candidate = Improve(candidate, touched, cancellationToken, out double cost);
            if (cost < bestCost - 1e-9)
                candidate = Improve(candidate, null, cancellationToken, out cost);
            double temperature = 0.02 * bestCost * (1 - ((double)(round % Cooling) / Cooling));
            if (cost <= currentCost || _random.NextDouble() < Math.Exp((currentCost - cost) / Math.Max(1e-12, temperature)))
                (current, currentCost) = (candidate, cost);
            if (cost < bestCost - 1e-9)
            {
                (best, bestCost, sinceBest) = (candidate, cost, 0);
            }
            else if (++sinceBest % GiveUp == 0)
            {
                (current, currentCost) = (best, bestCost);
            }

            if (bestCost <= bound + (1e-9 * Math.Max(1, bound)))
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

    private int[] Kick(int[] sequence, out List<int> touched)
    {
        touched = [];
        for (int attempt = 0; attempt < 20; attempt++)
        {
            if (_count < 4)
                break;
            int first = _random.Next(_count - 1);
            int longest = Math.Max(2, Math.Min(_count / 3, 12));
            int second = Math.Min(_count - 1, first + 1 + _random.Next(longest));
            int end = Math.Min(_count, second + 1 + _random.Next(longest));
            int[] kicked = [.. sequence[..first], .. sequence[second..end], .. sequence[first..second], .. sequence[end..]];
            if (!day.KeepsPrecedence(kicked))
                continue;
            foreach (int place in (ReadOnlySpan<int>)[first - 1, first, first + end - second - 1, first + end - second, end - 1, end])
            {
                if (place >= 0 && place < _count)
                    touched.Add(kicked[place]);
            }

            return kicked;
        }

        return [.. sequence];
    }

    /// <summary>Takes improving moves until none is left around the jobs to begin with (all of them where none are named).</summary>
    private int[] Improve(int[] start, List<int>? touched, CancellationToken cancellationToken, out double cost)
    {
        _sequence = [.. start];
        Remember(0);
        int[] all = touched is null ? [.. start] : [.. touched];
        _random.Shuffle(all);
        foreach (int job in all)
            Open(job);
        while (_open.TryDequeue(out int job) && !cancellationToken.IsCancellationRequested)
        {
            _isOpen[job] = false;
            while (MoveFrom(job) && !cancellationToken.IsCancellationRequested)
            {
            }
        }

        while (_open.TryDequeue(out int job))
            _isOpen[job] = false;
        cost = _total;
        return [.. _sequence];
    }

    private void Open(int job)
    {
        if (_isOpen[job])
            return;
        _isOpen[job] = true;
        _open.Enqueue(job);
    }

    /// <summary>Tries every move of the runs that begin or end with a job, and its swaps; true where one was taken.</summary>
    private bool MoveFrom(int job)
    {
        for (int run = 1; run <= LongestRun; run++)
        {
            for (int end = 0; end < (run == 1 ? 1 : 2); end++)
            {
                int from = end == 0 ? _place[job] : _place[job] - run + 1;
                if (from < 0 || from + run > _count)
                    continue;
                (int least, int most) = Reach(from, run);
                for (int to = least; to <= most; to++)
                {
                    if (to == from)
                        continue;
                    MoveRun(_sequence, _trial, from, run, to);
                    if (TakeIfCheaper(Math.Min(from, to), Math.Max(from, to) + run, from, from + run - 1, to, to + run - 1))
                        return true;
                }
            }
        }

        int place = _place[job];
        (int lowest, int highest) = Reach(place, 1);
        for (int other = lowest; other <= highest; other++)
        {
            if (other == place)
                continue;
            _sequence.CopyTo(_trial, 0);
            (_trial[place], _trial[other]) = (_trial[other], _trial[place]);
            if (TakeIfCheaper(Math.Min(place, other), Math.Max(place, other) + 1, place, place, other, other))
                return true;
        }

        return false;
    }

    /// <summary>First and last place to which a run of jobs may move without passing one that it waits for or that waits for it.</summary>
    private (int Least, int Most) Reach(int from, int run)
    {
        int least = 0, most = _count - run;
        for (int at = from; at < from + run; at++)
        {
            foreach (int before in _before[_sequence[at]])
            {
                if (_place[before] < from)
                    least = Math.Max(least, _place[before] + 1);
            }

            foreach (int behind in _behind[_sequence[at]])
            {
                if (_place[behind] >= from + run)
                    most = Math.Min(most, _place[behind] - run);
            }
        }

        return (least, most);
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
    private bool TakeIfCheaper(int first, int end, int from, int fromEnd, int to, int toEnd)
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
        foreach (int place in (ReadOnlySpan<int>)[from - 1, from, fromEnd, fromEnd + 1, to - 1, to, toEnd, toEnd + 1])
        {
            if (place >= 0 && place < _count)
                Open(_sequence[place]);
        }

        return true;
    }

    /// <summary>Set-up, work and lateness before each place of the current order, from a place on.</summary>
    private void Remember(int first)
    {
        int last = first == 0 ? -1 : _sequence[first - 1];
        for (int at = first; at < _count; at++)
        {
            int job = _sequence[at];
            _place[job] = at;
            double change = day.ChangeMinutes(last, job);
            _setup[at + 1] = _setup[at] + change;
            _worked[at + 1] = _worked[at] + change + day.MinutesOf(job);
            _late[at + 1] = _late[at] + (_hasPromises ? day.LateCost(job, _worked[at + 1]) : 0);
            last = job;
        }

        _total = _setup[_count] + _late[_count] + (day.ReturnToStart ? day.ChangeMinutes(last, -1) : 0);
    }
}
