using MathNet.Numerics.RootFinding;

using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures.Clamping;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures.Clamping;

public sealed class ClampSearchTests
{
    public static TheoryData<string> Samples => [.. ClampSamples.Names];

    private static ClampChannel[] TwoSides =>
    [
        ClampSamples.Wheel(124, 14, 13, "left") with { Side = Side.Left },
        ClampSamples.Wheel(118, -17, 13, "right") with { Side = Side.Right },
    ];

    private static ClampChannel Rod => new("rod", new GuidedRodMap(6), Angle.FromDegrees(17));

    private static ClampChannel Stone => new("stone", new BenchStoneMap(2.4), Angle.FromDegrees(15));

    [Theory]
    [MemberData(nameof(Samples))]
    public void The_best_clamp_is_proved_to_a_hundredth_of_a_degree(string name)
    {
        foreach (ClampChannel[] channels in (ClampChannel[][])[TwoSides, [Rod], [Stone], [ClampSamples.Wheel(90, 25, 20, perSupport: 0.05)]])
        {
            Clamp clamp = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem(name, channels), TestContext.Current.CancellationToken));
            Assert.InRange(clamp.WorstDeg - clamp.BoundDeg!.Value, 0, 0.01);
            Assert.True(clamp.Problem.Box.Holds(clamp.Pivot));
        }
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void No_random_clamp_is_better_and_none_is_below_the_bound(string name)
    {
        Random random = new(20);
        foreach (ClampChannel[] channels in (ClampChannel[][])[TwoSides, [Rod]])
        {
            ClampProblem problem = ClampSamples.Problem(name, channels);
            Clamp best = ClampSamples.Found(ClampSearch.Best(problem, TestContext.Current.CancellationToken));
            PivotBox box = problem.Box;
            double least = double.PositiveInfinity;
            for (int i = 0; i < 2000; i++)
            {
                Point2 pivot = new(
                    box.LeastXMm + (random.NextDouble() * (box.MostXMm - box.LeastXMm)),
                    -box.LeastDistanceMm - (random.NextDouble() * (box.MostDistanceMm - box.LeastDistanceMm)));
                if (ClampSearch.Evaluate(problem, pivot) is ClampOutcome.Found found)
                    least = Math.Min(least, found.Clamp.WorstDeg);
            }

            Assert.True(best.WorstDeg <= least + 1e-6, $"{best.WorstDeg} against {least}");
            Assert.True(best.BoundDeg <= least);
        }
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void The_worst_deviation_is_what_the_clamp_and_setting_grind(string name)
    {
        Clamp clamp = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem(name, TwoSides), TestContext.Current.CancellationToken));
        double worst = 0;
        foreach (ClampSetting setting in clamp.Settings)
        {
            WheelAndBarMap wheel = (WheelAndBarMap)setting.Channel.Map;
            for (int i = clamp.Problem.FirstScored; i <= clamp.Problem.LastScored; i++)
            {
                EdgePoint e = clamp.Problem.Stations[i];
                double z = clamp.Problem.Blade.Bend?.AtMm(e.XMm) ?? 0;
                double p = ((e.XMm - clamp.Pivot.X) * e.NormalX) + ((e.YMm - clamp.Pivot.Y) * e.NormalY);
                double alpha = ByContact(wheel.WheelRadiusMm, setting.SettingMm, p, setting.Channel.OffsetMm + (setting.Channel.Side == Side.Left ? z : -z));
                worst = Math.Max(worst, Math.Abs(alpha - 13));
            }
        }

        Assert.Equal(worst, clamp.WorstDeg, 6);
    }

    [Theory]
    [InlineData("chef")]
    [InlineData("recurve")]
    [InlineData("long belly")]
    public void A_dense_grid_with_root_finding_comes_to_the_same_clamp(string name)
    {
        ClampProblem problem = ClampSamples.Problem(name);
        Clamp best = ClampSamples.Found(ClampSearch.Best(problem, TestContext.Current.CancellationToken));
        double least = double.PositiveInfinity;
        for (double x = best.Pivot.X - 6; x <= best.Pivot.X + 6; x += 1.5)
        {
            for (double d = Math.Max(60, best.PivotDistanceMm - 6); d <= Math.Min(180, best.PivotDistanceMm + 6); d += 2)
                least = Math.Min(least, Minimax(problem, x, d, 124, 14, 13));
        }

        Assert.InRange(least, best.BoundDeg!.Value, best.WorstDeg + 0.05);
        Assert.Equal(Minimax(problem, best.Pivot.X, best.PivotDistanceMm, 124, 14, 13), best.WorstDeg, 5);
    }

    [Fact]
    public void Moving_the_outline_in_its_plane_moves_the_clamp_with_it()
    {
        Point2[] points = [.. EdgeCurve.FromShape(new(210, 48, 80, 28)).Stations(90).Select(e => e.Place)];
        Clamp here = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem(new Blade { Edge = EdgeCurve.FromPolyline(points) }), TestContext.Current.CancellationToken));
        Clamp there = ClampSamples.Found(ClampSearch.Best(
            ClampSamples.Problem(new Blade { Edge = EdgeCurve.FromPolyline([.. points.Select(p => new Point2(p.X + 33, p.Y - 12))]) }),
            TestContext.Current.CancellationToken));
        Assert.Equal(here.WorstDeg, there.WorstDeg, 5);
        Assert.Equal(here.Pivot.X, there.Pivot.X, 1);
    }

    [Fact]
    public void Turning_the_blade_side_and_the_offset_changes_nothing()
    {
        Blade bent = ClampSamples.Of("bent");
        Blade mirrored = bent with { Bend = Bend.FromBow(-1.2, 210) };
        Clamp left = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem(bent, ClampSamples.Wheel() with { Side = Side.Left }), TestContext.Current.CancellationToken));
        Clamp right = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem(mirrored, ClampSamples.Wheel() with { Side = Side.Right }), TestContext.Current.CancellationToken));
        Assert.Equal(left.WorstDeg, right.WorstDeg, 9);
        Assert.Equal(left.Settings[0].SettingMm, right.Settings[0].SettingMm, 6);
    }

    [Theory]
    [InlineData(80)]
    [InlineData(110)]
    [InlineData(170)]
    public void An_edge_that_is_an_arc_has_a_clamp_without_deviation_at_its_centre(double radius)
    {
        double half = 40;
        Point2[] points = [.. Enumerable.Range(0, 161).Select(i =>
        {
            double a = (i - 80) / 80.0 * Math.Asin(half / radius);
            return new Point2(half + (radius * Math.Sin(a)), radius * Math.Cos(a));
        })];
        Clamp clamp = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem(new Blade { Edge = EdgeCurve.FromPolyline(points) }), TestContext.Current.CancellationToken));
        double rise = Math.Sqrt((radius * radius) - (half * half));
        Assert.InRange(clamp.WorstDeg, 0, 2e-3);
        Assert.Equal(half, clamp.Pivot.X, 0);
        Assert.Equal(rise, clamp.PivotDistanceMm, 0);
    }

    [Fact]
    public void A_straight_edge_is_clamped_in_its_middle()
    {
        Clamp clamp = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem("straight"), TestContext.Current.CancellationToken));
        Assert.Equal(0, clamp.WorstDeg, 9);
        Assert.Equal(89, clamp.Pivot.X, 6);
        Assert.All(clamp.Settings[0].AnglesDeg, a => Assert.Equal(13, a, 9));
    }

    [Fact]
    public void The_last_two_millimetres_of_tip_are_shown_but_not_scored()
    {
        ClampProblem problem = ClampSamples.Problem("petty");
        Assert.Equal(problem.Blade.Edge.LengthMm - 2, problem.ScoreToMm, 9);
        Assert.True(problem.Stations.Count > problem.LastScored + 1);
        Assert.Equal(problem.Blade.Edge.LengthMm, problem.Stations[^1].SMm, 9);
        Assert.InRange(problem.LastScored - problem.FirstScored + 1, 51, 201);
    }

    [Fact]
    public void A_heavier_stretch_is_held_closer()
    {
        Blade blade = ClampSamples.Of("chef");
        ClampProblem even = ClampProblem.TryMake(blade, [ClampSamples.Wheel()], ClampSamples.Box, out _)!;
        ClampProblem heavyTip = ClampProblem.TryMake(blade, [ClampSamples.Wheel()], ClampSamples.Box, out _, weight: e => e.SMm > 150 ? 3 : 1)!;
        static double AtTip(Clamp clamp) => Enumerable.Range(0, clamp.Problem.LastScored)
            .Where(i => clamp.Problem.Stations[i].SMm > 150).Max(i => Math.Abs(clamp.Settings[0].AnglesDeg[i] - 13));
        Clamp plain = ClampSamples.Found(ClampSearch.Best(even, TestContext.Current.CancellationToken));
        Clamp weighted = ClampSamples.Found(ClampSearch.Best(heavyTip, TestContext.Current.CancellationToken));
        Assert.True(AtTip(weighted) < 0.75 * AtTip(plain));
        Assert.InRange(weighted.WorstDeg - weighted.BoundDeg!.Value, 0, 0.01);
    }

    [Fact]
    public void A_setting_range_is_kept_and_costs_deviation()
    {
        ClampChannel free = Rod;
        Clamp best = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem("chef", free), TestContext.Current.CancellationToken));
        double cap = best.Settings[0].SettingMm - 3;
        Clamp capped = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem("chef", free with { MostSettingMm = cap }), TestContext.Current.CancellationToken));
        Assert.InRange(capped.Settings[0].SettingMm, 0, cap + 1e-9);
        Assert.True(capped.WorstDeg >= best.BoundDeg);
        Assert.InRange(capped.WorstDeg - capped.BoundDeg!.Value, 0, 0.01);
    }

    [Fact]
    public void A_given_clamp_gets_its_best_setting_and_a_given_setting_is_only_computed()
    {
        ClampProblem problem = ClampSamples.Problem("chef");
        Point2 pivot = new(90, -120);
        Clamp free = ClampSamples.Found(ClampSearch.Evaluate(problem, pivot));
        Assert.Null(free.BoundDeg);
        double best = free.Settings[0].SettingMm;
        foreach (double step in (double[])[-0.5, -0.01, 0.01, 0.5])
        {
            Clamp given = ClampSamples.Found(ClampSearch.Evaluate(problem, pivot, [best + step]));
            Assert.True(given.WorstDeg > free.WorstDeg);
            Assert.Equal(best + step, given.Settings[0].SettingMm);
        }
    }

    [Fact]
    public void No_pose_is_refused_in_words()
    {
        ClampProblem problem = ClampSamples.Problem("chef", Rod with { LeastSettingMm = 300, MostSettingMm = 320 });
        ClampOutcome.Refused refused = Assert.IsType<ClampOutcome.Refused>(ClampSearch.Best(problem, TestContext.Current.CancellationToken));
        Assert.Equal("no-such-pose", refused.Reasons[0].Code);
        Assert.Contains("pivot height", refused.Reasons[0].Text, StringComparison.Ordinal);
        Assert.IsType<ClampOutcome.Refused>(ClampSearch.Evaluate(ClampSamples.Problem("chef"), new(90, -120), [20]));
        Assert.IsType<ClampOutcome.Refused>(ClampSearch.Evaluate(ClampSamples.Problem("chef"), new(double.NaN, -120)));
    }

    [Fact]
    public void A_bad_question_is_refused_by_field()
    {
        Blade blade = ClampSamples.Of("chef");
        string Says(ClampChannel[] channels, PivotBox box, (double, double)? score)
        {
            Assert.Null(ClampProblem.TryMake(blade, channels, box, out IReadOnlyList<Reason> refusals, score));
            return refusals[0].Text;
        }

        Assert.Contains("pivotXMm", Says([ClampSamples.Wheel()], new(10, 5, 60, 90), null), StringComparison.Ordinal);
        Assert.Contains("pivotDistanceMm", Says([ClampSamples.Wheel()], new(0, 5, -60, 90), null), StringComparison.Ordinal);
        Assert.Contains("scoreMm", Says([ClampSamples.Wheel()], ClampSamples.Box, (50, 900)), StringComparison.Ordinal);
        Assert.Contains("scoreMm", Says([ClampSamples.Wheel()], ClampSamples.Box, (double.NaN, 100)), StringComparison.Ordinal);
        Assert.Contains("angleDeg", Says([ClampSamples.Wheel(deg: 0)], ClampSamples.Box, null), StringComparison.Ordinal);
        Assert.Contains("no wheel", Says([], ClampSamples.Box, null), StringComparison.Ordinal);
    }

    [Fact]
    public void A_search_can_be_cancelled() =>
        Assert.Throws<OperationCanceledException>(() => ClampSearch.Best(ClampSamples.Problem("chef"), new CancellationToken(true)));

    [Fact]
    public void Every_number_has_its_derivation_and_the_partials_are_right()
    {
        Clamp clamp = ClampSamples.Found(ClampSearch.Best(ClampSamples.Problem("chef"), TestContext.Current.CancellationToken));
        IReadOnlyList<Derivation> chain = clamp.Explain();
        Assert.Contains(chain, d => d.Name == "bound" && d.Value == clamp.BoundDeg);
        Derivation angle = chain[0];
        AngleMap map = clamp.Settings[0].Channel.Map;
        double d = angle.Inputs[0].Value;
        double p = angle.Inputs[1].Value;
        double q = angle.Inputs[2].Value;
        Assert.Equal(double.RadiansToDegrees(map.AngleRad(d, p, q)), angle.Value, 9);
        Assert.Equal(double.RadiansToDegrees(map.AngleRad(d + 1e-4, p, q) - map.AngleRad(d - 1e-4, p, q)) / 2e-4, angle.Inputs[0].Partial!.Value, 6);
        Assert.Equal(double.RadiansToDegrees(map.AngleRad(d, p + 1e-4, q) - map.AngleRad(d, p - 1e-4, q)) / 2e-4, angle.Inputs[1].Partial!.Value, 6);
        Assert.Equal(double.RadiansToDegrees(map.AngleRad(d, p, q + 1e-4) - map.AngleRad(d, p, q - 1e-4)) / 2e-4, angle.Inputs[2].Partial!.Value, 6);
    }

    /// <summary>The angle at which a wheel R, its axis D from the bar, touches the edge: solved from the distance alone, without the closed form.</summary>
    private static double ByContact(double radius, double distance, double p, double q)
    {
        double Miss(double alpha) => Math.Sqrt(
            Math.Pow(p + (radius * Math.Sin(alpha)), 2) + Math.Pow((radius * Math.Cos(alpha)) + q, 2)) - distance;
        return double.RadiansToDegrees(Brent.FindRoot(Miss, -0.9, 1.4, 1e-14, 200));
    }

    /// <summary>Least worst deviation at one pivot: the setting balances the extremes, found by root finding over root finding.</summary>
    private static double Minimax(ClampProblem problem, double x, double d, double radius, double q, double target)
    {
        double[] supports = [.. Enumerable.Range(problem.FirstScored, problem.LastScored - problem.FirstScored + 1)
            .Select(i => problem.Stations[i].SupportDistanceMm(new(x, -d)))];
        double nearest = supports.Min();
        double farthest = supports.Max();
        double Balance(double setting) => ByContact(radius, setting, nearest, q) + ByContact(radius, setting, farthest, q) - (2 * target);
        double alpha = double.DegreesToRadians(target);
        double Reach(double p) => Math.Sqrt(Math.Pow(p + (radius * Math.Sin(alpha)), 2) + Math.Pow((radius * Math.Cos(alpha)) + q, 2));
        double best = Brent.FindRoot(Balance, Reach(nearest), Reach(farthest), 1e-12, 200);
        return Math.Max(Math.Abs(ByContact(radius, best, nearest, q) - target), Math.Abs(ByContact(radius, best, farthest, q) - target));
    }
}
