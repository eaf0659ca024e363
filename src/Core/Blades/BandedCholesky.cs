namespace Whetwright.Core.Blades;

/// <summary>
/// L·D·Lᵀ of a symmetric positive definite band matrix, stored as row i, offset c: element (i, i + c). The band of the inverse follows by
/// the backward recurrence of Hutchinson and de Hoog without the rest of it. Source: [hutchinson-dehoog].
/// </summary>
public sealed class BandedCholesky
{
    private readonly double[] pivots;
    private readonly double[,] lower;
    private readonly int band;

    private BandedCholesky(double[] pivots, double[,] lower, int band)
    {
        this.pivots = pivots;
        this.lower = lower;
        this.band = band;
    }

    /// <summary>Factors a matrix of n rows and as many columns as its band is wide, the diagonal first; a pivot that is not positive is taken for a tiny one.</summary>
    /// <param name="matrix">Element (i, i + c) at row i, offset c.</param>
    public static BandedCholesky Of(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        int width = matrix.GetLength(1) - 1;
        double[] diagonal = new double[n];
        double[,] below = new double[n, width + 1]; // the element of L at (i + c, i)
        double[,] work = (double[,])matrix.Clone();
        for (int i = 0; i < n; i++)
        {
            diagonal[i] = Math.Max(work[i, 0], 1e-300);
            for (int c = 1; c <= width && i + c < n; c++)
                below[i, c] = work[i, c] / diagonal[i];
            for (int a = 1; a <= width && i + a < n; a++)
            {
                for (int c = 0; a + c <= width && i + a + c < n; c++)
                    work[i + a, c] -= below[i, a] * work[i, a + c];
            }
        }

        return new(diagonal, below, width);
    }

    /// <summary>x of matrix · x = right, n numbers.</summary>
    /// <param name="right">n numbers, left as they are.</param>
    public double[] Solve(double[] right)
    {
        int n = pivots.Length;
        double[] x = (double[])right.Clone();
        for (int i = 0; i < n; i++)
        {
            for (int c = 1; c <= band && i + c < n; c++)
                x[i + c] -= lower[i, c] * x[i];
        }

        for (int i = n - 1; i >= 0; i--)
        {
            x[i] /= pivots[i];
            for (int c = 1; c <= band && i + c < n; c++)
                x[i] -= lower[i, c] * x[i + c];
        }

        return x;
    }

    /// <summary>The inverse within the band, stored as the matrix was.</summary>
    public double[,] InverseBand()
    {
        int n = pivots.Length;
        double[,] inverse = new double[n, band + 1];
        for (int i = n - 1; i >= 0; i--)
        {
            for (int c = Math.Min(band, n - 1 - i); c >= 0; c--)
            {
                double sum = c == 0 ? 1 / pivots[i] : 0;
                for (int a = 1; a <= band && i + a < n; a++)
                {
                    int row = Math.Min(i + a, i + c);
                    int off = Math.Abs(a - c);
                    sum -= lower[i, a] * inverse[row, off];
                }

                inverse[i, c] = sum;
            }
        }

        return inverse;
    }
}
