using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>A pile of coins, feelers or shims whose thicknesses the person typed, as near as can be to a wanted lift.</summary>
/// <param name="CountOfEach">How many of each thickness, in the order given.</param>
/// <param name="HeightMm">Height of the pile.</param>
/// <param name="MissMm">Height less the lift wanted.</param>
public sealed record CoinStack(IReadOnlyList<int> CountOfEach, double HeightMm, double MissMm)
{
    /// <summary>Most coins in a pile that still stands (chosen, not derived).</summary>
    public const int MostCoins = 8;

    /// <summary>
    /// The pile nearest to <paramref name="liftMm"/> of at most <paramref name="most"/> pieces; of equally near ones (to 1 µm) that of fewest. Every
    /// combination is tried, so nothing nearer exists within the limit.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">A thickness or the lift is not above zero, or more than eight kinds.</exception>
    public static CoinStack Nearest(double liftMm, IReadOnlyList<double> thicknessesMm, int most = MostCoins)
    {
        Require.Positive(liftMm);
        Require.Within(most, 1, 12);
        Require.Within(thicknessesMm.Count, 1, 8, nameof(thicknessesMm));
        foreach (double thickness in thicknessesMm)
            Require.Positive(thickness, nameof(thicknessesMm));
        int[] counts = new int[thicknessesMm.Count];
        int[] best = new int[counts.Length];
        double bestMiss = double.PositiveInfinity;
        int bestUsed = 0;
        Try(0, 0, 0);
        double height = best.Select((n, i) => n * thicknessesMm[i]).Sum();
        return new(best, height, height - liftMm);

        void Try(int kind, int used, double height)
        {
            double miss = Math.Abs(height - liftMm);
            if (used > 0 && (miss < bestMiss - 1e-3 || (miss < bestMiss + 1e-3 && used < bestUsed)))
            {
                (bestMiss, bestUsed) = (miss, used);
                counts.CopyTo(best, 0);
            }

            for (int k = kind; k < counts.Length && used < most; k++)
            {
                counts[k]++;
                Try(k, used + 1, height + thicknessesMm[k]);
                counts[k]--;
            }
        }
    }
}
