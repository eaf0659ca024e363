using System.Collections.Concurrent;
using System.Diagnostics;
using Whetwright.Core.Quantities;
using Whetwright.Workbench.Days;

namespace Whetwright.Web.Features.Rack.Day;

/// <summary>
/// Searches under way, by their form's token: the Stop button ends one, and the best order so far is kept. It works without scripts too: pressing Stop leaves the
/// page that waits, and the search that was left is found here.
/// </summary>
internal sealed class DaySearches
{
    /// <summary>So long a search that ended can still be asked for (chosen, not derived): Stop and the end may cross.</summary>
    private static readonly TimeSpan Kept = TimeSpan.FromSeconds(60);

    private readonly ConcurrentDictionary<string, Search> searches = new(StringComparer.Ordinal);

    /// <summary>Searches an order; the best so far when the time is over, when it is stopped, or when its page was left.</summary>
    /// <param name="once">Token of the form.</param>
    /// <param name="plan">The day.</param>
    /// <param name="most">Time limit.</param>
    /// <param name="left">The page was left.</param>
    public async Task<(DayPlan? Plan, Reason? Why)> RunAsync(string once, DayPlan plan, TimeSpan most, CancellationToken left)
    {
        foreach ((string token, Search old) in searches.Where(s => s.Value.IsOver(Kept)))
        {
            if (searches.TryRemove(token, out _))
                old.Dispose();
        }

        Search search = searches.GetOrAdd(once, _ => new Search(plan, most));
        using CancellationTokenRegistration leaving = left.Register(search.Stop);
        return await search.Found;
    }

    /// <summary>Searches that run now.</summary>
    public int UnderWay => searches.Values.Count(s => !s.Found.IsCompleted);

    /// <summary>Stops a search and answers with the best so far; null where none is under way.</summary>
    /// <param name="once">Token of the form.</param>
    public async Task<DayPlan?> StopAsync(string once)
    {
        if (!searches.TryGetValue(once, out Search? search))
            return null;
        search.Stop();
        return (await search.Found).Plan;
    }

    private sealed class Search : IDisposable
    {
        private readonly CancellationTokenSource stop;
        private readonly Lock gate = new();
        private bool disposed;
        private long endedAt;

        public Search(DayPlan plan, TimeSpan most)
        {
            stop = new(most);
            CancellationToken token = stop.Token;
            Found = Task.Run(
                () =>
                {
                    try
                    {
                        return plan.Ordered(token);
                    }
                    finally
                    {
                        Volatile.Write(ref endedAt, Stopwatch.GetTimestamp());
                    }
                },
                CancellationToken.None);
        }

        public Task<(DayPlan? Plan, Reason? Why)> Found { get; }

        public bool IsOver(TimeSpan kept) => Found.IsCompleted && Stopwatch.GetElapsedTime(Volatile.Read(ref endedAt)) > kept;

        public void Stop()
        {
            lock (gate)
            {
                if (!disposed)
                    stop.Cancel();
            }
        }

        public void Dispose()
        {
            lock (gate)
                disposed = true;
            stop.Dispose();
        }
    }
}
