using Whetwright.Core.Metrology;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Optics;

/// <summary>Distance, zero and print scale without a reference piece.</summary>
public sealed class InstrumentCalibrationTests
{
    [Fact]
    public void Moving_the_target_by_a_known_step_tells_its_distance()
    {
        // y = L·tan 30° at 100 and 220 mm.
        CalibratedLength distance = DistanceCalibration.ByStep(Mm(57.735027, 0.2), Mm(127.017059, 0.2), Mm(120, 0.1));

        Assert.Equal(100, distance.Value.Value.Millimetres, 1e-5);
        // ∂L/∂y₁ = Δ·y₂/(y₂−y₁)², ∂L/∂y₂ = −Δ·y₁/(y₂−y₁)², ∂L/∂Δ = y₁/(y₂−y₁)
        double d = 127.017059 - 57.735027;
        double expected = Math.Sqrt(Math.Pow(120 * 127.017059 / (d * d) * 0.2, 2) + Math.Pow(120 * 57.735027 / (d * d) * 0.2, 2) + Math.Pow(57.735027 / d * 0.1, 2));
        Assert.Equal(expected, distance.Value.StandardUncertainty.Millimetres, 1e-4);
        Assert.Empty(distance.Reasons);
        Assert.Equal("Δ y₁ y₂", string.Join(' ', distance.Derivation.Inputs.Select(i => i.Symbol)));
    }

    [Fact]
    public void A_step_shorter_than_the_distance_is_pointed_out() => Assert.Equal(
        "step-short", Assert.Single(DistanceCalibration.ByStep(Mm(57.735, 0.2), Mm(69.282, 0.2), Mm(20, 0.1)).Reasons).Code);

    [Fact]
    public void Marks_that_do_not_spread_when_the_target_moves_back_are_refused() => Assert.Throws<ArgumentOutOfRangeException>(
        () => DistanceCalibration.ByStep(Mm(60, 0.2), Mm(60, 0.2), Mm(100, 0.1)));

    [Fact]
    public void A_gauge_spacer_fixes_the_distance_to_a_labelled_fifth_of_a_percent()
    {
        CalibratedLength distance = DistanceCalibration.BySpacer(Mm(100, 0));

        Assert.Equal(0.2, distance.Value.StandardUncertainty.Millimetres, 1e-9);
        Assert.Equal("defaults-used", Assert.Single(distance.Reasons).Code);
        Assert.True(distance.Derivation.Inputs[0].IsDefault);
    }

    [Fact]
    public void The_bare_beam_tells_the_zero()
    {
        CalibratedLength zero = DistanceCalibration.ZeroFromBareBeam([0.4, 0.6, 0.5], Length.FromMillimetres(0.5));

        Assert.Equal(0.5, zero.Value.Value.Millimetres, 1e-12);
        Assert.Equal(Math.Sqrt((0.01 / 3) + (0.25 / 12)), zero.Value.StandardUncertainty.Millimetres, 1e-9);
    }

    [Fact]
    public void A_check_line_tells_the_print_scale_and_a_page_fitted_to_paper_is_refused()
    {
        (double scale, double u, _) = DistanceCalibration.PrintScale(Length.FromMillimetres(150), Mm(148.5, 0.15));

        Assert.Equal(0.99, scale, 1e-12);
        Assert.Equal(0.001, u, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => DistanceCalibration.PrintScale(Length.FromMillimetres(150), Mm(120, 0.15)));
    }

    // 5-inch sine bar: TC 9-524 App. C (23°41′ → 2.0084 in, with the sine rounded), two handbooks; 15° from memory; 30° exact.
    [Theory]
    [InlineData(2.0084, 23, 41)]
    [InlineData(1.29410, 15, 0)]
    [InlineData(1.545, 18, 0)]
    [InlineData(2.270, 27, 0)]
    [InlineData(2.826, 34, 25)]
    [InlineData(2.5, 30, 0)]
    public void Feelers_under_a_sine_base_roll_it_as_the_sine_bar_tables_say(double heightInches, int degrees, int minutes) => Assert.Equal(
        degrees + (minutes / 60.0), RollCalibration.RollOf(Length.FromInches(heightInches), Length.FromInches(5)).Degrees, 0.007);

    [Fact]
    public void Rolling_the_holder_by_known_steps_gives_distance_and_zero_back()
    {
        RollStep[] steps = Steps(distance: 103, zero: 1.2, left: 14, right: 16, new RandomDraws(1), noise: 0);

        RollCalibrationResult result = RollCalibration.Fit(steps, SetUp with { Zero = Mm(1.2, 0.1) });

        Assert.Equal(103, result.Distance.Value.Millimetres, 1e-6);
        Assert.Equal(1.2, result.Zero!.Value.Value.Millimetres, 1e-6);
        Assert.All(result.ResidualsMm, r => Assert.Equal(0, r, 1e-6));
        Assert.Equal(3, result.DegreesOfFreedom);   // six marks; distance and two bevels free
    }

    [Fact]
    public void Distances_found_by_rolling_err_as_much_as_they_say()
    {
        RandomDraws random = new(3);
        double[] z = new double[100];
        for (int i = 0; i < z.Length; i++)
        {
            RollCalibrationResult result = RollCalibration.Fit(Steps(98, 0, 13, 15, random, noise: 0.15), SetUp with { Zero = Mm(0, 0.1) });
            z[i] = (result.Distance.Value.Millimetres - 98) / result.Distance.StandardUncertainty.Millimetres;
        }

        Assert.InRange(Math.Sqrt(z.Average(v => v * v)), 0.7, 1.1);
    }

    [Fact]
    public void Marks_that_do_not_turn_by_twice_the_roll_are_pointed_out()
    {
        RollStep[] steps = Steps(100, 0, 15, 15, new RandomDraws(1), noise: 0);
        steps[^1] = steps[^1] with { RightMm = steps[^1].RightMm + 4 };

        Assert.Contains(RollCalibration.Fit(steps, SetUp with { Zero = Mm(0, 0.1) }).Reasons, r => r.Code == "steps-do-not-fit");
    }

    [Fact]
    public void One_step_alone_is_refused() => Assert.Throws<ArgumentException>(
        () => RollCalibration.Fit([new(Length.Zero, 50, 50)], SetUp));

    [Theory]
    [InlineData(10)]
    [InlineData(15)]
    [InlineData(20)]
    public void A_wrong_distance_bends_the_angle_by_a_quarter_of_sine_four_theta(double bevel)
    {
        Angle At(double distance) => DegreeScale.BevelAt(
            100 * Math.Tan(2 * bevel * Math.PI / 180), Side.Right, Length.FromMillimetres(distance), Length.Zero);

        double numeric = (At(100 * (1 + 1e-6)) - At(100 * (1 - 1e-6))).Radians / 2e-6;

        Assert.Equal(-DistanceSensitivity.RadiansPerRelativeDistance(Angle.FromDegrees(bevel)), numeric, 1e-8);
    }

    [Fact]
    public void At_fifteen_degrees_and_a_hundred_millimetres_a_degree_is_four_point_six_five_millimetres() => Assert.Equal(
        4.6542, Math.PI / 180 / DistanceSensitivity.RadiansPerMillimetre(Angle.FromDegrees(15), Length.FromMillimetres(100)), 0.0001);

    private static RollSetUp SetUp => new(Mm(100, 0.05), Length.FromMillimetres(0.005), Length.FromMillimetres(0.15), Length.FromMillimetres(110));

    private static RollStep[] Steps(double distance, double zero, double left, double right, RandomDraws random, double noise)
    {
        TargetPlane target = new(Length.FromMillimetres(distance), new(zero, 0));
        return [.. new[] { -3.0, 0, 3.0 }.Select(h =>
        {
            Angle roll = Angle.FromRadians(Math.Asin(h / 100));
            double Mark(Side side, double bevel) =>
                Math.Abs(SpecularReflection.MarkOf(SpecularReflection.FacetNormal(side, Angle.FromDegrees(bevel), roll), target)!.Value.X) + (noise * random.Normal());
            return new RollStep(Length.FromMillimetres(h), Mark(Side.Left, left), Mark(Side.Right, right));
        })];
    }

    private static MeasuredLength Mm(double value, double u) => MeasuredLength.FromMillimetres(value, u);
}
