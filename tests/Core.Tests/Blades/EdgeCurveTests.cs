using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Blades;

public sealed class EdgeCurveTests
{
    private static readonly BladeShape ChefsBelly = new(210, 48, 90, 26);

    private static Point2[] Sampled(EdgeCurve edge, int count, double noiseMm = 0, int seed = 1)
    {
        Random random = new(seed);
        return [.. edge.Stations(count).Select(e =>
        {
            double miss = noiseMm * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(Math.Tau * random.NextDouble());
            return new Point2(e.XMm + (e.NormalX * miss) + 7, e.YMm + (e.NormalY * miss) - 3);
        })];
    }

    private static double WorstFallDeg(EdgeCurve got, EdgeCurve truth, double marginMm = 0)
    {
        double worst = 0;
        for (double s = marginMm; s <= truth.LengthMm - marginMm; s += 0.5)
            worst = Math.Max(worst, (got.At(Math.Min(s, got.LengthMm)).Fall - truth.At(s).Fall).Abs().Degrees);
        return worst;
    }

    [Fact]
    public void A_shape_is_straight_to_the_belly_and_ends_at_the_drop()
    {
        EdgeCurve edge = EdgeCurve.FromShape(ChefsBelly);
        EdgePoint before = edge.At(89.999);
        EdgePoint after = edge.At(90.001);
        Assert.Equal(0, before.Fall.Degrees, 9);
        Assert.Equal(0, after.Fall.Degrees, 3);
        Assert.Equal(0, before.CurvaturePerMm);
        Assert.Equal(1 / ChefsBelly.BellyRadiusMm!.Value, after.CurvaturePerMm, 12);
        Assert.Equal(210, edge.Tip.X, 9);
        Assert.Equal(-26, edge.Tip.Y, 9);
    }

    /// <summary>[sagitta] examples: r = 10, chord 12, s = 2; r = 15, chord 20, s = 3.82.</summary>
    [Theory]
    [InlineData(10, 12, 2.0)]
    [InlineData(15, 20, 3.819660112501051)]
    public void The_belly_radius_is_that_of_published_sagittas(double radius, double chord, double sagitta) =>
        Assert.Equal(radius, new BladeShape(chord / 2, 5, 0, sagitta).BellyRadiusMm!.Value, 9);

    [Theory]
    [InlineData(15)]
    [InlineData(60)]
    [InlineData(200)]
    [InlineData(2000)]
    public void An_exact_arc_comes_back_through_its_points(int count)
    {
        EdgeCurve truth = EdgeCurve.FromShape(new(180, 40, 0, 20));
        EdgeCurve got = EdgeCurve.FromPolyline(Sampled(truth, count));
        Assert.InRange(WorstFallDeg(got, truth), 0, count < 30 ? 0.02 : 0.005);
        Assert.Equal(truth.LengthMm, got.LengthMm, 3);
        Assert.InRange(got.NoiseMm, 0, 2e-4);
    }

    [Theory]
    [InlineData(40, 0.30)]
    [InlineData(120, 0.12)]
    [InlineData(300, 0.06)]
    public void A_sampled_shape_comes_back_though_its_curvature_jumps(int count, double withinDeg)
    {
        EdgeCurve truth = EdgeCurve.FromShape(ChefsBelly);
        Assert.InRange(WorstFallDeg(EdgeCurve.FromPolyline(Sampled(truth, count)), truth), 0, withinDeg);
    }

    [Theory]
    [InlineData(0.05, 100)]
    [InlineData(0.1, 200)]
    [InlineData(0.3, 400)]
    [InlineData(0.1, 3000)]
    public void Scatter_is_found_and_smoothed(double noiseMm, int count)
    {
        EdgeCurve truth = EdgeCurve.FromShape(new(240, 50, 0, 30));
        EdgeCurve got = EdgeCurve.FromPolyline(Sampled(truth, count, noiseMm));
        Assert.InRange(got.NoiseMm, 0.75 * noiseMm, 1.3 * noiseMm);
        Assert.InRange(WorstFallDeg(got, truth, 10), 0, 8 * noiseMm);
        Assert.Equal(EdgeOrigin.SmoothedPoints, got.Origin);
    }

    [Fact]
    public void A_straight_edge_of_two_points_has_one_normal()
    {
        EdgeCurve edge = EdgeCurve.FromPolyline([new(5, 5), new(65, 5)]);
        Assert.Equal(60, edge.LengthMm, 12);
        Assert.All(edge.Stations(7), e => Assert.Equal((0, 1), (e.NormalX, e.NormalY)));
    }

    [Fact]
    public void A_handful_of_points_is_taken_as_exact()
    {
        Point2[] points = [new(0, 0), new(100, 0), new(150, -4), new(185, -14), new(200, -22)];
        EdgeCurve edge = EdgeCurve.FromPolyline(points);
        Assert.Equal(EdgeOrigin.PointsAsGiven, edge.Origin);
        foreach (Point2 p in points)
            Assert.Equal(p.Y, edge.At(edge.ArcLengthAtX(p.X)).YMm, 9);
    }

    [Fact]
    public void The_support_distance_is_the_distance_to_the_tangent_line()
    {
        EdgeCurve edge = EdgeCurve.FromShape(ChefsBelly);
        Point2 foot = new(70, -110);
        foreach (EdgePoint e in edge.Stations(31))
        {
            double area = Math.Abs(((e.XMm - foot.X) * e.TangentY) - ((e.YMm - foot.Y) * e.TangentX));
            Assert.Equal(area, e.SupportDistanceMm(foot), 10);
        }
    }

    [Fact]
    public void Moving_the_outline_moves_nothing_but_the_origin()
    {
        Point2[] points = Sampled(EdgeCurve.FromShape(ChefsBelly), 80, 0.1);
        EdgeCurve here = EdgeCurve.FromPolyline(points);
        EdgeCurve there = EdgeCurve.FromPolyline([.. points.Select(p => new Point2(p.X + 400, p.Y + 64))]);
        for (double s = 0; s < here.LengthMm; s += 10)
            Assert.Equal(here.At(s).YMm, there.At(s).YMm, 7);
    }

    [Fact]
    public void The_tangent_is_the_derivative_of_the_place()
    {
        EdgeCurve edge = EdgeCurve.FromPolyline(Sampled(EdgeCurve.FromShape(ChefsBelly), 60, 0.1));
        for (double s = 5; s < edge.LengthMm - 5; s += 7.3)
        {
            EdgePoint e = edge.At(s);
            Assert.Equal((edge.At(s + 1e-4).XMm - edge.At(s - 1e-4).XMm) / 2e-4, e.TangentX, 6);
            Assert.Equal((edge.At(s + 1e-4).YMm - edge.At(s - 1e-4).YMm) / 2e-4, e.TangentY, 6);
            Assert.Equal((edge.At(s + 1e-3).Fall - edge.At(s - 1e-3).Fall).Radians / 2e-3, e.CurvaturePerMm, 5);
        }
    }

    public static TheoryData<string, double[], string> Refused => new()
    {
        { "edge-too-few", [], "edgeMm has 0 points" },
        { "edge-too-few", [0, 0], "at least two" },
        { "edge-not-a-number", [0, 0, 50, double.NaN, 100, 0], "edgeMm[1]" },
        { "edge-repeated-point", [0, 0, 50, 1, 50, 1, 100, 0], "edgeMm[2]" },
        { "edge-closed", [0, 0, 50, 1, 0.5, 0], "heel to tip" },
        { "edge-backwards", [0, 0, -100, 0], "must grow" },
        { "edge-crosses-itself", [0, 0, 100, 0, 60, -30, 60, 30, 150, 0], "crosses itself" },
        { "edge-too-large", [0, 0, 100000, 0], "edgeMm[1]" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_bad_outline_is_refused_by_name(string code, double[] xy, string says)
    {
        Point2[] points = [.. Enumerable.Range(0, xy.Length / 2).Select(i => new Point2(xy[2 * i], xy[(2 * i) + 1]))];
        Assert.False(EdgeCurve.TryFromPolyline(points, null, out _, out IReadOnlyList<Reason> refusals));
        Assert.Equal(code, refusals[0].Code);
        Assert.Contains(says, refusals[0].Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN, 40, 0, 10, "shape.lengthMm")]
    [InlineData(200, -1, 0, 10, "shape.heightMm")]
    [InlineData(200, 40, 200, 10, "shape.bellyFromMm")]
    [InlineData(200, 40, 0, -3, "shape.tipDropMm")]
    [InlineData(200, 40, 190, 12, "shape.tipDropMm")]
    public void A_bad_shape_is_refused_by_field(double length, double height, double belly, double drop, string field) =>
        Assert.StartsWith(field, new BladeShape(length, height, belly, drop).Refusals()[0].Text, StringComparison.Ordinal);
}
