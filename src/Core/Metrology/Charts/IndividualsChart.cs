namespace Whetwright.Core.Metrology.Charts;

/// <summary>Chart of individual values with the moving range of two neighbours. Source: [montgomery]; [nist-handbook] 6.3.2.2.</summary>
/// <param name="Values">In order of time.</param>
/// <param name="Ranges">|x_i − x_{i−1}|, one fewer than the values.</param>
/// <param name="Mean">Centre line.</param>
/// <param name="MeanRange">Centre line of the ranges.</param>
/// <param name="Sigma">Short-term standard deviation, mean range over d2 = 1.128.</param>
/// <param name="Lower">Mean less 3 σ.</param>
/// <param name="Upper">Mean plus 3 σ.</param>
/// <param name="UpperRange">D4 times the mean range.</param>
/// <param name="Lag1">Correlation of neighbours: well above 0 the limits are too narrow.</param>
public sealed record IndividualsChart(
    IReadOnlyList<double> Values, IReadOnlyList<double> Ranges, double Mean, double MeanRange, double Sigma, double Lower, double Upper, double UpperRange, double Lag1)
{
    /// <summary>d2 of two values, 2/√π.</summary>
    public static double D2 { get; } = 2 / Math.Sqrt(Math.PI);

    /// <summary>D4 of two values, 1 + 3·√(2 − 4/π)/(2/√π): 3.267.</summary>
    public static double D4 { get; } = 1 + (3 * Math.Sqrt(2 - (4 / Math.PI)) / D2);

    /// <summary>Indices of values outside the limits.</summary>
    public IReadOnlyList<int> Outside => [.. Enumerable.Range(0, Values.Count).Where(i => Values[i] < Lower || Values[i] > Upper)];

    /// <summary>Indices of values whose range to the one before lies above its limit.</summary>
    public IReadOnlyList<int> RangeOutside => [.. Enumerable.Range(0, Ranges.Count).Where(i => Ranges[i] > UpperRange).Select(i => i + 1)];

    /// <summary>Makes the chart; null with fewer than two values.</summary>
    /// <param name="values">In order of time, finite.</param>
    /// <param name="baseline">How many of the first values set the limits; null for all.</param>
    public static IndividualsChart? Of(IReadOnlyList<double> values, int? baseline = null)
    {
        int n = Math.Min(baseline ?? values.Count, values.Count);
        if (n < 2)
            return null;
        double[] ranges = [.. Enumerable.Range(1, values.Count - 1).Select(i => Math.Abs(values[i] - values[i - 1]))];
        double mean = values.Take(n).Average(), meanRange = ranges.Take(n - 1).Average(), sigma = meanRange / D2;
        return new(values, ranges, mean, meanRange, sigma, mean - (3 * sigma), mean + (3 * sigma), D4 * meanRange, LagOne(values));
    }

    /// <summary>Σ (x_i − x̄)(x_{i+1} − x̄)/Σ (x_i − x̄)²; 0 where nothing varies.</summary>
    public static double LagOne(IReadOnlyList<double> values)
    {
        double mean = values.Average(), all = 0, neighbours = 0;
        for (int i = 0; i < values.Count; i++)
        {
            all += (values[i] - mean) * (values[i] - mean);
            neighbours += i > 0 ? (values[i] - mean) * (values[i - 1] - mean) : 0;
        }

        return all > 0 ? neighbours / all : 0;
    }
}
