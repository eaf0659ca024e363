using Whetwright.Core.Fixtures;
using Whetwright.Core.Metrology;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Tests.Metrology.Learning;

public sealed class WheelWearTests
{
    private static readonly DateTimeOffset Start = new(2025, 1, 6, 8, 0, 0, TimeSpan.Zero);

    [Fact]
    public void With_exact_measurements_the_wear_per_steel_is_the_slope()
    {
        // 0.08 mm per 1000 mm³, nothing else: 5000 mm³ a week, measured every four weeks to a hundredth.
        WheelWear wear = Straight(0.08, weeks: 40, everyWeeks: 4, u: 0.01)!;

        Assert.Equal(0.08, wear.PerThousandMm3.Value, 3 * wear.PerThousandMm3.U);
        Assert.Equal(0.08, wear.PerThousandMm3.Value, 0.01);
        Assert.Equal(250 - (0.08 * 200), wear.DiameterAt(Start.AddDays(40 * 7)).Value.Millimetres, 0.3);
        Assert.Equal(5000 / 7.0, wear.SteelPerDayMm3, 30.0);
    }

    [Fact]
    public void Uncertainty_grows_with_the_work_since_the_last_measurement()
    {
        WheelWear wear = Straight(0.08, weeks: 20, everyWeeks: 4, u: 0.05)!;
        double[] u = [.. Enumerable.Range(0, 5).Select(m => wear.DiameterAt(Start.AddDays((20 * 7) + (30 * m))).StandardUncertainty.Millimetres)];

        Assert.All(Enumerable.Range(1, 4), m => Assert.True(u[m] > u[m - 1]));
        Assert.InRange(u[0], 0.03, 0.06);
    }

    [Fact]
    public void Prediction_intervals_hold_the_truth_as_often_as_they_say()
    {
        RandomDraws random = new(21);
        int inside = 0;
        const int wheels = 400;
        WheelWearPrior prior = WheelWearPrior.Usual;
        for (int wheel = 0; wheel < wheels; wheel++)
        {
            double k = prior.PerThousandMm3 * (1 + random.Normal()), j = prior.PerMonthMm * random.Normal(), d = 250;
            List<WheelMeasured> measured = [];
            List<WheelWorked> worked = [];
            for (int week = 0; week <= 30; week++)
            {
                DateTimeOffset when = Start.AddDays(7 * week);
                if (week > 0)
                {
                    worked.Add(new(when, 4000));
                    double expected = (prior.PerThousandMm3 * 4) + (prior.PerMonthMm * 7 / 30 / 2);
                    d -= (k * 4) + (j * 7 / 30) + (prior.UnevenMm * Math.Sqrt(expected) * random.Normal());
                }

                if (week % 6 == 0 && week < 30)
                    measured.Add(new(when, d + (0.2 * random.Normal()), 0.2));
            }

            MeasuredLength predicted = WheelWear.Of(measured, worked, [])!.DiameterAt(Start.AddDays(7 * 30));
            inside += Math.Abs(d - predicted.Value.Millimetres) <= 1.96 * predicted.StandardUncertainty.Millimetres ? 1 : 0;
        }

        // 95 % of 400 within three standard deviations of a binomial.
        Assert.InRange(inside, 380 - 13, 380 + 13);
    }

    [Fact]
    public void A_dressing_that_nobody_measured_makes_the_diameter_less_certain_until_it_is_measured()
    {
        WheelMeasured[] first = [new(Start, 250, 0.1)];
        WheelDressed[] dressed = [new(Start.AddDays(1), null)];

        MeasuredLength before = WheelWear.Of(first, [], dressed)!.DiameterAt(Start.AddDays(2));
        MeasuredLength after = WheelWear.Of([.. first, new(Start.AddDays(2), 249.1, 0.1)], [], dressed)!.DiameterAt(Start.AddDays(2));

        Assert.Equal(249.7, before.Value.Millimetres, 1e-6); // 0.3 mm stands in
        Assert.True(before.StandardUncertainty.Millimetres > 0.3);
        Assert.Equal(249.1, after.Value.Millimetres, 0.12);
        Assert.True(after.StandardUncertainty.Millimetres < 0.11);
    }

    [Fact]
    public void The_least_diameter_has_a_date_with_an_interval()
    {
        WheelWear wear = Straight(0.08, weeks: 40, everyWeeks: 4, u: 0.05)!;
        DateTimeOffset now = Start.AddDays(280);

        (DateTimeOffset? earliest, DateTimeOffset? best, DateTimeOffset? latest) = wear.ReachesMinimum(230, now);

        // 234 mm left after 40 weeks; 0.4 mm a week: 10 weeks more.
        Assert.Equal(70, (best!.Value - now).TotalDays, 12.0);
        Assert.True(earliest < best && best < latest);
        Assert.Null(WheelWear.Of([new(Start, 250, 0.1)], [], [])!.ReachesMinimum(100, Start).Best);
    }

    [Fact]
    public void It_asks_for_a_measurement_when_the_diameter_could_cost_the_tolerance()
    {
        WheelWear wear = Straight(0.08, weeks: 20, everyWeeks: 4, u: 0.1)!;
        double degPerMm = double.RadiansToDegrees(WheelAndBar.SensitivityRad(125, double.DegreesToRadians(15), 140, 8).PerRadius) / 2;
        DateTimeOffset now = Start.AddDays(141);

        DateTimeOffset by = wear.MeasureBy(degPerMm, 0.25, now)!.Value;

        Assert.True(by > now);
        Assert.Equal(0.25, 2 * Math.Abs(degPerMm) * wear.DiameterAt(by).StandardUncertainty.Millimetres, 0.01);
        Assert.Equal(now, wear.MeasureBy(degPerMm, 0.01, now));
    }

    [Fact]
    public void One_measurement_gives_a_guess_that_says_so_and_none_gives_nothing()
    {
        Assert.True(WheelWear.Of([new(Start, 250, 0.1)], [], [])!.IsGuess);
        Assert.Null(WheelWear.Of([], [], []));
        Assert.Throws<ArgumentOutOfRangeException>(() => WheelWear.Of([new(Start, 250, 0)], [], []));
    }

    private static WheelWear? Straight(double perThousand, int weeks, int everyWeeks, double u) => WheelWear.Of(
        Enumerable.Range(0, weeks + 1).Where(w => w % everyWeeks == 0).Select(w => new WheelMeasured(Start.AddDays(7 * w), 250 - (perThousand * 5 * w), u)),
        Enumerable.Range(1, weeks).Select(w => new WheelWorked(Start.AddDays(7 * w), 5000)), []);
}
