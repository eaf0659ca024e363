using Whetwright.Core.Quantities;

namespace Whetwright.Core.Ordering;

/// <summary>
/// A day's work to be put in order: operations with precedence, the minutes each change of set-up takes, and breaks.
/// Always valid: <see cref="Create"/> refuses what cannot be ordered.
/// </summary>
public sealed class BenchDay
{
    private readonly double[] _minutes;
    private readonly double[] _dueMinutes;
    private readonly double[] _weights;
    private readonly double[][] _changeMinutes;
    private readonly int[][] _after;

    private BenchDay(
        IReadOnlyList<BenchJob> jobs,
        double[][] changeMinutes,
        int[][] after,
        IReadOnlyList<BenchBreak> breaks,
        bool returnToStart)
    {
        Jobs = jobs;
        Breaks = breaks;
        ReturnToStart = returnToStart;
        _minutes = [.. jobs.Select(job => job.Minutes)];
        _dueMinutes = [.. jobs.Select(job => job.DueMinutes ?? double.PositiveInfinity)];
        _weights = [.. jobs.Select(job => job.Weight)];
        _changeMinutes = changeMinutes;
        _after = after;
    }

    /// <summary>The operations, in the order given.</summary>
    public IReadOnlyList<BenchJob> Jobs { get; }

    /// <summary>Breaks in order of time, apart from each other.</summary>
    public IReadOnlyList<BenchBreak> Breaks { get; }

    /// <summary>Whether the bench is put back at the end as it stood at the start.</summary>
    public bool ReturnToStart { get; }

    /// <summary>Whether any promise can cost anything.</summary>
    public bool HasPromises => Jobs.Any(job => job.DueMinutes is not null && job.Weight > 0);

    /// <summary>Makes a day, or gives the reason why it cannot be one.</summary>
    /// <param name="jobs">At least one operation.</param>
    /// <param name="changeMinutes">Square, one row and column more than there are jobs: [from][to], index 0 the bench as it stands.</param>
    /// <param name="breaks">In any order; they must not overlap.</param>
    /// <param name="returnToStart">Whether the change back to the start counts.</param>
    /// <param name="reason">Why not, naming field and value; null where a day came out.</param>
    public static BenchDay? Create(
        IReadOnlyList<BenchJob> jobs,
        IReadOnlyList<IReadOnlyList<double>> changeMinutes,
        IReadOnlyList<BenchBreak>? breaks,
        bool returnToStart,
        out Reason? reason)
    {
        reason = ProblemWithJobs(jobs) ?? ProblemWithChanges(jobs.Count, changeMinutes) ?? ProblemWithBreaks(breaks ?? []);
        if (reason is not null)
            return null;

        Dictionary<string, int> index = jobs.Select((job, at) => (job.Id, at)).ToDictionary(pair => pair.Id, pair => pair.at, StringComparer.Ordinal);
        int[][] after = [.. jobs.Select(job => (job.After ?? []).Select(id => index[id]).Distinct().ToArray())];
        reason = ProblemWithPrecedence(jobs, after);
        if (reason is not null)
            return null;

        double[][] matrix = [.. changeMinutes.Select(row => row.ToArray())];
        return new BenchDay(jobs, matrix, after, [.. (breaks ?? []).OrderBy(span => span.FromMinutes)], returnToStart);
    }

    /// <summary>Minutes of change before job <paramref name="to"/> when <paramref name="from"/> was last; −1 stands for the bench at the start.</summary>
    public double ChangeMinutes(int from, int to) => _changeMinutes[from + 1][to + 1];

    /// <summary>Indices of the jobs that job <paramref name="job"/> waits for.</summary>
    public ReadOnlySpan<int> After(int job) => _after[job];

    /// <summary>Working minutes of a job.</summary>
    public double MinutesOf(int job) => _minutes[job];

    /// <summary>
    /// Clock time at which so many minutes of work are done: breaks push everything behind them.
    /// </summary>
    public double ClockAfterWork(double workedMinutes)
    {
        double clock = workedMinutes;
        foreach (BenchBreak span in Breaks)
        {
            if (clock <= span.FromMinutes)
                break;
            clock += span.ToMinutes - span.FromMinutes;
        }

        return clock;
    }

    /// <summary>Weighted minutes late of a job that is finished after so many minutes of work: w · max(0, clock − due).</summary>
    public double LateCost(int job, double workedMinutes)
    {
        double due = _dueMinutes[job];
        if (double.IsPositiveInfinity(due))
            return 0;
        double late = ClockAfterWork(workedMinutes) - due;
        return late > 0 ? _weights[job] * late : 0;
    }

    /// <summary>objective = set-up minutes + Σ weight · minutes late, for a sequence of job indices.</summary>
    public (double SetupMinutes, double WeightedLateMinutes) Cost(ReadOnlySpan<int> sequence)
    {
        double setup = 0;
        double worked = 0;
        double late = 0;
        int last = -1;
        foreach (int job in sequence)
        {
            double change = _changeMinutes[last + 1][job + 1];
            setup += change;
            worked += change + _minutes[job];
            late += LateCost(job, worked);
            last = job;
        }

        if (ReturnToStart)
            setup += _changeMinutes[last + 1][0];
        return (setup, late);
    }

    /// <summary>When each job of a sequence is done.</summary>
    public IReadOnlyList<TimedJob> Timetable(IReadOnlyList<int> sequence)
    {
        List<TimedJob> times = [];
        double worked = 0;
        int last = -1;
        foreach (int job in sequence)
        {
            double change = ChangeMinutes(last, job);
            worked += change + _minutes[job];
            double clock = ClockAfterWork(worked);
            times.Add(new(job, change, clock, Math.Max(0, clock - _dueMinutes[job])));
            last = job;
        }

        return times;
    }

    /// <summary>Whether every job of the sequence comes behind those it waits for.</summary>
    public bool KeepsPrecedence(ReadOnlySpan<int> sequence)
    {
        Span<int> place = sequence.Length <= 256 ? stackalloc int[sequence.Length] : new int[sequence.Length];
        for (int at = 0; at < sequence.Length; at++)
            place[sequence[at]] = at;
        for (int job = 0; job < sequence.Length; job++)
        {
            foreach (int before in _after[job])
            {
                if (place[before] > place[job])
                    return false;
            }
        }

        return true;
    }

    private static Reason? ProblemWithJobs(IReadOnlyList<BenchJob> jobs)
    {
        if (jobs.Count == 0)
            return new("no-jobs", "jobs is empty: a day needs at least one job.");
        HashSet<string> ids = new(StringComparer.Ordinal);
        foreach (BenchJob job in jobs)
        {
            if (string.IsNullOrWhiteSpace(job.Id))
                return new("job-without-id", "jobs has an entry without id: give every job a name of its own.");
            if (!ids.Add(job.Id))
                return new("job-id-twice", $"jobs has the id '{job.Id}' twice: give every job a name of its own.");
            if (!double.IsFinite(job.Minutes) || job.Minutes < 0)
                return new("bad-minutes", FormattableString.Invariant($"minutes of job '{job.Id}' is {job.Minutes}: it must be zero or more."));
            if (job.DueMinutes is { } due && !double.IsFinite(due))
                return new("bad-due", FormattableString.Invariant($"dueMinutes of job '{job.Id}' is {due}: it must be a finite number; leave it out where nothing is promised."));
            if (!double.IsFinite(job.Weight) || job.Weight < 0)
                return new("bad-weight", FormattableString.Invariant($"weight of job '{job.Id}' is {job.Weight}: it must be zero or more."));
        }

        foreach (BenchJob job in jobs)
        {
            foreach (string id in job.After ?? [])
            {
                if (!ids.Contains(id))
                    return new("unknown-job", $"after of job '{job.Id}' names '{id}', which is no job of this day.");
            }
        }

        return null;
    }

    private static Reason? ProblemWithChanges(int jobs, IReadOnlyList<IReadOnlyList<double>> changeMinutes)
    {
        if (changeMinutes.Count != jobs + 1)
            return new("bad-change-matrix", $"changeMinutes has {changeMinutes.Count} rows: {jobs} jobs need {jobs + 1}, row 0 the bench as it stands.");
        for (int row = 0; row < changeMinutes.Count; row++)
        {
            if (changeMinutes[row].Count != jobs + 1)
                return new("bad-change-matrix", $"changeMinutes[{row}] has {changeMinutes[row].Count} numbers: {jobs} jobs need {jobs + 1}.");
            for (int column = 0; column <= jobs; column++)
            {
                double value = changeMinutes[row][column];
                if (row != column && (!double.IsFinite(value) || value < 0))
                    return new("bad-change-matrix", FormattableString.Invariant($"changeMinutes[{row}][{column}] is {value}: it must be zero or more."));
            }
        }

        return null;
    }

    private static Reason? ProblemWithBreaks(IReadOnlyList<BenchBreak> breaks)
    {
        double end = double.NegativeInfinity;
        foreach (BenchBreak span in breaks.OrderBy(span => span.FromMinutes))
        {
            if (!double.IsFinite(span.FromMinutes) || !double.IsFinite(span.ToMinutes) || span.ToMinutes <= span.FromMinutes || span.FromMinutes < 0)
                return new("bad-break", FormattableString.Invariant($"breaks has [{span.FromMinutes}, {span.ToMinutes}]: it must run from a minute of the day to a later one."));
            if (span.FromMinutes < end)
                return new("breaks-overlap", FormattableString.Invariant($"breaks overlap at minute {span.FromMinutes}: make one break of the two."));
            end = span.ToMinutes;
        }

        return null;
    }

    private static Reason? ProblemWithPrecedence(IReadOnlyList<BenchJob> jobs, int[][] after)
    {
        int[] waiting = [.. after.Select(before => before.Length)];
        Queue<int> ready = new(Enumerable.Range(0, jobs.Count).Where(job => waiting[job] == 0));
        int placed = 0;
        while (ready.TryDequeue(out int done))
        {
            placed++;
            for (int job = 0; job < jobs.Count; job++)
            {
                if (after[job].Contains(done) && --waiting[job] == 0)
                    ready.Enqueue(job);
            }
        }

        if (placed == jobs.Count)
            return null;
        string circle = string.Join(", ", Enumerable.Range(0, jobs.Count).Where(job => waiting[job] > 0).Select(job => $"'{jobs[job].Id}'"));
        return new("jobs-wait-in-a-circle", $"after makes {circle} wait for each other: take one of them out.");
    }
}
