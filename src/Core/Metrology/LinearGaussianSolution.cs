namespace Whetwright.Core.Metrology;

/// <summary>A block of observations that nobody has made yet, for asking what they would be worth.</summary>
/// <param name="Rows">Coefficients, one row per observation.</param>
/// <param name="Covariance">Covariance of their noise.</param>
public sealed record HypotheticalObservations(IReadOnlyList<double[]> Rows, double[,] Covariance);

/// <summary>Values and covariance of the unknowns, and what the data cannot tell.</summary>
public sealed class LinearGaussianSolution
{
    private readonly double[,] _covariance;
    private readonly IReadOnlyList<double[]> _loose;

    internal LinearGaussianSolution(
        IReadOnlyList<Unknown> unknowns, IReadOnlyList<LinearObservation> observations, double[] values, double[,] covariance, IReadOnlyList<double[]> loose)
    {
        (Unknowns, Observations, Values, _covariance, _loose) = (unknowns, observations, values, covariance, loose);
    }

    /// <summary>The unknowns, in the order of all vectors here.</summary>
    public IReadOnlyList<Unknown> Unknowns { get; }

    /// <summary>The observations it rests on.</summary>
    public IReadOnlyList<LinearObservation> Observations { get; }

    /// <summary>Best values. Along directions that are not identified: the ones nearest to zero.</summary>
    public IReadOnlyList<double> Values { get; }

    /// <summary>How many directions neither data nor priors tell.</summary>
    public int UnidentifiedDirections => _loose.Count;

    /// <summary>Position of an unknown.</summary>
    /// <exception cref="ArgumentException">No unknown of that name.</exception>
    public int IndexOf(string name)
    {
        for (int i = 0; i < Unknowns.Count; i++)
        {
            if (string.Equals(Unknowns[i].Name, name, StringComparison.Ordinal))
                return i;
        }

        throw new ArgumentException($"There is no unknown '{name}'.", nameof(name));
    }

    /// <summary>Covariance of two unknowns (of what is identified).</summary>
    public double Covariance(int i, int j) => _covariance[i, j];

    /// <summary>Value of a combination Σ weight·x.</summary>
    public double ValueOf(ReadOnlySpan<double> weights)
    {
        double sum = 0;
        for (int i = 0; i < weights.Length; i++)
            sum += weights[i] * Values[i];
        return sum;
    }

    /// <summary>True where data or priors tell the combination.</summary>
    public bool IsIdentified(ReadOnlySpan<double> weights)
    {
        double size = 0;
        foreach (double weight in weights)
            size += weight * weight;
        foreach (double[] direction in _loose)
        {
            double along = 0, length = 0;
            for (int i = 0; i < weights.Length; i++)
            {
                along += weights[i] * direction[i];
                length += direction[i] * direction[i];
            }

            if (along * along > 1e-10 * size * length)
                return false;
        }

        return true;
    }

    /// <summary>Standard uncertainty of a combination; infinite where it is not identified.</summary>
    public double UncertaintyOf(ReadOnlySpan<double> weights) =>
        IsIdentified(weights) ? Math.Sqrt(Math.Max(0, SymmetricMatrix.Form(_covariance, weights, weights))) : double.PositiveInfinity;

    /// <summary>The unknowns that the data hardly tell: standard uncertainty still above nine tenths of a finite prior's, or not identified at all.</summary>
    public IReadOnlyList<string> PriorDominated()
    {
        List<string> names = [];
        for (int i = 0; i < Unknowns.Count; i++)
        {
            double[] unit = new double[Unknowns.Count];
            unit[i] = 1;
            if (UncertaintyOf(unit) > 0.9 * Unknowns[i].PriorUncertainty || double.IsPositiveInfinity(UncertaintyOf(unit)))
                names.Add(Unknowns[i].Name);
        }

        return names;
    }

    /// <summary>How much each observation's value moves the combination: wᵀ·C·a/σ².</summary>
    public double[] GainOfObservations(ReadOnlySpan<double> weights)
    {
        double[] lever = SymmetricMatrix.Times(_covariance, weights);
        return [.. Observations.Select(o => Dot(lever, o.Row) / o.Variance)];
    }

    /// <summary>How much each prior mean moves the combination: wᵀ·C·e/u².</summary>
    public double[] GainOfPriors(ReadOnlySpan<double> weights)
    {
        double[] lever = SymmetricMatrix.Times(_covariance, weights);
        return [.. Unknowns.Select((u, i) => lever[i] / (u.PriorUncertainty * u.PriorUncertainty))];
    }

    /// <summary>
    /// What the uncertainty of a combination comes from, by source, largest first. The squares add up to its variance exactly, since
    /// wᵀCw = Σ (gain·σ)² over observations and priors.
    /// </summary>
    public IReadOnlyList<BudgetShare> BudgetOf(ReadOnlySpan<double> weights)
    {
        Dictionary<string, double> variances = new(StringComparer.Ordinal);
        void Add(string source, double variance) => variances[source] = variances.GetValueOrDefault(source) + variance;
        double[] gains = GainOfObservations(weights);
        for (int i = 0; i < gains.Length; i++)
        {
            foreach (BudgetShare part in Observations[i].Noise)
                Add(part.Source, gains[i] * gains[i] * part.Uncertainty * part.Uncertainty);
        }

        double[] priors = GainOfPriors(weights);
        for (int j = 0; j < priors.Length; j++)
        {
            if (priors[j] != 0)
                Add(Unknowns[j].Source, priors[j] * priors[j] * Unknowns[j].PriorUncertainty * Unknowns[j].PriorUncertainty);
        }

        double rounding = 1e-14 * variances.Values.Sum();
        return [.. variances.Where(v => v.Value > rounding).OrderByDescending(v => v.Value).ThenBy(v => v.Key, StringComparer.Ordinal)
            .Select(v => new BudgetShare(v.Key, Math.Sqrt(v.Value)))];
    }

    /// <summary>
    /// Standard uncertainty of a combination if further observations were made, without redoing the data:
    /// C′ = C − C·Aᵀ(A·C·Aᵀ + R)⁻¹A·C. Holds for what is identified already. Source: [tarantola] ch. 3 (Kalman's form).
    /// </summary>
    public double UncertaintyAfter(ReadOnlySpan<double> weights, HypotheticalObservations further)
    {
        int m = further.Rows.Count;
        double[] lever = SymmetricMatrix.Times(_covariance, weights);
        double[,] innovation = (double[,])further.Covariance.Clone();
        double[] along = new double[m];
        for (int a = 0; a < m; a++)
        {
            along[a] = Dot(lever, further.Rows[a]);
            for (int b = 0; b < m; b++)
                innovation[a, b] += SymmetricMatrix.Form(_covariance, further.Rows[a], further.Rows[b]);
        }

        double[] pulled = SymmetricMatrix.Solve(innovation, along);
        double variance = SymmetricMatrix.Form(_covariance, weights, weights) - Dot(along, pulled);
        return Math.Sqrt(Math.Max(0, variance));
    }

    /// <summary>Residual of an observation, and the part 1 − h of its variance that the other data leave (0: nothing else tells it).</summary>
    public (double Residual, double Redundancy) ResidualOf(int observation)
    {
        LinearObservation o = Observations[observation];
        double leverage = SymmetricMatrix.Form(_covariance, o.Row, o.Row) / o.Variance;
        return (o.Value - ValueOf(o.Row), Math.Max(0, 1 - leverage));
    }

    private static double Dot(ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        double sum = 0;
        for (int i = 0; i < left.Length; i++)
            sum += left[i] * right[i];
        return sum;
    }
}
