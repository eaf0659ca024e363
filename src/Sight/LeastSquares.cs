namespace Whetwright.Sight;

/// <summary>
/// Small dense least squares, for fits of a dozen parameters. Not Core's SymmetricMatrix: that lets covariances of full correlation pass and throws where there is no solution; a search
/// asks thousands of times and goes on where there is none.
/// </summary>
internal static class LeastSquares
{
    /// <summary>The damped Gauss–Newton step x of min |J x − r|² + λ Σ (JᵀJ)ᵢᵢ xᵢ², or null where it has none.</summary>
    public static double[]? Step(double[,] j, double[] r, double lambda)
    {
        int rows = j.GetLength(0);
        int n = j.GetLength(1);
        double[,] a = new double[n, n];
        double[] b = new double[n];
        for (int i = 0; i < rows; i++)
        {
            for (int k = 0; k < n; k++)
            {
                double v = j[i, k];
                if (v == 0)
                    continue;
                b[k] += v * r[i];
                for (int m = 0; m <= k; m++)
                    a[k, m] += v * j[i, m];
            }
        }

        return Solve(a, b, lambda);
    }

    /// <summary>Solves (A + λ diag A) x = b, A symmetric positive definite, its lower triangle given; null where it has no solution.</summary>
    public static double[]? Solve(double[,] a, double[] b, double lambda)
    {
        int n = b.Length;
        for (int k = 0; k < n; k++)
        {
            a[k, k] += (lambda * a[k, k]) + 1e-300;
            for (int m = 0; m < k; m++)
                a[m, k] = a[k, m];
        }

        if (Factor(a) is not { } l)
            return null;
        double[] x = [.. b];
        Substitute(l, x);
        return x.All(double.IsFinite) ? x : null;
    }

    /// <summary>Inverse of a symmetric positive definite matrix by Cholesky, or null.</summary>
    public static double[,]? Invert(double[,] a)
    {
        if (Factor(a) is not { } l)
            return null;
        int n = a.GetLength(0);
        double[,] inverse = new double[n, n];
        for (int c = 0; c < n; c++)
        {
            double[] column = new double[n];
            column[c] = 1;
            Substitute(l, column);
            for (int i = 0; i < n; i++)
                inverse[i, c] = column[i];
        }

        return inverse;
    }

    // Cholesky's factor L of A = L·Lᵀ, row by row; null where A is not positive definite.
    private static double[][]? Factor(double[,] a)
    {
        int n = a.GetLength(0);
        double[][] l = new double[n][];
        for (int i = 0; i < n; i++)
        {
            double[] row = l[i] = new double[i + 1];
            for (int k = 0; k <= i; k++)
            {
                double[] above = l[k];
                double sum = a[i, k];
                for (int m = 0; m < k; m++)
                    sum -= row[m] * above[m];
                if (i != k)
                {
                    row[k] = sum / above[k];
                }
                else
                {
                    if (!(sum > 0))
                        return null;
                    row[i] = Math.Sqrt(sum);
                }
            }
        }

        return l;
    }

    // L·Lᵀ x = b in place, forward and back.
    private static void Substitute(double[][] l, double[] x)
    {
        for (int i = 0; i < x.Length; i++)
        {
            double sum = x[i];
            for (int m = 0; m < i; m++)
                sum -= l[i][m] * x[m];
            x[i] = sum / l[i][i];
        }

        for (int i = x.Length - 1; i >= 0; i--)
        {
            x[i] /= l[i][i];
            for (int m = 0; m < i; m++)
                x[m] -= l[i][m] * x[i];
        }
    }
}
