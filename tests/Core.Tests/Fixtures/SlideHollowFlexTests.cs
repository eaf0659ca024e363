using MathNet.Numerics.Integration;
using MathNet.Numerics.RootFinding;

using Whetwright.Core.Fixtures;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Fixtures;

/// <summary>Bar travel, the hollow, wheel speed, clearance, flex, dial.</summary>
public sealed class SlideHollowFlexTests
{
    [Fact]
    public void Bar_travel_is_that_of_a_point_moved_along_the_posts_by_brute_force()
    {
        Random random = new(5);
        for (int i = 0; i < 200; i++)
        {
            double across = 80 * random.NextDouble();
            double direction = 2 * Math.PI * random.NextDouble();
            double now = 150 + (60 * random.NextDouble());
            double wanted = now + (20 * random.NextDouble()) - 10;
            Vector2 along = new(Math.Cos(direction), Math.Sin(direction));
            Vector2 square = new(-along.Y, along.X);
            double start = Brent.FindRoot(y => ((square * across) + (along * y)).Norm - now, 0, 400, 1e-13, 300);
            double travel = Brent.FindRoot(t => ((square * across) + (along * (start + t))).Norm - wanted, -start, 200, 1e-13, 300);
            BarSlide slide = new(across, double.RadiansToDegrees(direction), 1.5);
            Assert.Equal(travel, slide.TravelMm(now, wanted), 1e-8);
            Assert.Equal(travel / 1.5, slide.Turns(slide.TravelMm(now, wanted))!.Value, 1e-8);
            Assert.Equal(travel, slide.FirstOrderTravelMm(now, wanted), 0.2 + (0.02 * Math.Abs(travel)));
        }
    }

    [Fact]
    public void A_small_travel_is_the_first_order_one_and_posts_at_the_axis_travel_by_the_change_itself()
    {
        BarSlide slide = new(70);
        Assert.Equal(slide.FirstOrderTravelMm(180, 180.001), slide.TravelMm(180, 180.001), 1e-8);
        Assert.Equal(3.25, new BarSlide(0).TravelMm(180, 183.25), 1e-12);
        Assert.Contains("posts pass the axis", slide.OutOfReach(69)!.Text, StringComparison.Ordinal);
        Assert.Null(slide.OutOfReach(71));
        Assert.True(double.IsNaN(slide.TravelMm(180, 60)));
        Assert.Null(slide.Turns(1));
    }

    /// <summary>Source: both examples in a secondary page (arc height); hollow grind rows computed there.</summary>
    [Theory]
    [InlineData(10, 12, 2)]
    [InlineData(15, 20, 3.819660112501051)]
    [InlineData(125, 3, 0.00900032402333295)]
    [InlineData(100, 5, 0.03125488433897772)]
    public void The_sagitta_agrees_with_worked_examples(double radius, double chord, double sagitta)
    {
        Assert.Equal(sagitta, HollowGrind.SagittaMm(chord, radius), 1e-12);
        Assert.Equal(radius, HollowGrind.RadiusMm(chord, sagitta), 1e-7);
    }

    [Fact]
    public void The_hollow_turns_by_twice_what_its_chord_does()
    {
        double apex = double.DegreesToRadians(15);
        double chord = HollowGrind.ChordAngleRad(apex, 4, 100) - apex;
        Assert.Equal(2 * chord, HollowGrind.ShoulderAngleRad(apex, 4, 100) - apex, 1e-12);
        Assert.Equal(4.0 / 200, Math.Sin(chord), 1e-12);
    }

    /// <summary>Sources: textbook exercises and tables on secondary pages, rounded there as printed.</summary>
    [Theory]
    [InlineData(5 * 25.4, 1200, 1570.796)]
    [InlineData(6 * 25.4, 2610.14, 4100)]
    [InlineData(6 * 25.4, 4138.03, 6500)]
    public void Surface_speed_agrees_with_worked_figures(double diameter, double rpm, double feetPerMinute) =>
        Assert.Equal(feetPerMinute, WheelSpeed.FeetPerMinute(WheelSpeed.SurfaceMs(diameter, rpm)), 0.01);

    [Theory]
    [InlineData(125, 80, 12223.1)]
    [InlineData(10, 16, 30557.7)]
    public void Turns_agree_with_worked_figures(double diameter, double speed, double rpm) => Assert.Equal(rpm, WheelSpeed.Rpm(diameter, speed), 0.05);

    [Fact]
    public void The_limit_marked_on_the_wheel_wins()
    {
        Wheel wheel = new("grey", MeasuredLength.FromMillimetres(250, 0.25)) { Rpm = 3000, MarkedLimitMs = 35 };
        Assert.Equal("wheel-too-fast", WheelSpeed.Caution(wheel)!.Code);
        Assert.Null(WheelSpeed.Caution(wheel with { Rpm = 1400 }));
        Assert.Equal("wheel-limit-unknown", WheelSpeed.Caution(wheel with { MarkedLimitMs = null })!.Code);
        Assert.Null(WheelSpeed.Caution(wheel with { Rpm = null }));
    }

    [Fact]
    public void A_corner_at_the_smallest_angle_lies_on_the_wheel()
    {
        Random random = new(9);
        for (int i = 0; i < 200; i++)
        {
            double radius = 60 + (100 * random.NextDouble());
            double behind = 10 + (40 * random.NextDouble());
            double toward = 3 + (12 * random.NextDouble());
            double Gap(double a)
            {
                Vector2 along = new(Math.Cos(a), Math.Sin(a));
                Vector2 away = new(-along.Y, along.X);
                return (new Vector2(0, radius) + (along * behind) - (away * toward)).Norm - radius;
            }

            double touching = Brent.FindRoot(Gap, -0.8, 1.4, 1e-13, 300);
            double smallest = Clearance.SmallestOnWheelRad(behind, toward, radius);
            Assert.Equal(touching, smallest, 1e-9);
            if (smallest > 0.01)
                Assert.Equal(behind, Clearance.NeededBehindMm(smallest, toward, radius), 1e-6);
            Assert.True(Clearance.SmallestOnStoneRad(behind, toward) > smallest);
        }
    }

    [Fact]
    public void A_jaw_that_does_not_clear_says_the_smallest_angle_and_the_extension()
    {
        ClearanceVerdict verdict = Clearance.Check(double.DegreesToRadians(10), [new("jaw", 15, 8)], null);
        Assert.False(verdict.Clears);
        Assert.Equal(double.RadiansToDegrees(Math.Atan2(8, 15)), verdict.SmallestDeg, 1e-9);
        Assert.Equal((8 / Math.Tan(double.DegreesToRadians(10))) - 15, verdict.ExtensionMm!.Value, 1e-9);
        Assert.Contains("extension holder", verdict.Why(10)!.Text, StringComparison.Ordinal);
        Assert.True(Clearance.Check(double.DegreesToRadians(30), [new("jaw", 15, 8)], null).Clears);
    }

    [Fact]
    public void A_blade_that_does_not_taper_or_spread_bends_as_the_textbook_cantilever()
    {
        // A contact so wide that the spreading does not count, no taper: φ = P·L²/(2·E·I).
        TaperedBlade plain = new(30, 2, 0, double.PositiveInfinity, 1e9);
        double inertia = 1e9 * 8 / 12;
        Assert.Equal(1, Flex.TurnRad(plain, 20e6) / Flex.UniformTurnRad(20e6, 30, inertia), 1e-6);
    }

    [Fact]
    public void Flex_agrees_with_numeric_integration()
    {
        Random random = new(3);
        for (int i = 0; i < 50; i++)
        {
            TaperedBlade blade = new(
                15 + (40 * random.NextDouble()), 0.15 + random.NextDouble(), 0.01 + (0.05 * random.NextDouble()), 1.5 + (2 * random.NextDouble()), 5 + (40 * random.NextDouble()));
            double BendingPerNewton(double x)
            {
                double taper = blade.EdgeThicknessMm + (2 * x * Math.Tan(blade.PrimaryHalfRad));
                double thick = taper < blade.MostThicknessMm ? taper : blade.MostThicknessMm;
                double inertia = (blade.ContactWidthMm + x + x) * Math.Pow(thick, 3) / 12;
                return x / (200_000 * inertia);
            }

            double integral = 0;
            for (int k = 0; k < 400; k++)
                integral += GaussLegendreRule.Integrate(BendingPerNewton, blade.FreeLengthMm * k / 400, blade.FreeLengthMm * (k + 1) / 400, 8);

            Assert.Equal(1, Flex.TurnRad(blade, 20) / (20 * integral), 2e-4);
            double force = Flex.ForceWithinN(blade, double.DegreesToRadians(0.5));
            Assert.Equal(0.5, double.RadiansToDegrees(Flex.TurnRad(blade, force)), 1e-9);
        }
    }

    [Fact]
    public void A_dial_takes_out_what_was_learnt()
    {
        Angle learnt = Angle.FromDegrees(0.8);
        Assert.Equal(14.2, DialGuide.Marked(Angle.FromDegrees(15), learnt).Degrees, 1e-9);
        Assert.Equal(15, DialGuide.Ground(DialGuide.Marked(Angle.FromDegrees(15), learnt), learnt).Degrees, 1e-9);
    }
}
