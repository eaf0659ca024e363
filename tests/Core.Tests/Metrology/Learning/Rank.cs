using Whetwright.Core.Metrology;

namespace Whetwright.Simulated;

/// <summary>
/// Simulation-based calibration: drawn from the prior, a truth takes every rank among draws from its posterior equally often (S. Talts and others,
/// "Validating Bayesian inference algorithms with simulation-based calibration", 2018, from memory).
/// </summary>
internal static class Rank
{
    public const int Bins = 20;

    private const int Draws = 99;

    /// <summary>Bin of the truth's rank among 99 draws of a posterior of which so much lies below the truth: how many draws fall below is binomial.</summary>
    public static int Of(double below, RandomDraws random)
    {
        int rank = 0;
        for (int i = 0; i < Draws; i++)
            rank += random.Uniform() < below ? 1 : 0;
        return rank * Bins / (Draws + 1);
    }

    /// <summary>Σ (count − expected)²/expected; with 20 bins 95 % of flat ones lie below 30.14, 99.9 % below 43.82 (printed tables of χ², 19 degrees of freedom).</summary>
    public static double ChiSquare(int[] counts)
    {
        double expected = counts.Sum() / (double)counts.Length;
        return counts.Sum(c => (c - expected) * (c - expected) / expected);
    }
}
