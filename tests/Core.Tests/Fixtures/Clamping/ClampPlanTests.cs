using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures.Clamping;

public sealed class ClampPlanTests
{
    [Fact]
    public void One_clamp_serves_where_it_keeps_the_tolerance()
    {
        ClampPlan plan = ClampPlan.TryMake(ClampSamples.Problem("petty"), Angle.FromDegrees(0.5), out _, TestContext.Current.CancellationToken)!;
        Assert.Single(plan.Clamps);
        Assert.Null(plan.Note);
    }

    [Theory]
    [InlineData("chef")]
    [InlineData("recurve")]
    [InlineData("points")]
    public void Two_clamps_meet_at_the_change_over_and_beat_any_other_change_over(string name)
    {
        ClampProblem problem = ClampSamples.Problem(name);
        ClampPlan plan = ClampPlan.TryMake(problem, Angle.FromDegrees(0.3), out _, TestContext.Current.CancellationToken)!;
        Assert.Equal(2, plan.Clamps.Count);
        Assert.Equal("two-clamps", plan.Note!.Code);
        Assert.Equal(plan.ChangeOverMm!.Value, plan.Clamps[0].Problem.ScoreToMm, 9);
        Assert.Equal(plan.ChangeOverMm!.Value, plan.Clamps[1].Problem.ScoreFromMm, 9);
        for (double s = 20; s < problem.ScoreToMm - 15; s += 8)
        {
            double first = ClampSamples.Found(ClampSearch.Uncertified(problem.Over(0, s), TestContext.Current.CancellationToken)).WorstDeg;
            double second = ClampSamples.Found(ClampSearch.Uncertified(problem.Over(s, problem.ScoreToMm), TestContext.Current.CancellationToken)).WorstDeg;
            Assert.True(plan.WorstDeg <= Math.Max(first, second) + 0.01, $"{plan.WorstDeg} against {first}, {second} at {s}");
        }
    }

    [Fact]
    public void A_plan_without_a_pose_says_why()
    {
        ClampChannel rod = new("rod", new GuidedRodMap(6), Angle.FromDegrees(17)) { LeastSettingMm = 300 };
        Assert.Null(ClampPlan.TryMake(ClampSamples.Problem("chef", rod), Angle.FromDegrees(0.5), out IReadOnlyList<Reason> refusals, TestContext.Current.CancellationToken));
        Assert.Equal("no-such-pose", refusals[0].Code);
    }

    [Theory]
    [InlineData("chef")]
    [InlineData("recurve")]
    [InlineData("long belly")]
    [InlineData("cleaver")]
    public void The_flat_region_ends_where_no_near_equal_is_left(string name)
    {
        ClampProblem problem = ClampSamples.Problem(name);
        Clamp best = ClampSamples.Found(ClampSearch.Best(problem, TestContext.Current.CancellationToken));
        FlatRegion region = FlatRegion.Around(best);

        // Least deviation along a line of pivots, by a plain scan over the other coordinate.
        double AtX(double x) => Enumerable.Range(0, 481).Min(i => Deviation(problem, x, 60 + (0.25 * i)));
        double AtDistance(double d) => Enumerable.Range(0, 601).Min(i => Deviation(problem, region.LeastXMm + ((region.MostXMm - region.LeastXMm) * i / 600), d));

        double goal = best.WorstDeg + 0.05;
        Assert.InRange(AtX(region.LeastXMm), 0, goal + 0.005);
        Assert.InRange(AtX(region.MostXMm), 0, goal + 0.005);
        Assert.InRange(AtDistance(region.LeastDistanceMm), 0, goal + 0.005);
        Assert.InRange(AtX(region.LeastXMm - 1), goal, 90);
        Assert.InRange(AtX(region.MostXMm + 1), goal, 90);
        Assert.InRange(AtDistance(region.LeastDistanceMm - 1), goal, 90);
        Assert.InRange(region.MostDistanceMm, best.PivotDistanceMm, 180);
    }

    private static double Deviation(ClampProblem problem, double x, double d) =>
        ClampSearch.Evaluate(problem, new(x, -d)) is ClampOutcome.Found found ? found.Clamp.WorstDeg : 90;
}
