using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// The scatter of the roll from one clamping to the next. Mounts with the tip the same way differ in half the difference of their edge
/// marks, (R − L)/2, by nothing but re-clamping and reading noise: s² pooled over both ways with ν degrees of freedom, less the noise.
/// The prior counts as ν₀ degrees of freedom: σ² = (ν₀σ₀² + ν·max(0, s² − noise))/(ν₀ + ν). Source: [gelman] ch. 2 (scaled inverse χ²), conjugate mean.
/// </summary>
public static class ReclampingScatter
{
    /// <summary>Estimates the scatter from repeats, beside the prior.</summary>
    public static ScatterUsed Estimate(IReadOnlyList<ReadingObservation> observations, ReadingKnowledge knowledge)
    {
        double prior = (knowledge.Scatter ?? knowledge.Assumptions.Scatter).Degrees;
        double squares = 0, noise = 0;
        int degreesOfFreedom = 0;
        foreach (IGrouping<TipDirection, (TipDirection Tip, double Half, double Variance)> way in HalfDifferences(observations).GroupBy(h => h.Tip))
        {
            (TipDirection Tip, double Half, double Variance)[] mounts = [.. way];
            double mean = mounts.Average(m => m.Half);
            squares += mounts.Sum(m => (m.Half - mean) * (m.Half - mean));
            noise += mounts.Average(m => m.Variance) * (mounts.Length - 1);
            degreesOfFreedom += mounts.Length - 1;
        }

        if (degreesOfFreedom == 0)
            return new(Angle.FromDegrees(prior), knowledge.Scatter is null, 0);
        double weight = knowledge.Assumptions.ScatterPriorDegreesOfFreedom;
        double variance = ((weight * prior * prior) + Math.Max(0, squares - noise)) / (weight + degreesOfFreedom);
        return new(Angle.FromDegrees(Math.Sqrt(variance)), false, degreesOfFreedom);
    }

    private static IEnumerable<(TipDirection Tip, double Half, double Variance)> HalfDifferences(IReadOnlyList<ReadingObservation> observations)
    {
        foreach (IGrouping<int, ReadingObservation> mount in observations.Where(o => o.Role == MarkRole.Edge).GroupBy(o => o.Mount))
        {
            ReadingObservation? left = mount.FirstOrDefault(o => o.Target == Side.Left);
            ReadingObservation? right = mount.FirstOrDefault(o => o.Target == Side.Right);
            if (left is not null && right is not null)
            {
                double variance = left.Noise.Concat(right.Noise).Sum(n => n.UncertaintyDeg * n.UncertaintyDeg) / 4;
                yield return (left.Tip, (right.AsRead.Degrees - left.AsRead.Degrees) / 2, variance);
            }
        }
    }
}
