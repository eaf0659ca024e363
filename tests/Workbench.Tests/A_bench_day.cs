using Whetwright.Core.Ordering;
using Whetwright.Workbench.Days;

namespace Whetwright.Workbench.Tests;

/// <summary>The order of a bench day: what changes cost, what an order costs, what a person may change.</summary>
public sealed class A_bench_day
{
    private static readonly Dictionary<long, double> NoMinutes = [];

    /// <summary>By hand, defaults 3, 2, 1.5, 1: same piece, other wheel 2; other piece, same wheel and angle 3; other angle as well 4.5; other rig 3 + 1.</summary>
    [Fact]
    public void A_change_costs_what_really_changes()
    {
        DayOperation coarse = Operation(1, 1, wheel: 1, angle: 15), fine = Operation(1, 2, wheel: 2, angle: 15), other = Operation(2, 1, wheel: 1, angle: 15), steeper = Operation(3, 1, wheel: 1, angle: 17), rod = Operation(4, 1, rig: 2, wheel: null, angle: 15);
        SetupTimes setups = SetupTimes.Usual;

        Assert.Equal(2, setups.Between(coarse.Setup(), fine.Setup()));
        Assert.Equal(4, setups.Between(coarse.Setup(), fine.Setup(4)));
        Assert.Equal(3, setups.Between(coarse.Setup(), other.Setup()));
        Assert.Equal(4.5, setups.Between(coarse.Setup(), steeper.Setup()));
        Assert.Equal(4, setups.Between(coarse.Setup(), rod.Setup()));
        Assert.Equal("same piece, same angle, other wheel", new DayLine(fine, coarse, 0, 0, 0, 0).Change);
        Assert.Equal("other piece, other angle, same wheel", new DayLine(steeper, coarse, 0, 0, 0, 0).Change);
    }

    /// <summary>
    /// By hand: two knives, coarse then fine each. Knife by knife: 3 + 2, then 3 + 2 and no other wheel between them but the one the coarse needs: 3 + 2 + (3 + 2) + 2 = 12.
    /// Wheel by wheel: 3, then 3 for the second knife's coarse, then 2 for its fine, then 3 for the first's fine: 11.
    /// </summary>
    [Fact]
    public void The_order_found_shares_wheels_between_pieces_and_is_proved()
    {
        (DayPlan? found, _) = Plan(Operation(1, 1, 1, 1, 15), Operation(1, 2, 1, 2, 15), Operation(2, 1, 1, 1, 15), Operation(2, 2, 1, 2, 15)).Ordered(TestContext.Current.CancellationToken);

        Assert.NotNull(found);
        Assert.Equal(11, found.Cost!.SetupMinutes, 9);
        Assert.True(found.Proved);
        Assert.Equal(11, found.FoundCost!.Value, 9);
        Assert.Equal(found.Cost.SetupMinutes, found.Times.Sum(l => l.ChangeMinutes), 9);
    }

    [Fact]
    public void A_person_s_own_order_is_costed_and_fine_before_coarse_is_refused_in_words()
    {
        (DayPlan? found, _) = Plan(Operation(1, 1, 1, 1, 15), Operation(1, 2, 1, 2, 15), Operation(2, 1, 1, 1, 15), Operation(2, 2, 1, 2, 15)).Ordered(TestContext.Current.CancellationToken);
        string[] ids = [.. found!.Operations.Select(o => o.Id).Order(StringComparer.Ordinal)];

        (DayPlan? byKnife, string? none) = found.By(ids);
        (DayPlan? wrong, string? why) = found.By([ids[1], ids[0], ids[2], ids[3]]);

        Assert.Null(none);
        Assert.Equal(12, byKnife!.Cost!.Objective, 9);
        Assert.Null(wrong);
        Assert.Contains("coarse before fine", why, StringComparison.Ordinal);
        Assert.Null(found.By([ids[0], ids[0], ids[2], ids[3]]).Plan);
    }

    /// <summary>By hand: 3 min set-up and 10 min work from 08:00; a break from 08:10 to 08:30 is waited out, so it ends at 08:33, 13 min past the promise of 08:20.</summary>
    [Fact]
    public void Breaks_are_waited_out_and_lateness_is_what_the_clock_says()
    {
        DayPlan plan = Plan(Operation(1, 1, 1, 1, 15) with { DueMinutes = 20, Weight = 3 }) with { Breaks = [new(10, 30)] };
        DayLine line = Assert.Single(plan.Times);

        Assert.Equal("08:33", plan.Clock(line.EndMinutes));
        Assert.Equal(13, line.LateMinutes, 9);
        Assert.Equal(39, plan.Cost!.WeightedLateMinutes, 9);
    }

    [Fact]
    public void What_is_stored_reads_back_as_it_was_and_another_version_s_text_as_nothing()
    {
        (DayPlan? found, _) = Plan(Operation(1, 1, 1, 1, 15), Operation(2, 1, 1, 1, 17)).Ordered(TestContext.Current.CancellationToken);
        DayPlan again = Assert.IsType<DayPlan>(DayPlan.Read(found!.ToJson()));

        Assert.Equal(found.Operations, again.Operations);
        Assert.Equal(found.Cost!.Objective, again.Cost!.Objective, 9);
        Assert.Null(DayPlan.Read("""{"other":1}"""));
        Assert.Equal(found.Setups, again.Setups);
        Assert.Null(DayPlan.Read("""{"operations":[],"setups":{"clamp":3},"abrasiveMinutes":{},"breaks":[]}"""));
        Assert.Null(DayPlan.Read("not json"));
    }

    private static DayPlan Plan(params DayOperation[] operations) => new(operations, SetupTimes.Usual, NoMinutes, 480, [], null, 0, false);

    private static DayOperation Operation(long visit, int stage, long rig = 1, long? wheel = 1, double? angle = 15) => new(
        FormattableString.Invariant($"{visit:D9}-{stage:D2}"), visit, FormattableString.Invariant($"{visit}"), "knife", stage == 1 ? "coarse" : "fine", rig, $"rig {rig}", wheel, wheel, angle, 10, "a guess", null, 1);
}
