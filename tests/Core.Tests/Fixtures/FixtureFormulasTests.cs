using CsCheck;

using MathNet.Numerics;
using MathNet.Numerics.RootFinding;

using Whetwright.Core.Fixtures;
using Whetwright.Core.Fixtures.Clamping;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>There and back, monotony, partial derivatives, and the law of cosines by a root finder.</summary>
public sealed class FixtureFormulasTests
{
    private static readonly Gen<(double Radius, double P, double Q, double Angle)> Wheels = Gen.Select(
        Gen.Double[40, 200], Gen.Double[60, 220], Gen.Double[-25, 25], Gen.Double[0.05, 0.7]);

    [Fact]
    public void Every_fixture_goes_there_and_back_to_1e_9()
    {
        Wheels.Sample(
            x =>
            {
                double d = WheelAndBar.CentreDistanceMm(x.Radius, x.Angle, x.P, x.Q);
                Assert.Equal(x.Angle, WheelAndBar.AngleRad(x.Radius, d, x.P, x.Q), 1e-9);
                double h = GuidedRod.PivotHeightMm(x.Angle, x.P, x.Q);
                Assert.Equal(x.Angle, GuidedRod.AngleRad(h, x.P, x.Q), 1e-9);
                Assert.Equal(x.Angle, BenchStone.AngleFromMidPlaneLiftRad(BenchStone.MidPlaneLiftMm(x.Angle, x.P), x.P), 1e-9);
                double spine = Math.Abs(x.Q) / 5;
                Assert.Equal(x.Angle, BenchStone.AngleFromStackRad(BenchStone.StackMm(x.Angle, x.P, spine), x.P, spine), 1e-9);
                BarSlide slide = new(x.Q);
                Assert.Equal(d, slide.CentreDistanceMm(slide.PositionMm(d)), 1e-9);
                double far = BarSlide.FarSideToWheelMm(d, 6, x.Radius);
                Assert.Equal(d, BarSlide.CentreDistanceFromFarSideMm(far, 6, x.Radius), 1e-9);
            },
            iter: 1000,
            seed: "0000Kp2mUO20");
    }

    [Fact]
    public void The_angle_grows_with_every_setting()
    {
        Wheels.Sample(
            x =>
            {
                double d = WheelAndBar.CentreDistanceMm(x.Radius, x.Angle, x.P, x.Q);
                Assert.True(WheelAndBar.AngleRad(x.Radius, d + 0.1, x.P, x.Q) > x.Angle);
                double h = GuidedRod.PivotHeightMm(x.Angle, x.P, x.Q);
                Assert.True(GuidedRod.AngleRad(h + 0.1, x.P, x.Q) > x.Angle);
                double lift = BenchStone.StackMm(x.Angle, x.P, 3);
                Assert.True(BenchStone.AngleFromStackRad(lift + 0.1, x.P, 3) > x.Angle);
            },
            iter: 500,
            seed: "0000Kp2mUO21");
    }

    [Fact]
    public void Partial_derivatives_are_those_of_the_formulas()
    {
        Wheels.Sample(
            x =>
            {
                double d = WheelAndBar.CentreDistanceMm(x.Radius, x.Angle, x.P, x.Q);
                (double perD, double perR, double perP, double perQ) = WheelAndBar.SensitivityRad(x.Radius, x.Angle, x.P, x.Q);
                Near(perD, v => WheelAndBar.AngleRad(x.Radius, v, x.P, x.Q), d);
                Near(perR, v => WheelAndBar.AngleRad(v, d, x.P, x.Q), x.Radius);
                Near(perP, v => WheelAndBar.AngleRad(x.Radius, d, v, x.Q), x.P);
                Near(perQ, v => WheelAndBar.AngleRad(x.Radius, d, x.P, v), x.Q);
                double h = GuidedRod.PivotHeightMm(x.Angle, x.P, x.Q);
                (double perH, double perSupport, double perFace) = GuidedRod.SensitivityRad(x.Angle, x.P, x.Q);
                Near(perH, v => GuidedRod.AngleRad(v, x.P, x.Q), h);
                Near(perSupport, v => GuidedRod.AngleRad(h, v, x.Q), x.P);
                Near(perFace, v => GuidedRod.AngleRad(h, x.P, v), x.Q);
                double lift = BenchStone.StackMm(x.Angle, x.P, 3);
                (double perLift, double perWidth, double perSpine) = BenchStone.StackSensitivityRad(x.Angle, x.P, 3);
                Near(perLift, v => BenchStone.AngleFromStackRad(v, x.P, 3), lift);
                Near(perWidth, v => BenchStone.AngleFromStackRad(lift, v, 3), x.P);
                Near(perSpine, v => BenchStone.AngleFromStackRad(lift, x.P, v), 3);
                (double perMid, double perMidSupport) = BenchStone.MidPlaneSensitivityRad(x.Angle, x.P);
                double mid = BenchStone.MidPlaneLiftMm(x.Angle, x.P);
                Near(perMid, v => BenchStone.AngleFromMidPlaneLiftRad(v, x.P), mid);
                Near(perMidSupport, v => BenchStone.AngleFromMidPlaneLiftRad(mid, v), x.P);
            },
            iter: 200,
            seed: "0000Kp2mUO22");

        static void Near(double partial, Func<double, double> f, double at) =>
            Assert.Equal(partial, Differentiate.FirstDerivative(f, at), 1e-6);
    }

    [Fact]
    public void The_law_of_cosines_holds_by_a_root_finder()
    {
        Wheels.Sample(
            x =>
            {
                // The edge somewhere on the wheel, φ round from the bar: its distance from the bar's centre must be √(p² + Q²).
                double d = WheelAndBar.CentreDistanceMm(x.Radius, x.Angle, x.P, x.Q);
                double reach = Math.Sqrt((x.P * x.P) + (x.Q * x.Q));
                double turn = Brent.FindRoot(
                    f => Math.Sqrt(Math.Pow((x.Radius * Math.Cos(f)) - d, 2) + Math.Pow(x.Radius * Math.Sin(f), 2)) - reach, 0, Math.PI, 1e-13, 300);
                double toBar = Math.Atan2(-x.Radius * Math.Sin(turn), d - (x.Radius * Math.Cos(turn)));
                double tangent = turn - (Math.PI / 2);
                double alpha = toBar - tangent - Math.Atan2(x.Q, x.P);
                Assert.Equal(x.Angle, alpha, 1e-9);
            },
            iter: 500,
            seed: "0000Kp2mUO23");
    }

    [Fact]
    public void The_straight_lines_of_the_clamp_search_are_the_same_formulas()
    {
        static double OnTheLine(AngleMap map, double angle, double p, double q)
        {
            (double a, double b, double c) = map.Coefficients(angle);
            return map.FromG((map.Square * ((p * p) + (q * q))) + (a * p) + b + (c * q));
        }

        static double Rise(AngleMap map, double angle, double p, double q) =>
            (map.ToG(OnTheLine(map, angle + 1e-6, p, q)) - map.ToG(OnTheLine(map, angle - 1e-6, p, q))) / 2e-6;

        Wheels.Sample(
            x =>
            {
                double d = WheelAndBar.CentreDistanceMm(x.Radius, x.Angle, x.P, x.Q);
                AngleMap wheel = new WheelAndBarMap(x.Radius), rod = new GuidedRodMap(x.Q), stone = new BenchStoneMap(3);
                Assert.Equal(d, OnTheLine(wheel, x.Angle, x.P, x.Q), 1e-9);
                Assert.Equal(x.Angle, wheel.AngleRad(d, x.P, x.Q), 1e-9);
                Assert.Equal(GuidedRod.PivotHeightMm(x.Angle, x.P, x.Q) + 2, OnTheLine(rod, x.Angle, x.P, 2), 1e-9);
                Assert.Equal(BenchStone.StackMm(x.Angle, x.P, 3) + 2, OnTheLine(stone, x.Angle, x.P, 2), 1e-9);
                foreach ((AngleMap map, double q) in ((AngleMap, double)[])[(wheel, x.Q), (rod, 2), (stone, 2)])
                {
                    Assert.Equal(map.SettingMm(x.Angle, x.P, q), OnTheLine(map, x.Angle, x.P, q), 1e-9);
                    Assert.Equal(x.Angle, map.AngleRad(map.SettingMm(x.Angle, x.P, q), x.P, q), 1e-9);
                    Assert.Equal(1, map.Slope(x.Angle, x.P, q) / Rise(map, x.Angle, x.P, q), 1e-4);
                }
            },
            iter: 200,
            seed: "0000Kp2mUO24");
    }

    [Theory]
    [InlineData(100, 320, 140, 0, "does not reach")]
    [InlineData(100, 60, 200, 0, "beyond the whole wheel")]
    [InlineData(300, 100, 150, 0, "inside the wheel")]
    [InlineData(125, 150, 140, 0, "flat or below")]
    public void No_pose_is_refused_in_words(double radius, double distance, double p, double q, string words)
    {
        Assert.Contains(words, WheelAndBar.NoPose(radius, distance, p, q)!.Text, StringComparison.Ordinal);
        Assert.False(WheelAndBar.AngleRad(radius, distance, p, q) > 0);
    }

    [Fact]
    public void A_pose_that_exists_is_not_refused()
    {
        double d = WheelAndBar.CentreDistanceMm(125, 0.26, 140, 2);
        Assert.Null(WheelAndBar.NoPose(125, d, 140, 2));
    }

    [Fact]
    public void A_worn_wheel_grinds_steeper_until_the_bar_follows()
    {
        double d = WheelAndBar.CentreDistanceMm(125, double.DegreesToRadians(15), 140, 0);
        Assert.True(WheelAndBar.AngleRad(120, d, 140, 0) > double.DegreesToRadians(15));
        Assert.True(WheelAndBar.CentreDistanceMm(120, double.DegreesToRadians(15), 140, 0) < d);
    }

    /// <summary>Neighbouring angles are a small bar movement apart (common practice, no source).</summary>
    [Fact]
    public void One_degree_is_a_small_movement_of_the_bar()
    {
        double at15 = WheelAndBar.CentreDistanceMm(125, double.DegreesToRadians(15), 140, 0);
        double at16 = WheelAndBar.CentreDistanceMm(125, double.DegreesToRadians(16), 140, 0);
        Assert.InRange(at16 - at15, 0.5, 3);
    }

    /// <summary>At the usual 15° per side of hard thin blades (common practice, no source): ±0.25 mm in diameter, ±0.2 in D and ±1 in p make 0.6° together (design figure).</summary>
    [Fact]
    public void Usual_measuring_errors_make_about_six_tenths_of_a_degree_together()
    {
        (double perD, double perR, double perP, double perQ) = WheelAndBar.SensitivityRad(125, double.DegreesToRadians(15), 140, 0);
        double together = Math.Sqrt(Math.Pow(perR * 0.125, 2) + Math.Pow(perD * 0.2, 2) + Math.Pow(perP * 1, 2));
        double added = Math.Abs(perR * 0.125) + (perD * 0.2) + Math.Abs(perP);
        Assert.True(perQ < 0);
        Assert.Equal(0.6, double.RadiansToDegrees(together), 0.1);
        Assert.True(added > together);
        Metrology(together);

        static void Metrology(double byHand)
        {
            double d = WheelAndBar.CentreDistanceMm(125, double.DegreesToRadians(15), 140, 0);
            Assert.Equal(double.RadiansToDegrees(byHand), SettingUncertainty.WheelAndBar(125, 0.25, d, 0.2, 140, 1, 0, 0).Uncertainty, 1e-9);
        }
    }
}
