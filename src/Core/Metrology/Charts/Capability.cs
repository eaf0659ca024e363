using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology.Charts;

/// <summary>A capability index with its interval.</summary>
/// <param name="Value">The index.</param>
/// <param name="From">Lower end of the interval.</param>
/// <param name="To">Upper end.</param>
public readonly record struct CapabilityIndex(double Value, double From, double To);

/// <summary>
/// What the spread needs of the tolerance. Indices and intervals: [montgomery]; [qcc]: Cp and Cpm by χ² (Cpm's degrees of freedom [boyles]), Cpk by the normal approximation
/// Cpk·(1 ± z·√(1/(9·n·Cpk²) + 1/(2(n − 1)))). They hold for a process in control and near normal.
/// </summary>
/// <param name="Count">Values.</param>
/// <param name="Mean">Their mean.</param>
/// <param name="Sigma">Standard deviation used.</param>
/// <param name="Cp">Tolerance over 6 σ.</param>
/// <param name="Cpk">Distance of the mean to the nearer limit over 3 σ.</param>
/// <param name="CpLower">Distance to the lower limit over 3 σ.</param>
/// <param name="CpUpper">Distance to the upper limit over 3 σ.</param>
/// <param name="Cpm">Cp/√(1 + ((mean − target)/σ)²).</param>
/// <param name="OutsideShare">Share expected outside the tolerance, of normal values, 0 to 1.</param>
public sealed record Capability(
    int Count, double Mean, double Sigma, CapabilityIndex Cp, CapabilityIndex Cpk, double CpLower, double CpUpper, CapabilityIndex Cpm, double OutsideShare)
{
    /// <summary>Works it out from values; null with fewer than three values or where nothing varies.</summary>
    /// <param name="values">Values in order of time.</param>
    /// <param name="lower">Lower limit of the tolerance.</param>
    /// <param name="upper">Upper limit, above the lower.</param>
    /// <param name="target">What is aimed at; null for the middle.</param>
    /// <param name="share">Share that the intervals hold.</param>
    public static Capability? Of(IReadOnlyList<double> values, double lower, double upper, double? target = null, double share = 0.95)
    {
        if (values.Count < 3)
            return null;
        RepeatedReadings readings = TypeA.Evaluate(values);
        return readings.StandardDeviation > 0 ? Of(values.Count, readings.Mean, readings.StandardDeviation, lower, upper, target, share) : null;
    }

    /// <summary>Works it out from count, mean and standard deviation.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than two values, σ not above zero, or limits the wrong way round.</exception>
    public static Capability Of(int count, double mean, double sigma, double lower, double upper, double? target = null, double share = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 2);
        Require.Finite(mean);
        Require.Positive(sigma);
        Require.Positive(upper - lower);
        Require.Within(share, 0.5, 0.9999);
        double cp = (upper - lower) / (6 * sigma), low = (mean - lower) / (3 * sigma), high = (upper - mean) / (3 * sigma), cpk = Math.Min(low, high);
        double off = (mean - (target ?? ((lower + upper) / 2))) / sigma, cpm = cp / Math.Sqrt(1 + (off * off));
        double freedom = count * (1 + (off * off)) * (1 + (off * off)) / (1 + (2 * off * off));
        double z = Distributions.NormalQuantile((1 + share) / 2);
        // The same as Cpk·(1 ± …), written so that it also holds at 0 and below.
        double half = z * Math.Sqrt((1 / (9.0 * count)) + (cpk * cpk / (2 * (count - 1.0))));
        double outside = Distributions.NormalLowerTail(-3 * low) + Distributions.NormalLowerTail(-3 * high);
        return new(count, mean, sigma, ByChiSquare(cp, count - 1, share), new(cpk, cpk - half, cpk + half), low, high, ByChiSquare(cpm, freedom, share), outside);
    }

    private static CapabilityIndex ByChiSquare(double index, double freedom, double share) => new(
        index,
        index * Math.Sqrt(Distributions.ChiSquareQuantile((1 - share) / 2, freedom) / freedom),
        index * Math.Sqrt(Distributions.ChiSquareQuantile((1 + share) / 2, freedom) / freedom));
}
