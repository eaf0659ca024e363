using CsCheck;
using Whetwright.Core.Abrasives;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Tests.Abrasives;

/// <summary>The chain of least time, against a worked example and against trying every chain.</summary>
public sealed class AbrasivePlannerTests
{
    private static OwnedAbrasive Owned(string name, double d50, double rate, double change = 1) => new(name, d50, CuttingRate.Guess(rate), change);

    [Fact]
    public void Worked_by_hand_two_stages()
    {
        // 0.2 mm² a side, facet 1 mm, κ = 0.5. Coarse 60 µm leaves 0.5·0.060·1 = 0.030 mm²; cuts 0.170 at 0.01: 17 passes a side, 34·0.15 + 2 = 7.1 min.
        // Fine 10 µm is last: cuts 0.030 at 0.001: 30 passes a side, 60·0.15 + 1 = 10 min. Fine alone: 0.2/0.001 = 200 passes a side, 61 min.
        AbrasivePlan plan = AbrasivePlanner.Plan([Owned("coarse", 60, 0.01, 2), Owned("fine", 10, 0.001)], new(0.2, 0.2, 10, 8));

        Assert.Empty(plan.Refusals);
        Assert.Equal("coarse, fine", string.Join(", ", plan.Stages.Select(s => s.Abrasive.Name)));
        Assert.Equal([17, 30], plan.Stages.Select(s => s.PassesLeft));
        Assert.Equal(17.1, plan.Minutes, 1e-9);
    }

    [Fact]
    public void The_chain_found_is_the_best_of_all_chains() =>
        Gen.Select(
            Gen.Select(Gen.Double[1, 100], Gen.Double[0.0005, 0.02], Gen.Double[0, 4]).Array[1, 7],
            Gen.Double[0.01, 0.5],
            Gen.Double[2, 12],
            Gen.Double[1, 60].Nullable())
        .Sample(
            (shelf, area, ratio, from) =>
            {
                OwnedAbrasive[] owned = [.. shelf.Select((a, i) => Owned($"a{i}", a.Item1, a.Item2, a.Item3))];
                AbrasiveTask task = new(area, area / 2, 12, ratio) { FromD50Um = from };

                AbrasivePlan plan = AbrasivePlanner.Plan(owned, task);

                double best = Enumerate(owned, task).DefaultIfEmpty(double.PositiveInfinity).Min();
                if (double.IsInfinity(best))
                    Assert.NotEmpty(plan.Refusals);
                else
                    Assert.Equal(best, plan.Minutes, 1e-9);
            },
            seed: "0000000000002",
            iter: 400);

    [Fact]
    public void A_step_finer_than_the_ratio_is_never_taken()
    {
        AbrasivePlan plan = AbrasivePlanner.Plan([Owned("coarse", 60, 0.01), Owned("middle", 20, 0.004), Owned("fine", 5, 0.001)], new(0.2, 0.2, 5, 4));

        Assert.Equal(3, plan.Stages.Count);
    }

    [Fact]
    public void A_gap_in_the_shelf_is_named()
    {
        AbrasivePlan plan = AbrasivePlanner.Plan([Owned("coarse", 60, 0.01), Owned("fine", 5, 0.001)], new(0.2, 0.2, 5, 4) { FromD50Um = 60 });

        Assert.Equal("no-chain", Assert.Single(plan.Refusals).Code);
        Assert.Contains("coarse (60 µm) to fine (5 µm)", plan.Refusals[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_finish_finer_than_the_shelf_is_refused() =>
        Assert.Contains("finest", AbrasivePlanner.Plan([Owned("coarse", 60, 0.01)], new(0.2, 0.2, 5, 20)).Refusals[0].Text, StringComparison.Ordinal);

    [Fact]
    public void Guesses_burr_and_heat_are_said()
    {
        OwnedAbrasive belt = Owned("belt", 60, 0.01) with { Medium = StageMedium.DryBelt };

        IEnumerable<string> codes = AbrasivePlanner.Plan([belt], new(0.2, 0, 60, 4)).Notes.Select(n => n.Code);

        Assert.Equal("rate-is-a-guess, facet-default, burr, cooling", string.Join(", ", codes));
    }

    [Fact]
    public void A_side_that_is_not_ground_gets_no_pass() =>
        Assert.Equal(0, AbrasivePlanner.Plan([Owned("a", 60, 0.01)], new(0, 0.2, 60, 4)).Stages[0].PassesLeft);

    [Theory]
    [InlineData(-1, 1, 10, 4, "areaMm2")]
    [InlineData(0, 0, 10, 4, "areaMm2")]
    [InlineData(1, 1, double.NaN, 4, "finishD50Um")]
    [InlineData(1, 1, 10, 1, "maxRatio")]
    public void A_number_that_cannot_be_is_named(double left, double right, double finish, double ratio, string field) =>
        Assert.Contains(field, AbrasivePlanner.Plan([Owned("a", 5, 0.01)], new(left, right, finish, ratio)).Refusals[0].Text, StringComparison.Ordinal);

    /// <summary>Every chain there is, priced by its own arithmetic.</summary>
    [Fact]
    public void Stops_run_from_the_fewest_to_the_most_passes_and_the_pen_test_comes_first()
    {
        OwnedAbrasive wheel = Owned("dry", 60, 0.01) with { Medium = Whetwright.Core.Sections.StageMedium.DryWheel };
        AbrasiveStage stage = Assert.Single(AbrasivePlanner.Plan([wheel], new(0.09, 0, 60, 4)).Stages);

        // 0.09/0.01 = 9 passes on the left, none on the right; the second look a third of the way, before pass 4.
        Assert.Equal(9, stage.PassesLeft);
        Assert.All(stage.Stops, s => Assert.Equal(Whetwright.Core.Quantities.Side.Left, s.Side));
        Assert.Equal([StopFor.PenTest, StopFor.PenTest, StopFor.Cooling, StopFor.Burr], stage.Stops.Select(s => s.What));
        Assert.Equal([1, 4], stage.Stops.Take(2).Select(s => s.FromPass));
        Assert.Equal((stage.PassesRange.Fewest, stage.PassesRange.Most + 1), (stage.Stops[^1].FromPass, stage.Stops[^1].ToPass));
    }

    [Fact]
    public void A_wheel_beyond_the_speed_marked_on_it_is_in_no_chain()
    {
        // π·250·3000/60000 = 39.3 m/s by hand, marked 35; slower at 2600: 34.0.
        static OwnedAbrasive On(string name, double rpm) => Owned(name, 60, 0.01) with
        {
            Wheel = new(name, Whetwright.Core.Quantities.MeasuredLength.FromMillimetres(250, 0.25)) { Rpm = rpm, MarkedLimitMs = 35 },
        };
        AbrasiveTask task = new(0.1, 0.1, 60, 4);

        AbrasivePlan refused = AbrasivePlanner.Plan([On("fast", 3000)], task), both = AbrasivePlanner.Plan([On("fast", 3000), On("slow", 2600)], task);

        Assert.Equal("wheel-too-fast", Assert.Single(refused.Refusals).Code);
        Assert.Equal("slow", Assert.Single(both.Stages).Abrasive.Name);
        Assert.Contains(both.Notes, n => n.Code == "wheel-too-fast");
    }

    private static IEnumerable<double> Enumerate(OwnedAbrasive[] owned, AbrasiveTask task)
    {
        OwnedAbrasive[] sorted = [.. owned.OrderByDescending(a => a.D50Um)];
        for (int mask = 1; mask < 1 << sorted.Length; mask++)
        {
            OwnedAbrasive[] chain = [.. sorted.Where((_, i) => (mask >> i & 1) == 1)];
            if (chain[^1].D50Um > task.FinishD50Um || chain.Zip(chain.Skip(1)).Any(p => p.First.D50Um / p.Second.D50Um > task.MaxRatio))
                continue;
            if (task.FromD50Um is { } from && (chain[0].D50Um > from || from / chain[0].D50Um > task.MaxRatio))
                continue;
            double minutes = 0;
            for (int i = 0; i < chain.Length; i++)
            {
                minutes += chain[i].ChangeMinutes;
                foreach (double shape in (double[])[task.LeftMm2, task.RightMm2])
                {
                    double layer = 0.5e-3 * chain[i].D50Um;
                    double cut = i == 0
                        ? Math.Max(Math.Max(shape, 0.5e-3 * (task.FromD50Um ?? 0)) - (chain.Length == 1 ? 0 : layer), layer)
                        : (0.5e-3 * chain[i - 1].D50Um) - (i == chain.Length - 1 ? 0 : layer);
                    minutes += 0.15 * Math.Max(1, Math.Ceiling((cut / chain[i].Rate.AreaPerPassMm2) - 1e-9));
                }
            }

            yield return minutes;
        }
    }
}
