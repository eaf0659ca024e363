using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>Evaluation of repeated readings by their own scatter (type A).</summary>
public static class TypeA
{
    /// <summary>Mean x̄, standard deviation s of one reading, and s/√n of the mean, with n − 1 degrees of freedom. Source: [gum] 4.2.</summary>
    /// <exception cref="ArgumentException">Fewer than two readings.</exception>
    /// <exception cref="ArgumentOutOfRangeException">A reading that is not finite.</exception>
    public static RepeatedReadings Evaluate(IReadOnlyList<double> readings)
    {
        if (readings.Count < 2)
            throw new ArgumentException($"Must have at least two readings, has {readings.Count}: one reading says nothing of its scatter.", nameof(readings));
        foreach (double reading in readings)
            Require.Finite(reading, nameof(readings));
        double mean = readings.Average();
        double s = Math.Sqrt(readings.Sum(x => (x - mean) * (x - mean)) / (readings.Count - 1));
        return new(mean, s, s / Math.Sqrt(readings.Count), readings.Count - 1);
    }

    /// <summary>
    /// Covariance of the means of quantities read together, n times each: s(q̄, r̄) = Σ(qₖ − q̄)(rₖ − r̄)/(n(n − 1)). Source: [gum] 5.2.3.
    /// </summary>
    /// <exception cref="ArgumentException">Series of unlike length, or of fewer than two readings.</exception>
    public static double[,] CovarianceOfMeans(IReadOnlyList<IReadOnlyList<double>> series)
    {
        int n = series.Count == 0 ? 0 : series[0].Count;
        if (n < 2 || series.Any(s => s.Count != n))
            throw new ArgumentException("Every series must have the same number of readings, two or more.", nameof(series));
        double[] means = [.. series.Select(s => s.Average())];
        double[,] covariance = new double[series.Count, series.Count];
        for (int a = 0; a < series.Count; a++)
        {
            for (int b = 0; b < series.Count; b++)
            {
                for (int k = 0; k < n; k++)
                    covariance[a, b] += (series[a][k] - means[a]) * (series[b][k] - means[b]) / (n * (n - 1.0));
            }
        }

        return covariance;
    }

    /// <summary>Correlation matrix of a covariance matrix; a quantity without variance is correlated with nothing.</summary>
    public static double[,] Correlation(double[,] covariance)
    {
        int n = covariance.GetLength(0);
        double[,] correlation = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                double scale = Math.Sqrt(covariance[i, i] * covariance[j, j]);
                correlation[i, j] = i == j ? 1 : scale > 0 ? covariance[i, j] / scale : 0;
            }
        }

        return correlation;
    }
}

/// <summary>What repeated readings say.</summary>
/// <param name="Mean">Their mean.</param>
/// <param name="StandardDeviation">Standard deviation of one reading.</param>
/// <param name="UncertaintyOfMean">Standard uncertainty of the mean.</param>
/// <param name="DegreesOfFreedom">n − 1.</param>
public sealed record RepeatedReadings(double Mean, double StandardDeviation, double UncertaintyOfMean, int DegreesOfFreedom);
