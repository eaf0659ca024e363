using Whetwright.Core.Ordering;

namespace Whetwright.Core.Tests.Ordering;

/// <summary>
/// Against published optima: TSPLIB 95 (Reinelt) for changes of set-up alone, OR-Library wt40 (Beasley; Crauwels, Potts and
/// Van Wassenhove 1998) for promises alone.
/// </summary>
public sealed class OrderPlannerAgainstPublishedOptima
{
    [Fact]
    public void Br17_is_found_at_39_and_proved()
    {
        DayOrder order = OrderPlanner.Plan(PublishedInstances.Tour("br17"), seed: 7, rounds: 50);

        Assert.Equal(39, order.Objective, 9);
        Assert.True(order.Proved);
        Assert.Equal(39, order.Bound, 9);
    }

    [Fact]
    public void Ftv33_is_found_at_1286_and_not_called_proved_without_a_proof()
    {
        DayOrder order = OrderPlanner.Plan(PublishedInstances.Tour("ftv33"), seed: 7, rounds: 2000);

        Assert.Equal(1286, order.Objective, 9);
        Assert.False(order.Proved);
        Assert.Equal(1185, order.Bound, 9); // the assignment bound, computed independently for the reference set
    }

    [Fact]
    public void P43_comes_within_half_a_percent_of_5620()
    {
        DayOrder order = OrderPlanner.Plan(PublishedInstances.Tour("p43"), seed: 7, rounds: 300);

        Assert.InRange(order.Objective, 5620, 5620 * 1.005);
    }

    [Theory]
    [InlineData(0, 913)]
    [InlineData(1, 1225)]
    [InlineData(2, 537)]
    public void The_first_three_of_wt40_are_found(int instance, double optimum)
    {
        (BenchDay day, double published) = PublishedInstances.Tardiness(instance);
        Assert.Equal(optimum, published);

        DayOrder order = OrderPlanner.Plan(day, seed: 7, rounds: 400);

        Assert.Equal(optimum, order.Objective, 9);
        Assert.InRange(order.Bound, 0, optimum);
    }
}
