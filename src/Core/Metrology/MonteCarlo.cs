using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>
/// Propagation of distributions: draws the inputs many times, runs the model, and reads mean, standard uncertainty and coverage intervals
/// off the results. Right also where the first-order law fails. Seeded: the same seed gives the same numbers. Source: [s1] clauses 5 to 7.
/// </summary>
public static class MonteCarlo
{
    /// <summary>Runs a model on draws of its inputs.</summary>
    /// <param name="model">Result from the inputs' values, in their order.</param>
    /// <param name="inputs">The inputs with their distributions.</param>
    /// <param name="draws">How many draws; [s1] 7.2 advises 10⁶ for two digits of a 95 % interval.</param>
    /// <param name="seed">Seed of the random numbers.</param>
    /// <param name="correlation">Correlation of normal inputs; null: independent. Other distributions must be uncorrelated.</param>
    /// <exception cref="ArgumentException">Correlated inputs that are not normal, or fewer than 100 draws.</exception>
    public static MonteCarloResult Propagate(
        Func<double[], double> model, IReadOnlyList<InputQuantity> inputs, int draws, int seed, double[,]? correlation = null)
    {
        double[,]? lower = correlation is null ? null : SymmetricMatrix.Cholesky(correlation);
        if (correlation is not null)
            RefuseCorrelatedOthers(inputs, correlation);
        RandomDraws random = new(seed);
        double[] x = new double[inputs.Count];
        double[] z = new double[inputs.Count];
        return Run(draws, () =>
        {
            for (int i = 0; i < x.Length; i++)
                z[i] = random.Standard(inputs[i].Distribution, inputs[i].DegreesOfFreedom);
            for (int i = 0; i < x.Length; i++)
            {
                double standard = z[i];
                if (lower is not null && inputs[i].Distribution == InputDistribution.Normal)
                {
                    standard = 0;
                    for (int k = 0; k <= i; k++)
                        standard += lower[i, k] * z[k];
                }

                x[i] = inputs[i].Value + (inputs[i].Uncertainty * standard);
            }

            return model(x);
        });
    }

    /// <summary>Runs any source of draws.</summary>
    /// <exception cref="ArgumentException">Fewer than 100 draws, or a draw that is not finite.</exception>
    public static MonteCarloResult Run(int draws, Func<double> draw)
    {
        if (draws < 100)
            throw new ArgumentException($"Must draw at least 100 times, not {draws}.", nameof(draws));
        double[] results = new double[draws];
        for (int i = 0; i < draws; i++)
            results[i] = Require.Finite(draw(), "model");
        return MonteCarloResult.Of(results);
    }

    private static void RefuseCorrelatedOthers(IReadOnlyList<InputQuantity> inputs, double[,] correlation)
    {
        for (int i = 0; i < inputs.Count; i++)
        {
            for (int j = 0; j < inputs.Count; j++)
            {
                if (i != j && correlation[i, j] != 0 && inputs[i].Distribution != InputDistribution.Normal)
                    throw new ArgumentException($"{inputs[i].Symbol} is correlated and must therefore be normal.", nameof(inputs));
            }
        }
    }
}

/// <summary>What the draws say.</summary>
/// <param name="Mean">Mean of the results.</param>
/// <param name="Uncertainty">Their standard deviation.</param>
public sealed record MonteCarloResult(double Mean, double Uncertainty)
{
    private double[] Sorted { get; init; } = [];

    /// <summary>How many draws.</summary>
    public int Draws => Sorted.Length;

    /// <summary>Mean, standard deviation and order of a set of results.</summary>
    public static MonteCarloResult Of(double[] results)
    {
        double[] sorted = [.. results.Order()];
        double mean = sorted.Average();
        double variance = sorted.Sum(y => (y - mean) * (y - mean)) / (sorted.Length - 1);
        return new(mean, Math.Sqrt(variance)) { Sorted = sorted };
    }

    /// <summary>The interval with equal shares left out at either end. Source: [s1] 7.7.</summary>
    public (double Low, double High) SymmetricInterval(double share = 0.95)
    {
        int inside = Inside(share);
        int below = (Sorted.Length - inside) / 2;
        return (Sorted[below], Sorted[below + inside]);
    }

    /// <summary>The shortest interval that holds the share. Source: [s1] 7.7.4 and 5.3.4.</summary>
    public (double Low, double High) ShortestInterval(double share = 0.95)
    {
        int inside = Inside(share);
        int best = 0;
        for (int i = 1; i + inside < Sorted.Length; i++)
        {
            if (Sorted[i + inside] - Sorted[i] < Sorted[best + inside] - Sorted[best])
                best = i;
        }

        return (Sorted[best], Sorted[best + inside]);
    }

    private int Inside(double share) => share is > 0 and < 1
        ? (int)((share * Sorted.Length) + 0.5)
        : throw new ArgumentOutOfRangeException(nameof(share), share, "Must lie between 0 and 1.");
}
