using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Places of an edge 2 mm apart, 160 mm long, sagging by 4 mm, found to 0.03 mm; the steel lies below.</summary>
public sealed class A_line_that_steps_in_and_back_is_bridged
{
    private const int Count = 81;

    [Theory]
    [InlineData(20, 25)]
    [InlineData(30, 42)]
    [InlineData(70, 74)]
    public void A_stretch_that_runs_along_the_shoulder_is_laid_back_on_the_edges_curve(int from, int to)
    {
        Point2[] line = Line(i => i >= from && i < to ? 0.7 : 0);
        double[] outward = Bridged(line);

        Assert.All(Enumerable.Range(0, Count), i => Assert.Equal(i >= from && i < to ? 0.7 : 0, outward[i], 0.12));
    }

    [Fact]
    public void Where_the_line_steps_in_slowly_over_three_sections_the_slope_is_bridged_too()
    {
        double[] step = [0.2, 0.5, 0.7, 0.7, 0.7, 0.5, 0.2];
        double[] outward = Bridged(Line(i => i is >= 40 and < 47 ? step[i - 40] : 0));

        Assert.All(Enumerable.Range(0, 7), i => Assert.Equal(step[i], outward[40 + i], 0.12));
    }

    [Fact]
    public void What_does_not_come_back_stays_for_nothing_tells_which_of_the_two_is_the_edge()
    {
        Assert.All(Bridged(Line(i => i >= 50 ? 0.7 : 0)), v => Assert.Equal(0, v));
        Assert.All(Bridged(Line(i => i < 12 ? 0.7 : 0)), v => Assert.Equal(0, v));
    }

    [Fact]
    public void A_stretch_outside_the_curve_stays()
    {
        Assert.All(Bridged(Line(i => i is >= 40 and < 46 ? -0.7 : 0)), v => Assert.Equal(0, v));
    }

    [Fact]
    public void A_belly_and_a_slow_hollow_stay()
    {
        // A hollow worn 0.6 mm deep over 60 mm.
        Assert.All(Bridged(Line(i => 0.3 * (1 + Math.Cos(Math.PI * Math.Clamp((i - 40) / 15.0, -1, 1))))), v => Assert.Equal(0, v));
    }

    private static double[] Bridged(Point2[] line) => BridgedEdge.OutwardMm(line, [.. line.Select(_ => new Vector2(0, 1))]);

    private static Point2[] Line(Func<int, double> inward)
    {
        var random = new Random(3);
        return [.. Enumerable.Range(0, Count).Select(i => new Point2(2 * i, (4 * Math.Pow((i - 40) / 40.0, 2)) + inward(i) + (0.06 * (random.NextDouble() - 0.5))))];
    }
}
