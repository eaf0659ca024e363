using Whetwright.Core.Metrology;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>Published worked examples of JCGM 100:2008 (GUM), through the code that readings use.</summary>
public sealed class GumExamplesTests
{
    // JCGM 100:2008, 4.4.3, Table 1 (readings from memory; they reproduce the printed results).
    private static readonly double[] Thermometer =
    [
        96.9, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07,
        100.33, 100.42, 100.68, 100.95, 101.11, 101.2, 101.57, 101.84, 102.36, 102.72,
    ];

    // JCGM 100:2008, Annex H.2, Tables H.2 to H.4 (read on secondary pages, recomputed).
    private static readonly double[] Volts = [5.007, 4.994, 5.005, 4.990, 4.999];
    private static readonly double[] Milliamperes = [19.663, 19.639, 19.640, 19.685, 19.678];
    private static readonly double[] Phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

    [Fact]
    public void Twenty_thermometer_readings_give_the_printed_mean_scatter_and_uncertainty()
    {
        RepeatedReadings readings = TypeA.Evaluate(Thermometer);

        Assert.Equal(100.145, readings.Mean, 0.0005);
        Assert.Equal(1.489, readings.StandardDeviation, 0.0005);
        Assert.Equal(0.333, readings.UncertaintyOfMean, 0.0005);
        Assert.Equal(19, readings.DegreesOfFreedom);
    }

    [Fact]
    public void Resistance_reactance_and_impedance_of_example_H2_come_out_with_their_correlations()
    {
        double[,] covariance = TypeA.CovarianceOfMeans([Volts, Milliamperes, Phase]);
        double[,] correlation = TypeA.Correlation(covariance);
        Assert.Equal(-0.36, correlation[0, 1], 0.005);
        Assert.Equal(0.86, correlation[0, 2], 0.005);
        Assert.Equal(-0.65, correlation[1, 2], 0.005);
        InputQuantity[] inputs =
        [
            Input("V", Volts, covariance[0, 0], "V"), Input("I", Milliamperes, covariance[1, 1], "mA"), Input("φ", Phase, covariance[2, 2], "rad"),
        ];
        Func<double[], double>[] models =
        [
            x => x[0] / x[1] * 1000 * Math.Cos(x[2]), x => x[0] / x[1] * 1000 * Math.Sin(x[2]), x => x[0] / x[1] * 1000,
        ];

        PropagatedUncertainty[] results = [.. models.Select(m => Propagation.FirstOrder(m, inputs, correlation))];
        double[,] r = TypeA.Correlation(Propagation.CovarianceOfResults(models, inputs, correlation));

        Assert.Equal([127.732, 219.847, 254.260], results.Select(x => Math.Round(x.Value, 3)));
        Assert.Equal(0.0711, results[0].Uncertainty, 0.0001);
        Assert.Equal(0.2956, results[1].Uncertainty, 0.0001);   // the GUM prints 0.295, rounding inside
        Assert.Equal(0.2363, results[2].Uncertainty, 0.0001);
        Assert.Equal(-0.588, r[0, 1], 0.001);
        Assert.Equal(-0.485, r[0, 2], 0.001);
        Assert.Equal(0.993, r[1, 2], 0.001);
    }

    [Fact]
    public void The_end_gauge_of_example_H1_has_sixteen_degrees_of_freedom_and_its_printed_expanded_uncertainty()
    {
        // JCGM 100:2008, Annex H.1: budget from a secondary page, 99 % figures from memory.
        double[] parts = [25.0, 5.8, 3.9, 6.7, 2.9, 16.6];
        double[] dof = [18, 24, 5, 8, 50, 2];
        InputQuantity[] inputs = [.. parts.Select((p, i) => new InputQuantity($"x{i}", $"part {i}", 0, p, "nm") { DegreesOfFreedom = dof[i] })];

        PropagatedUncertainty length = Propagation.FirstOrder(x => x.Sum(), inputs);

        Assert.Equal(32, length.Uncertainty, 0.5);
        Assert.Equal(16.7, length.EffectiveDegreesOfFreedom, 0.1);
        Assert.Equal(2.92, StudentT.CoverageFactor(0.99, 16), 0.005);
        Assert.Equal(2.12, StudentT.CoverageFactor(0.95, 16), 0.005);
        Assert.Equal(93, length.Expanded(0.99), 1.0);
    }

    [Fact]
    public void Given_partial_derivatives_and_numeric_ones_agree()
    {
        InputQuantity[] inputs = [new("x", "place", 57.735, 0.2, "mm"), new("L", "distance", 100, 0.5, "mm")];
        static double Bevel(double[] x) => 0.5 * Math.Atan2(x[0], x[1]);
        double square = (57.735 * 57.735) + (100 * 100);

        PropagatedUncertainty numeric = Propagation.FirstOrder(Bevel, inputs);
        PropagatedUncertainty given = Propagation.FirstOrder(Bevel, inputs, null, [0.5 * 100 / square, -0.5 * 57.735 / square]);

        Assert.Equal(given.Uncertainty, numeric.Uncertainty, 1e-9);
        Assert.Equal(given.Uncertainty, Math.Sqrt(numeric.Budget.Sum(b => b.Uncertainty * b.Uncertainty)), 1e-9);
    }

    [Fact]
    public void One_reading_alone_is_refused_since_it_says_nothing_of_scatter() =>
        Assert.Throws<ArgumentException>(() => TypeA.Evaluate([15.0]));

    private static InputQuantity Input(string symbol, double[] readings, double variance, string unit) =>
        new(symbol, symbol, readings.Average(), Math.Sqrt(variance), unit) { DegreesOfFreedom = readings.Length - 1 };
}
