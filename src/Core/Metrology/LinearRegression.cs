using Whetwright.Core.Quantities;

namespace Whetwright.Core.Metrology;

/// <summary>A predicted value.</summary>
/// <param name="Value">On the line.</param>
/// <param name="LineU">Standard uncertainty of the line there.</param>
/// <param name="NextU">Standard uncertainty of one more observation there.</param>
/// <param name="FromNext">Lower end of the prediction interval.</param>
/// <param name="ToNext">Upper end.</param>
public readonly record struct Prediction(double Value, double LineU, double NextU, double FromNext, double ToNext);

/// <summary>
/// Ordinary least squares y = Σ b_j·x_j + e by Householder's orthogonal triangles, which keep the digits that the normal equations lose. Source: [golub] ch. 5.
/// Checked against NIST's reference data sets.
/// </summary>
public sealed class LinearRegression
{
    private readonly double[,] _unscaled;

    private LinearRegression(double[] coefficients, double[,] unscaled, double residualSquares, double modelSquares, int freedom, int modelFreedom)
    {
        (Coefficients, _unscaled, ResidualSquares, ModelSquares, Freedom, ModelFreedom) = (coefficients, unscaled, residualSquares, modelSquares, freedom, modelFreedom);
    }

    /// <summary>b_j in the order of the columns.</summary>
    public IReadOnlyList<double> Coefficients { get; }

    /// <summary>Σ e².</summary>
    public double ResidualSquares { get; }

    /// <summary>What the model explains: about the mean where it has a constant, about zero where it has none.</summary>
    public double ModelSquares { get; }

    /// <summary>Observations less coefficients.</summary>
    public int Freedom { get; }

    /// <summary>Coefficients less the constant.</summary>
    public int ModelFreedom { get; }

    /// <summary>√(Σ e²/ν).</summary>
    public double ResidualDeviation => Math.Sqrt(ResidualSquares / Freedom);

    /// <summary>Share of the squares that the model explains.</summary>
    public double RSquared => ModelSquares / (ModelSquares + ResidualSquares);

    /// <summary>Mean square of the model over that of the rest.</summary>
    public double F => ModelSquares / ModelFreedom / (ResidualSquares / Freedom);

    /// <summary>Standard uncertainty of a coefficient.</summary>
    public double UncertaintyOf(int j) => ResidualDeviation * Math.Sqrt(_unscaled[j, j]);

    /// <summary>Fits; give a column of ones for a constant.</summary>
    /// <param name="columns">x_j, each as long as y.</param>
    /// <param name="y">Observations, more than there are columns.</param>
    /// <exception cref="ArgumentException">Columns of another length, too few observations, or columns that depend on each other.</exception>
    public static LinearRegression Fit(IReadOnlyList<IReadOnlyList<double>> columns, IReadOnlyList<double> y)
    {
        int n = y.Count, k = columns.Count;
        if (k == 0 || columns.Any(c => c.Count != n))
            throw new ArgumentException($"Every column must have {n} values, as many as there are observations.", nameof(columns));
        if (n <= k)
            throw new ArgumentException($"Must be more than {k} observations for {k} coefficients; there are {n}.", nameof(y));
        double[,] a = new double[n, k + 1];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < k; j++)
                a[i, j] = Require.Finite(columns[j][i], "columns");
            a[i, k] = Require.Finite(y[i]);
        }

        for (int j = 0; j < k; j++)
            Reflect(a, j, n, k);
        double[] b = new double[k];
        for (int j = k - 1; j >= 0; j--)
        {
            b[j] = a[j, k];
            for (int l = j + 1; l < k; l++)
                b[j] -= a[j, l] * b[l];
            b[j] /= a[j, j];
        }

        double residual = 0;
        for (int i = k; i < n; i++)
            residual += a[i, k] * a[i, k];
        bool constant = columns.Any(c => c.All(x => x == c[0] && x != 0));
        double mean = constant ? y.Average() : 0, total = y.Sum(v => (v - mean) * (v - mean));
        return new(b, InverseOfNormal(a, k), residual, Math.Max(0, total - residual), n - k, constant ? k - 1 : k);
    }

    /// <summary>The value at a row of x, with the interval that holds one more observation there with this share, by Student's t.</summary>
    public Prediction At(ReadOnlySpan<double> row, double share = 0.95)
    {
        double value = 0;
        for (int j = 0; j < Coefficients.Count; j++)
            value += Coefficients[j] * row[j];
        double s = ResidualDeviation, h = SymmetricMatrix.Form(_unscaled, row, row);
        double next = s * Math.Sqrt(1 + h), half = StudentT.CoverageFactor(share, Freedom) * next;
        return new(value, s * Math.Sqrt(h), next, value - half, value + half);
    }

    /// <summary>Turns column j into a multiple of a unit vector by a reflection of the rows j and below.</summary>
    private static void Reflect(double[,] a, int j, int n, int k)
    {
        double norm = 0, whole = 0;
        for (int i = 0; i < n; i++)
        {
            whole += a[i, j] * a[i, j];
            norm += i >= j ? a[i, j] * a[i, j] : 0;
        }

        norm = Math.Sqrt(norm);
        if (!(norm > 1e-13 * Math.Sqrt(whole)))
            throw new ArgumentException($"Column {j + 1} depends on those before it.", nameof(a));
        double alpha = a[j, j] > 0 ? -norm : norm;
        double[] v = new double[n];
        double vv = 0;
        for (int i = j; i < n; i++)
        {
            v[i] = a[i, j] - (i == j ? alpha : 0);
            vv += v[i] * v[i];
        }

        for (int l = j; l <= k; l++)
        {
            double dot = 0;
            for (int i = j; i < n; i++)
                dot += v[i] * a[i, l];
            for (int i = j; i < n; i++)
                a[i, l] -= 2 * dot / vv * v[i];
        }
    }

    /// <summary>(XᵀX)⁻¹ = R⁻¹·R⁻ᵀ.</summary>
    private static double[,] InverseOfNormal(double[,] r, int k)
    {
        double[,] inverse = new double[k, k];
        for (int c = 0; c < k; c++)
        {
            for (int i = c; i >= 0; i--)
            {
                double sum = i == c ? 1 : 0;
                for (int l = i + 1; l <= c; l++)
                    sum -= r[i, l] * inverse[l, c];
                inverse[i, c] = sum / r[i, i];
            }
        }

        double[,] product = new double[k, k];
        for (int i = 0; i < k; i++)
        {
            for (int j = 0; j < k; j++)
            {
                for (int l = Math.Max(i, j); l < k; l++)
                    product[i, j] += inverse[i, l] * inverse[j, l];
            }
        }

        return product;
    }
}
