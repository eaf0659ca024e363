using Whetwright.Core.Metrology;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>Published results of JCGM 101:2008 (Supplement 1 to the GUM), clause 9.</summary>
public sealed class MonteCarloTests
{
    private const int Draws = 400_000;

    [Theory]
    [InlineData(InputDistribution.Normal, 1.0, 2.0, 3.92)]      // 9.2.2 (read on secondary pages)
    [InlineData(InputDistribution.Rectangular, 1.0, 2.0, 3.88)]  // 9.2.3; closed form 2√3(2 − (3/5)^¼) = 3.8794
    [InlineData(InputDistribution.Rectangular, 10.0, 10.1, 17.0)] // 9.2.4 (memory, confirmed by simulation)
    public void The_additive_model_has_the_printed_uncertainty_and_interval(InputDistribution distribution, double fourth, double u, double limit)
    {
        InputQuantity[] inputs = [.. new[] { 1, 1, 1, fourth }.Select((s, i) =>
            new InputQuantity($"X{i + 1}", $"X{i + 1}", 0, s, "1") { Distribution = distribution })];

        MonteCarloResult result = MonteCarlo.Propagate(x => x.Sum(), inputs, Draws, seed: 1);
        (double low, double high) = result.SymmetricInterval();

        Assert.Equal(0, result.Mean, 0.02 * u);
        Assert.Equal(u, result.Uncertainty, 0.06);   // 9.2.4 prints 10.1 for √103 = 10.149
        Assert.Equal(-limit, low, 0.006 * limit);
        Assert.Equal(limit, high, 0.006 * limit);
    }

    // 9.4, comparison loss without correlation, in units of 1e-6 (memory; mean and u also in closed form).
    [Theory]
    [InlineData(0.0, 50, 50, 0, 150)]
    [InlineData(0.01, 150, 112, 0, 367)]
    [InlineData(0.05, 2551, 502, 1590, 3543)]
    public void Comparison_loss_has_the_printed_mean_uncertainty_and_shortest_interval(double x1, double mean, double u, double low, double high)
    {
        InputQuantity[] inputs = [new("X1", "X1", x1, 0.005, "1"), new("X2", "X2", 0, 0.005, "1")];

        MonteCarloResult loss = MonteCarlo.Propagate(x => ((x[0] * x[0]) + (x[1] * x[1])) * 1e6, inputs, Draws, seed: 2);
        (double from, double to) = loss.ShortestInterval();

        Assert.Equal(mean, loss.Mean, 1 + (0.002 * mean));
        Assert.Equal(u, loss.Uncertainty, 1 + (0.005 * u));
        Assert.Equal(low, from, 0.02 * u + 1);
        Assert.Equal(high, to, 0.03 * u);
    }

    [Fact]
    public void First_order_propagation_of_comparison_loss_is_zero_where_Monte_Carlo_is_not()
    {
        InputQuantity[] inputs = [new("X1", "X1", 0, 0.005, "1"), new("X2", "X2", 0, 0.005, "1")];

        PropagatedUncertainty law = Propagation.FirstOrder(x => (x[0] * x[0]) + (x[1] * x[1]), inputs);

        Assert.Equal(0, law.Uncertainty, 1e-12);
    }

    [Fact]
    public void The_same_seed_gives_the_same_numbers_and_another_seed_others()
    {
        InputQuantity[] inputs = [new("x", "x", 1, 0.1, "1") { Distribution = InputDistribution.StudentT, DegreesOfFreedom = 4 }];
        MonteCarloResult Run(int seed) => MonteCarlo.Propagate(x => x[0], inputs, 1000, seed);

        Assert.Equal(Run(3).Mean, Run(3).Mean);
        Assert.NotEqual(Run(3).Mean, Run(4).Mean);
    }

    [Fact]
    public void Correlated_normal_inputs_keep_their_correlation()
    {
        InputQuantity[] inputs = [new("a", "a", 0, 1, "1"), new("b", "b", 0, 2, "1")];
        double[,] r = { { 1, 0.8 }, { 0.8, 1 } };

        MonteCarloResult sum = MonteCarlo.Propagate(x => x[0] - x[1], inputs, Draws, seed: 5, r);

        Assert.Equal(Math.Sqrt(1 + 4 - (2 * 0.8 * 2)), sum.Uncertainty, 0.01);
    }

    [Fact]
    public void Students_t_draws_have_the_spread_that_their_degrees_of_freedom_ask_for()
    {
        InputQuantity[] inputs = [new("x", "x", 0, 1, "1") { Distribution = InputDistribution.StudentT, DegreesOfFreedom = 9 }];

        MonteCarloResult t = MonteCarlo.Propagate(x => x[0], inputs, Draws, seed: 6);

        Assert.Equal(Math.Sqrt(9.0 / 7), t.Uncertainty, 0.01);
        Assert.Equal(StudentT.CoverageFactor(0.95, 9), t.SymmetricInterval().High, 0.03);
    }
}
