using Whetwright.Core.Metrology;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Scatter of single readings, pooled over all repeated marks: s² = Σ(x − x̄)²/ν ([gum] H.3, pooled), beside the resolution's own
/// variance counted as ν₀ = 2 degrees of freedom (chosen) so that few repeats promise nothing. One wild repeat is judged by Student's t of
/// its distance from the rest and left out.
/// </summary>
internal sealed record RepeatScatter(IReadOnlyList<BenchGroup> Groups, double? StandardDeviationDeg, WildMark? Wild)
{
    private const double PriorDegreesOfFreedom = 2;

    public static RepeatScatter Of(IReadOnlyList<BenchGroup> groups, ReadingAssumptions assumed)
    {
        if (groups.All(g => g.BevelsDeg.Count < 2))
            return new(groups, null, null);
        (int group, int reading, WildMark? wild) = FindWild(groups, assumed);
        IReadOnlyList<BenchGroup> kept = wild is null ? groups : [.. groups.Select((g, i) => i == group ? Without(g, reading) : g)];
        (double variance, _) = Pooled(kept);
        return new(kept, Math.Sqrt(variance), wild);
    }

    private static (int Group, int Reading, WildMark? Wild) FindWild(IReadOnlyList<BenchGroup> groups, ReadingAssumptions assumed)
    {
        (int, int, WildMark?) found = (-1, -1, null);
        double bestOdds = 1;
        for (int g = 0; g < groups.Count; g++)
        {
            int n = groups[g].BevelsDeg.Count;
            for (int r = 0; r < n && n >= 3; r++)
            {
                BenchGroup rest = Without(groups[g], r);
                (double variance, double dof) = Pooled([.. groups.Select((other, i) => i == g ? rest : other)]);
                double scale = Math.Sqrt(variance * (1 + (1.0 / (n - 1))));
                double off = groups[g].BevelsDeg[r] - rest.BevelsDeg.Average();
                double spread = assumed.WildSpread.Degrees;
                double wide = Math.Exp(-0.5 * off * off / (spread * spread)) / (spread * Math.Sqrt(2 * Math.PI));
                double near = StudentT.Density(off / scale, dof) / scale;
                double odds = assumed.WildChance / (1 - assumed.WildChance) * wide / near;
                if (odds > bestOdds)
                {
                    bestOdds = odds;
                    BenchGroup at = groups[g];
                    found = (g, r, new(at.Mount, at.Target, at.Role, Angle.FromDegrees(at.BevelsDeg[r]), Angle.FromDegrees(off), odds));
                }
            }
        }

        return found;
    }

    private static (double Variance, double DegreesOfFreedom) Pooled(IReadOnlyList<BenchGroup> groups)
    {
        double squares = 0, resolution = 0;
        int dof = 0;
        foreach (BenchGroup group in groups)
        {
            double mean = group.BevelsDeg.Average();
            squares += group.BevelsDeg.Sum(b => (b - mean) * (b - mean));
            dof += group.BevelsDeg.Count - 1;
            resolution += group.ResolutionDeg * group.ResolutionDeg / 12 / groups.Count;
        }

        return (((PriorDegreesOfFreedom * resolution) + squares) / (PriorDegreesOfFreedom + dof), PriorDegreesOfFreedom + dof);
    }

    private static BenchGroup Without(BenchGroup group, int reading) => group with
    {
        Labels = [.. group.Labels.Where((_, i) => i != reading)],
        BevelsDeg = [.. group.BevelsDeg.Where((_, i) => i != reading)],
    };
}
