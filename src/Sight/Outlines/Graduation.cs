using Whetwright.Core.Blades;

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
        int n = y.Length;
        double[,] equations = new double[n, Order + 1]; // row i, offset c: element (i, i + c)
        for (int i = 0; i < n; i++)
            equations[i, 0] = weight[i] + LeastWeight;
        for (int i = 0; i + Order < n; i++)
        {
            for (int row = 0; row <= Order; row++)
            {
                for (int c = 0; row + c <= Order; c++)
                    equations[i + row, c] += stiffness * s_third[row] * s_third[row + c];
            }
        }

        return BandedCholesky.Of(equations).Solve([.. y.Zip(weight, (v, w) => v * w)]);
    }
}
