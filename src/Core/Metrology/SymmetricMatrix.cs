namespace Whetwright.Core.Metrology;

/// <summary>Dense linear algebra for the small symmetric matrices of uncertainty work (covariances, normal equations). Only what is used.</summary>
public static class SymmetricMatrix
{
    /// <summary>
    /// Lower factor L of A = L·Lᵀ. A pivot within rounding of zero gives a column of zeros, so covariances of full correlation pass.
    /// Source: [golub] ch. 4.
    /// </summary>
    /// <exception cref="ArgumentException">Not square, or not positive semi-definite.</exception>
    public static double[,] Cholesky(double[,] matrix)
    {
        int n = Order(matrix);
        double[,] lower = new double[n, n];
        for (int j = 0; j < n; j++)
        {
            double pivot = matrix[j, j];
            for (int k = 0; k < j; k++)
                pivot -= lower[j, k] * lower[j, k];
            double noise = 1e-12 * Math.Abs(matrix[j, j]);
            if (pivot < -noise || double.IsNaN(pivot))
                throw new ArgumentException($"Must be positive semi-definite; pivot {j} is {pivot}.", nameof(matrix));
            double root = pivot > noise ? Math.Sqrt(pivot) : 0;
            lower[j, j] = root;
            for (int i = j + 1; i < n && root > 0; i++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++)
                    sum -= lower[i, k] * lower[j, k];
                lower[i, j] = sum / root;
            }
        }

        return lower;
    }

    /// <summary>The inverse of a positive definite matrix.</summary>
    /// <exception cref="ArgumentException">Singular or not positive definite.</exception>
    public static double[,] Inverse(double[,] matrix)
    {
        int n = Order(matrix);
        double[,] lower = Cholesky(matrix);
        double[,] inverse = new double[n, n];
        double[] column = new double[n];
        for (int c = 0; c < n; c++)
        {
            Array.Clear(column);
            column[c] = 1;
            SolveFactored(lower, column);
            for (int r = 0; r < n; r++)
                inverse[r, c] = column[r];
        }

        return inverse;
    }

    /// <summary>x of A·x = b for a positive definite A.</summary>
    /// <exception cref="ArgumentException">Singular or not positive definite.</exception>
    public static double[] Solve(double[,] matrix, double[] right)
    {
        double[] x = [.. right];
        SolveFactored(Cholesky(matrix), x);
        return x;
    }

    /// <summary>
    /// Eigenvalues, smallest first, with their unit vectors as columns: cyclic Jacobi rotations, accurate also for small eigenvalues
    /// of well-scaled matrices. Source: [golub] ch. 8.
    /// </summary>
    /// <exception cref="ArgumentException">Not square.</exception>
    public static (double[] Values, double[,] Vectors) Eigen(double[,] matrix)
    {
        int n = Order(matrix);
        double[,] a = (double[,])matrix.Clone();
        double[,] v = new double[n, n];
        for (int i = 0; i < n; i++)
            v[i, i] = 1;
        for (int sweep = 0; sweep < 60 && !IsDiagonal(a); sweep++)
        {
            for (int p = 0; p < n - 1; p++)
            {
                for (int q = p + 1; q < n; q++)
                    Rotate(a, v, p, q);
            }
        }

        int[] order = [.. Enumerable.Range(0, n).OrderBy(i => a[i, i])];
        double[,] sorted = new double[n, n];
        for (int c = 0; c < n; c++)
        {
            for (int r = 0; r < n; r++)
                sorted[r, c] = v[r, order[c]];
        }

        return ([.. order.Select(i => a[i, i])], sorted);
    }

    /// <summary>xᵀ·A·y.</summary>
    public static double Form(double[,] matrix, ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        double sum = 0;
        for (int i = 0; i < left.Length; i++)
        {
            if (left[i] == 0)
                continue;
            for (int j = 0; j < right.Length; j++)
                sum += left[i] * matrix[i, j] * right[j];
        }

        return sum;
    }

    internal static double[] Times(double[,] matrix, ReadOnlySpan<double> vector)
    {
        double[] product = new double[matrix.GetLength(0)];
        for (int i = 0; i < product.Length; i++)
        {
            for (int j = 0; j < vector.Length; j++)
                product[i] += matrix[i, j] * vector[j];
        }

        return product;
    }

    private static void SolveFactored(double[,] lower, double[] x)
    {
        int n = x.Length;
        for (int i = 0; i < n; i++)
        {
            if (!(lower[i, i] > 0))
                throw new ArgumentException("Must be positive definite; it is singular.", nameof(lower));
            for (int k = 0; k < i; k++)
                x[i] -= lower[i, k] * x[k];
            x[i] /= lower[i, i];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            for (int k = i + 1; k < n; k++)
                x[i] -= lower[k, i] * x[k];
            x[i] /= lower[i, i];
        }
    }

    private static bool IsDiagonal(double[,] a)
    {
        int n = a.GetLength(0);
        double off = 0, all = 0;
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                all += a[i, j] * a[i, j];
                off += i == j ? 0 : a[i, j] * a[i, j];
            }
        }

        return off <= 1e-30 * all;
    }

    private static void Rotate(double[,] a, double[,] v, int p, int q)
    {
        if (a[p, q] == 0)
            return;
        double half = (a[q, q] - a[p, p]) / (2 * a[p, q]);
        double t = (half >= 0 ? 1 : -1) / (Math.Abs(half) + Math.Sqrt((half * half) + 1));
        double c = 1 / Math.Sqrt((t * t) + 1);
        double s = t * c;
        int n = a.GetLength(0);
        for (int k = 0; k < n; k++)
            (a[k, p], a[k, q]) = ((c * a[k, p]) - (s * a[k, q]), (s * a[k, p]) + (c * a[k, q]));
        for (int k = 0; k < n; k++)
            (a[p, k], a[q, k]) = ((c * a[p, k]) - (s * a[q, k]), (s * a[p, k]) + (c * a[q, k]));
        for (int k = 0; k < n; k++)
            (v[k, p], v[k, q]) = ((c * v[k, p]) - (s * v[k, q]), (s * v[k, p]) + (c * v[k, q]));
    }

    private static int Order(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        return n == matrix.GetLength(1) ? n : throw new ArgumentException($"Must be square; it is {n} by {matrix.GetLength(1)}.", nameof(matrix));
    }
}
