using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>An unknown of a linear model, with what was known of it before.</summary>
/// <param name="Name">What it is.</param>
/// <param name="PriorMean">Best value before the data.</param>
/// <param name="PriorUncertainty">Standard uncertainty before the data; positive infinity where nothing was known.</param>
/// <param name="Source">What the prior's share of an uncertainty is called in budgets.</param>
public sealed record Unknown(string Name, double PriorMean, double PriorUncertainty, string Source);

/// <summary>One observation, y = Σ row·x + noise, with independent noise that may have several named parts.</summary>
/// <param name="Row">Coefficient of every unknown, in their order.</param>
/// <param name="Value">What was observed.</param>
/// <param name="Noise">Named parts of the standard uncertainty; their squares add up, to more than zero.</param>
public sealed record LinearObservation(double[] Row, double Value, IReadOnlyList<BudgetShare> Noise)
{
    /// <summary>Variance of the noise.</summary>
    public double Variance { get; } = Noise.Sum(part => part.Uncertainty * part.Uncertainty);
}

/// <summary>
/// Weighted linear least squares with Gaussian priors: x̂ = C·(Σ a·y/σ² + m/u²), C = (Σ a·aᵀ/σ² + diag(1/u²))⁻¹.
/// Holds for linear models and independent noise; common causes are unknowns of their own. Source: [tarantola] ch. 3; [gum] 5.2 for correlated inputs.
/// </summary>
public static class LinearGaussianModel
{
    /// <summary>Directions whose variance exceeds this multiple of the best-known one's count as not identified (chosen, not derived).</summary>
    private const double LeastRelativeInformation = 1e-9;

    /// <summary>Solves the model.</summary>
    /// <exception cref="ArgumentException">No unknowns, a row of another length, a value that is not finite, noise or prior not above zero.</exception>
    public static LinearGaussianSolution Solve(IReadOnlyList<Unknown> unknowns, IReadOnlyList<LinearObservation> observations)
    {
        int n = unknowns.Count;
        if (n == 0)
            throw new ArgumentException("Must have at least one unknown.", nameof(unknowns));
        double[,] information = new double[n, n];
        double[] right = new double[n];
        for (int j = 0; j < n; j++)
        {
            Require.Finite(unknowns[j].PriorMean, unknowns[j].Name);
            if (!(unknowns[j].PriorUncertainty > 0))
                throw new ArgumentException($"Prior uncertainty of {unknowns[j].Name} must be above zero.", nameof(unknowns));
            double weight = 1 / (unknowns[j].PriorUncertainty * unknowns[j].PriorUncertainty);
            information[j, j] += weight;
            right[j] += weight * unknowns[j].PriorMean;
        }

        foreach (LinearObservation observation in observations)
            Add(observation, information, right, n);
        return Invert(unknowns, observations, information, right);
    }

    private static void Add(LinearObservation observation, double[,] information, double[] right, int n)
    {
        if (observation.Row.Length != n)
            throw new ArgumentException($"Row must have {n} coefficients, has {observation.Row.Length}.", nameof(observation));
        Require.Finite(observation.Value, "observation.Value");
        Require.Positive(observation.Variance, "observation.Variance");
        for (int i = 0; i < n; i++)
        {
            if (observation.Row[i] == 0)
                continue;
            right[i] += observation.Row[i] * observation.Value / observation.Variance;
            for (int j = 0; j < n; j++)
                information[i, j] += observation.Row[i] * observation.Row[j] / observation.Variance;
        }
    }

    private static LinearGaussianSolution Invert(
        IReadOnlyList<Unknown> unknowns, IReadOnlyList<LinearObservation> observations, double[,] information, double[] right)
    {
        int n = unknowns.Count;
        double[] scale = new double[n];
        for (int i = 0; i < n; i++)
            scale[i] = information[i, i] > 0 ? 1 / Math.Sqrt(information[i, i]) : 1;
        double[,] scaled = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                scaled[i, j] = information[i, j] * scale[i] * scale[j];
        }

        (double[] values, double[,] vectors) = SymmetricMatrix.Eigen(scaled);
        double[,] covariance = new double[n, n];
        double least = LeastRelativeInformation * values[^1];
        List<double[]> loose = [];
        for (int k = 0; k < n; k++)
        {
            double[] direction = new double[n];
            for (int i = 0; i < n; i++)
                direction[i] = vectors[i, k] * scale[i];
            if (values[k] <= least)
            {
                loose.Add(direction);
                continue;
            }

            for (int i = 0; i < n; i++)
            {
                for (int j = 0; j < n; j++)
                    covariance[i, j] += direction[i] * direction[j] / values[k];
            }
        }

        return new(unknowns, observations, SymmetricMatrix.Times(covariance, right), covariance, loose);
    }
}
