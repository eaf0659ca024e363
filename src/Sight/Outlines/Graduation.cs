namespace Whetwright.Sight.Outlines;

/// <summary>
/// The smoothest curve near values an even step apart: least Σ w (y − c)² + stiffness · Σ (third differences of c)² (E. T. Whittaker, Proceedings of the Edinburgh Mathematical
/// Society 41, 1923, 63–75). Where values have no weight it goes on as a parabola.
/// </summary>
internal static class Graduation
{
    private const int Order = 3;

    /// <summary>Keeps the sums regular where few values have weight.</summary>
    private const double LeastWeight = 1e-9;

    private static readonly double[] s_third = [-1, 3, -3, 1];

    /// <summary>The curve at the values' places.</summary>
    /// <param name="y">Values, an even step apart; four or more.</param>
    /// <param name="weight">Weight of each, 0 or more; at least three above 0.</param>
    /// <param name="stiffness">Weight of the third differences' squares.</param>
    public static double[] Of(double[] y, double[] weight, double stiffness)
    {
        double[,] a = Equations(weight, stiffness);
        double[] c = [.. y.Zip(weight, (v, w) => v * w)];
        Solve(a, c);
        return c;
    }

    // The normal equations' lower band: a[i, k] is row i, column i − k.
    private static double[,] Equations(double[] weight, double stiffness)
    {
        int n = weight.Length;
        double[,] a = new double[n, Order + 1];
        for (int i = 0; i < n; i++)
            a[i, 0] = weight[i] + LeastWeight;
        for (int i = 0; i + Order < n; i++)
        {
            for (int row = 0; row <= Order; row++)
            {
                for (int column = 0; column <= row; column++)
                    a[i + row, row - column] += stiffness * s_third[row] * s_third[column];
            }
        }

        return a;
    }

    // Cholesky's factors within the band, then forth and back.
    private static void Solve(double[,] a, double[] c)
    {
        int n = c.Length;
        for (int i = 0; i < n; i++)
        {
            for (int k = Math.Min(i, Order); k >= 0; k--)
            {
                double sum = a[i, k];
                for (int m = k + 1; m <= Math.Min(i, Order); m++)
                    sum -= a[i, m] * a[i - k, m - k];
                a[i, k] = k == 0 ? Math.Sqrt(sum) : sum / a[i - k, 0];
            }

            for (int k = 1; k <= Math.Min(i, Order); k++)
                c[i] -= a[i, k] * c[i - k];
            c[i] /= a[i, 0];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            for (int k = 1; k <= Math.Min(n - 1 - i, Order); k++)
                c[i] -= a[i + k, k] * c[i + k];
            c[i] /= a[i, 0];
        }
    }
}
