namespace Whetwright.Core.Metrology.Charts;

/// <summary>Chart of the means of equal samples, with limits from their ranges and from their standard deviations. Source: [montgomery].</summary>
/// <param name="Size">Values per sample.</param>
/// <param name="Means">Mean of each sample.</param>
/// <param name="Mean">Centre line of the means.</param>
/// <param name="MeanRange">Mean of the ranges.</param>
/// <param name="MeanDeviation">Mean of the standard deviations.</param>
/// <param name="SigmaByRange">Mean range over d2.</param>
/// <param name="SigmaByDeviation">Mean standard deviation over c4.</param>
/// <param name="MeanLimits">Means, by the ranges.</param>
/// <param name="RangeLimits">Ranges.</param>
/// <param name="DeviationLimits">Standard deviations.</param>
public sealed record SubgroupChart(
    int Size, IReadOnlyList<double> Means, double Mean, double MeanRange, double MeanDeviation, double SigmaByRange, double SigmaByDeviation,
    (double Lower, double Upper) MeanLimits, (double Lower, double Upper) RangeLimits, (double Lower, double Upper) DeviationLimits)
{
    /// <summary>Indices of samples whose mean lies outside.</summary>
    public IReadOnlyList<int> Outside => [.. Enumerable.Range(0, Means.Count).Where(i => Means[i] < MeanLimits.Lower || Means[i] > MeanLimits.Upper)];

    /// <summary>Makes the chart.</summary>
    /// <param name="samples">Two or more samples of the same size, two or more values each.</param>
    /// <exception cref="ArgumentException">Fewer samples or values, or samples of different size.</exception>
    public static SubgroupChart Of(IReadOnlyList<IReadOnlyList<double>> samples)
    {
        int n = samples.Count > 0 ? samples[0].Count : 0;
        if (samples.Count < 2 || n < 2 || samples.Any(s => s.Count != n))
            throw new ArgumentException("Must be two samples or more, all with the same number of values, two or more each.", nameof(samples));
        double[] means = [.. samples.Select(s => s.Average())];
        double mean = means.Average(), range = samples.Average(s => s.Max() - s.Min()), deviation = samples.Average(s => TypeA.Evaluate(s).StandardDeviation);
        (double d3, double d4) = ControlConstants.D(n);
        (double b3, double b4) = ControlConstants.B(n);
        double sigma = range / ControlConstants.D2(n), width = 3 * sigma / Math.Sqrt(n);
        return new(n, means, mean, range, deviation, sigma, deviation / ControlConstants.C4(n),
            (mean - width, mean + width), (d3 * range, d4 * range), (b3 * deviation, b4 * deviation));
    }
}
