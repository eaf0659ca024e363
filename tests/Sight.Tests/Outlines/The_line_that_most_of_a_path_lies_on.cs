using Whetwright.Core.Quantities;
using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>A path half a millimetre apart along an edge 180 mm long that is straight at its heel and bends by 30 mm to its tip, found to 0.03 mm; the steel lies below.</summary>
public sealed class The_line_that_most_of_a_path_lies_on
{
    private const int Count = 361;

    [Theory]
    [InlineData(6, 30, 1.2)] // along the shoulder, where the bevel near the heel is as bright as the paper
    [InlineData(80, 110, 0.8)]
    [InlineData(0, 35, -2.5)] // along a shadow's rim
    [InlineData(60, 120, -3)]
    public void A_stretch_that_steps_off_it_is_laid_back(double from, double to, double offMm)
    {
        Point2[] laid = StiffLine.Of(Path(s => s >= from && s < to ? offMm : 0))!;

        Assert.All(laid, p => Assert.InRange(Math.Abs(p.Y - Edge(p.X)), 0, 0.5));
        Assert.All(laid.Where(p => p.X > to + 20 || p.X < from - 20), p => Assert.InRange(Math.Abs(p.Y - Edge(p.X)), 0, 0.12));
    }

    [Fact]
    public void A_path_that_bends_to_its_tip_is_followed_as_it_is() => Assert.Null(StiffLine.Of(Path(_ => 0)));

    [Fact]
    public void A_chip_is_too_short_to_doubt_the_path() => Assert.Null(StiffLine.Of(Path(s => s is > 60 and < 65 ? 2 : 0)));

    [Fact]
    public void A_torn_path_tells_no_curve() => Assert.Null(StiffLine.Of(Path(s => ((int)s / 20 % 2) * 1.2)));

    [Fact]
    public void Over_a_third_of_the_edge_no_curve_is_carried_on()
    {
        // The rest lies on a curve; so does that third, on another.
        Point2[]? laid = StiffLine.Of(Path(s => s < 60 ? 1.5 : 0));

        Assert.True(laid is null || laid.All(p => p.X > 40 || Math.Abs(p.Y - Edge(p.X) - 1.5) < 0.5));
    }

    [Fact]
    public void No_bevel_and_no_shadow_is_as_wide_as_a_hand() => Assert.Null(StiffLine.Of(Path(s => s is > 60 and < 100 ? 9 : 0)));

    [Fact]
    public void A_slow_hollow_is_the_edges_own() => Assert.Null(StiffLine.Of(Path(s => 0.25 * (1 + Math.Cos(Math.PI * Math.Clamp((s - 90) / 50, -1, 1))))));

    private static double Edge(double x) => x < 80 ? 0 : 30 * Math.Pow((x - 80) / 100, 2);

    private static Point2[] Path(Func<double, double> inward)
    {
        var random = new Random(20260111);
        return Contour.Open([.. Enumerable.Range(0, Count).Select(i => i * 0.5).Select(x => new Point2(x, Edge(x) + inward(x) + (0.06 * (random.NextDouble() - 0.5))))], 0.5);
    }
}
