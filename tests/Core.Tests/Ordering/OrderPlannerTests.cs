using Whetwright.Core.Ordering;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Ordering;

public sealed class OrderPlannerTests
{
    [Fact]
    public void Small_days_are_proved_and_agree_with_trying_every_order()
    {
        Random random = new(20261);
        for (int trial = 0; trial < 60; trial++)
        {
            BenchDay day = RandomDay(random, jobs: 2 + random.Next(6));

            DayOrder order = OrderPlanner.Plan(day, seed: trial, rounds: 0);

            Assert.True(order.Proved);
            Assert.Equal(CheapestByTryingAll(day), order.Objective, 9);
            Assert.True(day.KeepsPrecedence([.. order.Sequence]));
        }
    }

    [Fact]
    public void A_constraint_solver_agrees_on_two_hundred_small_days()
    {
        // CP-SAT of OR-Tools, by a model written apart from ours.
        Random random = new(20263);
        for (int trial = 0; trial < 200; trial++)
        {
            BenchDay day = Simulated.InventedDays.Any(random, jobs: 2 + random.Next(trial % 10 == 0 ? 7 : 5));

            DayOrder order = OrderPlanner.Plan(day, seed: trial, rounds: 20);
            (double cost, _, bool proved) = Simulated.SolverModel.Solve(day, seconds: 60);

            Assert.True(proved && order.Proved);
            Assert.Equal(cost, order.Objective, 1e-6);
        }
    }

    [Fact]
    public void A_day_of_stages_ends_near_what_a_longer_search_finds()
    {
        // A slice of bench/Ordering: ten pieces of three stages each, four times the rounds.
        BenchDay day = Simulated.InventedDays.Stages(new Random(20264), pieces: 10);

        double brief = OrderPlanner.Plan(day, seed: 1, rounds: 1500).Objective, longer = OrderPlanner.Plan(day, seed: 2, rounds: 6000).Objective;

        Assert.InRange(brief, 0, longer * 1.02);
    }

    [Fact]
    public void The_bound_never_passes_the_cheapest_order()
    {
        Random random = new(20262);
        for (int trial = 0; trial < 60; trial++)
        {
            BenchDay day = RandomDay(random, jobs: 6);
            int[] anyOrder = [.. OrderPlanner.Plan(day, seed: 1, rounds: 0).Sequence];

            Assert.InRange(OrderPlanner.Evaluate(day, anyOrder).Bound, 0, CheapestByTryingAll(day) + 1e-9);
        }
    }

    [Fact]
    public void The_same_day_seed_and_rounds_give_the_same_order()
    {
        BenchDay day = RandomDay(new Random(3), jobs: 25);

        Assert.Equal(
            OrderPlanner.Plan(day, seed: 5, rounds: 30).Sequence,
            OrderPlanner.Plan(day, seed: 5, rounds: 30).Sequence);
    }

    [Fact]
    public void A_cancelled_search_still_hands_back_an_order_that_keeps_precedence()
    {
        BenchDay day = RandomDay(new Random(4), jobs: 40);
        using CancellationTokenSource source = new();
        source.Cancel();

        DayOrder order = OrderPlanner.Plan(day, cancellationToken: source.Token);

        Assert.Equal(Enumerable.Range(0, 40), order.Sequence.Order());
        Assert.True(day.KeepsPrecedence([.. order.Sequence]));
    }

    [Fact]
    public void Work_stops_in_a_break_and_goes_on_after_it()
    {
        // 50 minutes of work from minute 0 with a break from 30 to 45 end at minute 65: 5 late for a promise at 60.
        BenchDay day = PublishedInstances.Day([new BenchJob("a", 50, 60)], [[0, 0], [0, 0]], [new BenchBreak(30, 45)]);

        DayOrder order = OrderPlanner.Plan(day);

        Assert.Equal(5, order.WeightedLateMinutes, 12);
    }

    [Fact]
    public void Putting_the_bench_back_counts_when_asked_for()
    {
        double[][] changes = [[0, 4], [9, 0]];

        Assert.Equal(4, OrderPlanner.Plan(PublishedInstances.Day([new BenchJob("a", 1)], changes)).SetupMinutes);
        Assert.Equal(13, OrderPlanner.Plan(PublishedInstances.Day([new BenchJob("a", 1)], changes, returnToStart: true)).SetupMinutes);
    }

    [Fact]
    public void An_order_made_by_hand_is_priced_and_a_wrong_one_refused()
    {
        BenchDay day = PublishedInstances.Day([new BenchJob("a", 1), new BenchJob("b", 1, After: ["a"])], [[0, 1, 2], [0, 0, 3], [0, 1, 0]]);

        Assert.Equal(4, OrderPlanner.Evaluate(day, [0, 1]).Objective, 12);
        Assert.Throws<ArgumentException>(() => OrderPlanner.Evaluate(day, [1, 0]));
        Assert.Throws<ArgumentException>(() => OrderPlanner.Evaluate(day, [0, 0]));
    }

    public static TheoryData<string, BenchJob[], double[][], BenchBreak[]> Refused => new()
    {
        { "no-jobs", [], [[0]], [] },
        { "job-id-twice", [new("a", 1), new("a", 2)], Zeros(3), [] },
        { "bad-minutes", [new("a", -1)], Zeros(2), [] },
        { "bad-minutes", [new("a", double.NaN)], Zeros(2), [] },
        { "bad-weight", [new("a", 1, 5, -2)], Zeros(2), [] },
        { "unknown-job", [new("a", 1, After: ["ghost"])], Zeros(2), [] },
        { "jobs-wait-in-a-circle", [new("a", 1, After: ["b"]), new("b", 1, After: ["a"])], Zeros(3), [] },
        { "bad-change-matrix", [new("a", 1)], [[0, 1]], [] },
        { "bad-change-matrix", [new("a", 1)], [[0, -1], [0, 0]], [] },
        { "bad-break", [new("a", 1)], Zeros(2), [new(30, 20)] },
        { "breaks-overlap", [new("a", 1)], Zeros(2), [new(10, 20), new(15, 25)] },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_day_that_cannot_be_ordered_is_refused_with_the_field_named(string code, BenchJob[] jobs, double[][] changes, BenchBreak[] breaks)
    {
        Assert.Null(BenchDay.Create(jobs, changes, breaks, false, out Reason? reason));
        Assert.Equal(code, reason!.Code);
        Assert.NotEmpty(reason.Text);
    }

    private static double[][] Zeros(int size) => [.. Enumerable.Range(0, size).Select(_ => new double[size])];

    private static BenchDay RandomDay(Random random, int jobs)
    {
        BenchJob[] made = new BenchJob[jobs];
        for (int job = 0; job < jobs; job++)
        {
            List<string> after = [];
            if (job > 0 && random.Next(3) == 0)
                after.Add($"job {random.Next(job)}");
            made[job] = new($"job {job}", random.Next(5, 30), random.Next(2) == 0 ? random.Next(10, 120) : null, random.Next(1, 4), after);
        }

        double[][] changes = [.. Enumerable.Range(0, jobs + 1).Select(_ => Enumerable.Range(0, jobs + 1).Select(_ => (double)random.Next(0, 15)).ToArray())];
        return PublishedInstances.Day(made, changes, [new BenchBreak(60, 75)], random.Next(2) == 0);
    }

    private static double CheapestByTryingAll(BenchDay day)
    {
        double best = double.PositiveInfinity;
        void Extend(List<int> sequence)
        {
            if (sequence.Count == day.Jobs.Count)
            {
                if (day.KeepsPrecedence([.. sequence]))
                {
                    (double setup, double late) = day.Cost([.. sequence]);
                    best = Math.Min(best, setup + late);
                }

                return;
            }

            for (int job = 0; job < day.Jobs.Count; job++)
            {
                if (sequence.Contains(job))
                    continue;
                sequence.Add(job);
                Extend(sequence);
                sequence.RemoveAt(sequence.Count - 1);
            }
        }

        Extend([]);
        return best;
    }
}
