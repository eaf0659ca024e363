using Whetwright.Core.Metrology;
using Whetwright.Core.Metrology.Charts;
using static Whetwright.Core.Tests.Metrology.PublishedTables;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>Against certified values of the NIST/ITL Statistical Reference Datasets; digits expected are given as a relative tolerance.</summary>
public sealed class NistReferenceTests
{
    [Fact]
    public void Norris_a_straight_line()
    {
        double[] x = Column("strd_norris.csv", "x");
        LinearRegression fit = LinearRegression.Fit([Ones(x.Length), x], Column("strd_norris.csv", "y"));

        Near(-0.262323073774029, fit.Coefficients[0], 1e-10);
        Near(1.00211681802045, fit.Coefficients[1], 1e-12);
        Near(0.232818234301152, fit.UncertaintyOf(0), 1e-11);
        Near(0.000429796848199937, fit.UncertaintyOf(1), 1e-11);
        Near(0.884796396144373, fit.ResidualDeviation, 1e-11);
        Near(0.999993745883712, fit.RSquared, 1e-12);
        Near(5436385.54079785, fit.F, 1e-10);
        Assert.Equal(34, fit.Freedom);
    }

    [Fact]
    public void NoInt1_a_line_through_zero()
    {
        LinearRegression fit = LinearRegression.Fit([Column("strd_noint1.csv", "x")], Column("strd_noint1.csv", "y"));

        Near(2.07438016528926, fit.Coefficients[0], 1e-13);
        Near(0.0165289256198347, fit.UncertaintyOf(0), 1e-12);
        Near(3.56753034006338, fit.ResidualDeviation, 1e-12);
        Near(0.999365492298663, fit.RSquared, 1e-13);
        Near(15750.25, fit.F, 1e-11);
    }

    [Fact]
    public void Longley_six_columns_that_nearly_depend_on_each_other()
    {
        double[] y = Column("strd_longley.csv", "y");
        LinearRegression fit = LinearRegression.Fit([Ones(y.Length), .. Enumerable.Range(1, 6).Select(j => Column("strd_longley.csv", $"x{j}"))], y);

        double[] certified = [-3482258.63459582, 15.0618722713733, -0.035819179292591, -2.02022980381683, -1.03322686717359, -0.0511041056535807, 1829.15146461355];
        double[] deviations = [890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699, 0.214274163161675, 0.22607320006937, 455.478499142212];
        for (int j = 0; j < 7; j++)
        {
            Near(certified[j], fit.Coefficients[j], 1e-8);
            Near(deviations[j], fit.UncertaintyOf(j), 1e-8);
        }

        Near(304.854073561965, fit.ResidualDeviation, 1e-9);
        Near(0.995479004577296, fit.RSquared, 1e-11);
        Near(330.285339234588, fit.F, 1e-8);
    }

    [Fact]
    public void SiRstvt_five_instruments_five_values_each()
    {
        OneWayAnova anova = OneWayAnova.Of(Enumerable.Range(1, 5).Select(i => Column("strd_sirstvt.csv", $"instrument{i}")));

        Near(0.0511462616, anova.BetweenSquares, 1e-9);
        Near(0.21663656, anova.WithinSquares, 1e-9);
        Near(1.18046237440255, anova.F, 1e-9);
        Near(0.190999039051129, anova.RSquared, 1e-9);
        Near(0.104076068334656, Math.Sqrt(anova.WithinMeanSquare), 1e-9);
        Assert.Equal((4, 20), (anova.BetweenFreedom, anova.WithinFreedom));
    }

    [Fact]
    public void Michelson_mean_scatter_and_correlation_of_neighbours()
    {
        double[] y = Column("strd_michelso.csv", "y");

        Near(299.8524, TypeA.Evaluate(y).Mean, 1e-14);
        Near(0.0790105478190518, TypeA.Evaluate(y).StandardDeviation, 1e-11);
        Near(0.535199668621283, IndividualsChart.LagOne(y), 1e-11);
    }

    [Fact]
    public void A_prediction_interval_holds_the_next_value_as_often_as_it_says()
    {
        RandomDraws random = new(11);
        int inside = 0;
        for (int trial = 0; trial < 2000; trial++)
        {
            double[] x = [.. Enumerable.Range(0, 6).Select(_ => 10 * random.Uniform())];
            LinearRegression fit = LinearRegression.Fit([Ones(6), x], [.. x.Select(v => 3 - (0.4 * v) + (0.2 * random.Normal()))]);
            Prediction next = fit.At([1, 14]);
            double truth = 3 - (0.4 * 14) + (0.2 * random.Normal());
            inside += truth >= next.FromNext && truth <= next.ToNext ? 1 : 0;
        }

        // 0.95 of 2000 within three standard deviations of a binomial.
        Assert.InRange(inside, 1900 - 29, 1900 + 29);
    }

    [Fact]
    public void What_cannot_be_fitted_is_refused()
    {
        Assert.Throws<ArgumentException>(() => LinearRegression.Fit([[1, 1], [1, 2]], [1, 2]));
        Assert.Throws<ArgumentException>(() => LinearRegression.Fit([[1, 1, 1], [2, 2, 2]], [1, 2, 3]));
        Assert.Throws<ArgumentException>(() => LinearRegression.Fit([[1, 1]], [1, 2, 3]));
        Assert.Throws<ArgumentException>(() => OneWayAnova.Of([[1], [2]]));
    }

    private static double[] Ones(int n) => [.. Enumerable.Repeat(1.0, n)];

    private static void Near(double certified, double got, double relative) => Assert.Equal(certified, got, Math.Abs(certified) * relative);
}
