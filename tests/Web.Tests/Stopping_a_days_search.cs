using Whetwright.Core.Ordering;
using Whetwright.Web.Features.Rack.Day;
using Whetwright.Workbench.Days;

namespace Whetwright.Web.Tests;

/// <summary>Searches that would go on for an hour; a guard of half a minute turns one that cannot be stopped into a failure.</summary>
public sealed class Stopping_a_days_search
{
    private static readonly TimeSpan s_guard = TimeSpan.FromSeconds(30);

    [Fact]
    public async Task The_stop_button_ends_it_and_both_answers_hold_the_best_so_far()
    {
        var searches = new DaySearches();
        Task<(DayPlan? Plan, Core.Quantities.Reason? Why)> running = searches.RunAsync("form", Day(), TimeSpan.FromHours(1), CancellationToken.None);
        DayPlan? stopped = await searches.StopAsync("form").WaitAsync(s_guard, TestContext.Current.CancellationToken);
        Assert.Equal(30, stopped!.Operations.Count);
        Assert.False(stopped.Proved);
        Assert.Same(stopped, (await running).Plan);
    }

    [Fact]
    public async Task Leaving_the_page_that_waits_ends_it_too()
    {
        using var left = new CancellationTokenSource();
        Task<(DayPlan? Plan, Core.Quantities.Reason? Why)> running = new DaySearches().RunAsync("form", Day(), TimeSpan.FromHours(1), left.Token);
        await left.CancelAsync();
        Assert.NotNull((await running.WaitAsync(s_guard, TestContext.Current.CancellationToken)).Plan);
    }

    [Fact]
    public async Task Where_none_is_under_way_there_is_nothing_to_keep() => Assert.Null(await new DaySearches().StopAsync("form"));

    // Invented pieces; no two at one angle.
    private static DayPlan Day() => new(
        [.. Enumerable.Range(0, 30).Select(i => new DayOperation($"{i:00}", i, $"{i}", $"Knife {i}", "bench work", 1, "rig", 1 + (i % 3), null, 12 + (0.3 * (i * 7 % 30)), 5 + (i % 4), "invented", i % 2 == 0 ? 60 + (i * 5) : null, 1 + (i % 3)))],
        SetupLearning.From([]), new Dictionary<long, double>(), 480, [], null, 0, false);
}
