namespace Whetwright.Core.Metrology;

/// <summary>Analysis of variance of groups. Source: [montgomery]; checked against NIST's SiRstv.</summary>
/// <param name="BetweenSquares">Σ n_g (mean_g − mean)².</param>
/// <param name="BetweenFreedom">Groups less one.</param>
/// <param name="WithinSquares">Σ (x − mean_g)².</param>
/// <param name="WithinFreedom">Values less groups.</param>
/// <param name="BetweenVariance">Variance of the groups' true means, by moments, not below zero; groups may differ in size.</param>
public sealed record OneWayAnova(double BetweenSquares, int BetweenFreedom, double WithinSquares, int WithinFreedom, double BetweenVariance)
{
    /// <summary>Mean square between groups.</summary>
    public double BetweenMeanSquare => BetweenSquares / BetweenFreedom;

    /// <summary>Mean square within groups.</summary>
    public double WithinMeanSquare => WithinSquares / WithinFreedom;

    /// <summary>Ratio of the two.</summary>
    public double F => BetweenMeanSquare / WithinMeanSquare;

    /// <summary>Chance of such an F where the groups do not differ.</summary>
    public double P => Distributions.FUpperTail(F, BetweenFreedom, WithinFreedom);

    /// <summary>Share of the squares that the groups explain.</summary>
    public double RSquared => BetweenSquares / (BetweenSquares + WithinSquares);

    /// <summary>Works it out.</summary>
    /// <param name="groups">Two or more groups, at least one of two values or more; empty ones are left out.</param>
    /// <exception cref="ArgumentException">Fewer groups or values.</exception>
    public static OneWayAnova Of(IEnumerable<IReadOnlyList<double>> groups)
    {
        IReadOnlyList<double>[] all = [.. groups.Where(g => g.Count > 0)];
        int n = all.Sum(g => g.Count);
        if (all.Length < 2 || n <= all.Length)
            throw new ArgumentException($"Must be two groups or more, one of them with two values or more; there are {all.Length} groups of {n} values.", nameof(groups));
        double mean = all.Sum(g => g.Sum()) / n;
        double between = all.Sum(g => g.Count * (g.Average() - mean) * (g.Average() - mean));
        double within = all.Sum(g =>
        {
            double own = g.Average();
            return g.Sum(x => (x - own) * (x - own));
        });
        double perGroup = (n - (all.Sum(g => (double)g.Count * g.Count) / n)) / (all.Length - 1);
        double variance = Math.Max(0, ((between / (all.Length - 1)) - (within / (n - all.Length))) / perGroup);
        return new(between, all.Length - 1, within, n - all.Length, variance);
    }
}
