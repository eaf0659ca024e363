namespace Whetwright.Sight;

/// <summary>Small dense least squares, for fits of a dozen parameters.</summary>
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

        double[,]? inverse = Invert(a);
        if (inverse is null)
            return null;
        double[] x = new double[n];
        for (int k = 0; k < n; k++)
        {
            for (int m = 0; m < n; m++)
                x[k] += inverse[k, m] * b[m];
        }

        return x.All(double.IsFinite) ? x : null;
    }

    /// <summary>Inverse of a symmetric positive definite matrix by Cholesky, or null.</summary>
    public static double[,]? Invert(double[,] a)
    {
        int n = a.GetLength(0);
        double[,] l = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k <= i; k++)
            {
                double sum = a[i, k];
                for (int m = 0; m < k; m++)
                    sum -= l[i, m] * l[k, m];
                if (i != k)
                {
                    l[i, k] = sum / l[k, k];
                }
                else
                {
                    if (!(sum > 0))
                        return null;
                    l[i, i] = Math.Sqrt(sum);
                }
            }
        }

        double[,] inverse = new double[n, n];
        double[] y = new double[n];
        for (int c = 0; c < n; c++)
        {
            for (int i = 0; i < n; i++)
            {
                double sum = i == c ? 1 : 0;
                for (int m = 0; m < i; m++)
                    sum -= l[i, m] * y[m];
                y[i] = sum / l[i, i];
            }

            for (int i = n - 1; i >= 0; i--)
            {
                double sum = y[i];
                for (int m = i + 1; m < n; m++)
                    sum -= l[m, i] * inverse[m, c];
                inverse[i, c] = sum / l[i, i];
            }
        }

        return inverse;
    }
}
