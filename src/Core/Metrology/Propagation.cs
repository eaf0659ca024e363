using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>
/// First-order propagation of uncertainty: u²(y) = Σᵢ Σⱼ cᵢ·cⱼ·u(xᵢ)·u(xⱼ)·r(xᵢ, xⱼ), cᵢ = ∂f/∂xᵢ at the estimates. Holds while the model is nearly
/// straight over the inputs' spread; where it is not, <see cref="MonteCarlo"/> tells. Source: [gum] 5.1.2, 5.2.2.
/// </summary>
public static class Propagation
{
    /// <summary>Propagates through a model of one result.</summary>
    /// <param name="model">Result from the inputs' values, in their order.</param>
    /// <param name="inputs">The inputs.</param>
    /// <param name="correlation">Correlation matrix of the inputs; null: independent.</param>
    /// <param name="partials">Partial derivatives where known; null: central differences over ± one standard uncertainty.</param>
    /// <exception cref="ArgumentException">Sizes that differ, or a model value that is not finite.</exception>
    public static PropagatedUncertainty FirstOrder(
        Func<double[], double> model, IReadOnlyList<InputQuantity> inputs, double[,]? correlation = null, double[]? partials = null)
    {
        double[] at = Values(inputs);
        double[] c = partials ?? Partials(model, inputs);
        if (c.Length != inputs.Count)
            throw new ArgumentException($"Must give {inputs.Count} partial derivatives, gives {c.Length}.", nameof(partials));
        double[] parts = [.. inputs.Select((q, i) => c[i] * q.Uncertainty)];
        double u = Math.Sqrt(Math.Max(0, Form(parts, parts, correlation, inputs.Count)));
        return new(Require.Finite(model(at), "model"), u, c, [.. inputs.Select((q, i) => new BudgetShare(q.Name, Math.Abs(parts[i])))],
            EffectiveDegreesOfFreedom(u, parts, [.. inputs.Select(q => q.DegreesOfFreedom)]));
    }

    /// <summary>Covariance of several results of the same inputs: C·V·Cᵀ. Source: [gum] H.2.3; JCGM 102.</summary>
    public static double[,] CovarianceOfResults(
        IReadOnlyList<Func<double[], double>> models, IReadOnlyList<InputQuantity> inputs, double[,]? correlation = null)
    {
        double[][] parts = [.. models.Select(m => Partials(m, inputs).Select((c, i) => c * inputs[i].Uncertainty).ToArray())];
        double[,] covariance = new double[models.Count, models.Count];
        for (int a = 0; a < models.Count; a++)
        {
            for (int b = 0; b < models.Count; b++)
                covariance[a, b] = Form(parts[a], parts[b], correlation, inputs.Count);
        }

        return covariance;
    }

    /// <summary>Partial derivatives by central differences over ± one standard uncertainty ([gum] 5.1.4), or a small step where it is zero.</summary>
    public static double[] Partials(Func<double[], double> model, IReadOnlyList<InputQuantity> inputs)
    {
        double[] at = Values(inputs);
        double[] partials = new double[at.Length];
        for (int i = 0; i < at.Length; i++)
        {
            double step = Math.Min(inputs[i].Uncertainty, 1e-3 * Math.Max(Math.Abs(at[i]), inputs[i].Uncertainty));
            if (!(step > 0))
                step = 1e-6 * Math.Max(1, Math.Abs(at[i]));
            double centre = at[i];
            at[i] = centre + step;
            double above = model(at);
            at[i] = centre - step;
            double below = model(at);
            at[i] = centre;
            partials[i] = Require.Finite((above - below) / (2 * step), inputs[i].Symbol);
        }

        return partials;
    }

    /// <summary>Effective degrees of freedom by Welch and Satterthwaite: ν = u⁴/Σ(uᵢ⁴/νᵢ). Independent parts. Source: [gum] G.4.1.</summary>
    public static double EffectiveDegreesOfFreedom(double combined, IReadOnlyList<double> parts, IReadOnlyList<double> degreesOfFreedom)
    {
        double sum = 0;
        for (int i = 0; i < parts.Count; i++)
        {
            if (!double.IsPositiveInfinity(degreesOfFreedom[i]))
                sum += Math.Pow(parts[i], 4) / Require.Positive(degreesOfFreedom[i], "degreesOfFreedom");
        }

        return sum > 0 ? Math.Pow(combined, 4) / sum : double.PositiveInfinity;
    }

    private static double[] Values(IReadOnlyList<InputQuantity> inputs)
    {
        foreach (InputQuantity input in inputs)
        {
            Require.Finite(input.Value, input.Symbol);
            Require.NotNegative(input.Uncertainty, "u(" + input.Symbol + ")");
        }

        return [.. inputs.Select(q => q.Value)];
    }

    private static double Form(double[] left, double[] right, double[,]? correlation, int n)
    {
        if (correlation is not null && (correlation.GetLength(0) != n || correlation.GetLength(1) != n))
            throw new ArgumentException($"Must be {n} by {n}.", nameof(correlation));
        double sum = 0;
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                sum += left[i] * right[j] * (correlation?[i, j] ?? (i == j ? 1 : 0));
        }

        return sum;
    }
}

/// <summary>A result with its standard uncertainty and where that comes from.</summary>
/// <param name="Value">The result.</param>
/// <param name="Uncertainty">Standard uncertainty.</param>
/// <param name="Partials">Change of the result per unit of each input.</param>
/// <param name="Budget">|cᵢ|·u(xᵢ) of each input, in their order; with correlated inputs the squares do not add up to the whole.</param>
/// <param name="EffectiveDegreesOfFreedom">By Welch and Satterthwaite; infinite where no input has few.</param>
public sealed record PropagatedUncertainty(
    double Value, double Uncertainty, IReadOnlyList<double> Partials, IReadOnlyList<BudgetShare> Budget, double EffectiveDegreesOfFreedom)
{
    /// <summary>
    /// Expanded uncertainty for a share such as 0.95: U = t·u, with t for the effective degrees of freedom cut to the next lower whole number.
    /// Source: [gum] G.4, H.1.6.
    /// </summary>
    public double Expanded(double share) => Uncertainty * StudentT.CoverageFactor(share,
        double.IsPositiveInfinity(EffectiveDegreesOfFreedom) ? EffectiveDegreesOfFreedom : Math.Max(1, Math.Floor(EffectiveDegreesOfFreedom)));
}
