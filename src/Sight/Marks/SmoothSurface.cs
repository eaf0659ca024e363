using System.Numerics;
using System.Runtime.InteropServices;

namespace Whetwright.Sight.Marks;

/// <summary>
/// A smooth surface through the room light of the plain field: a polynomial of total degree 4 fitted to block means by iteratively
/// reweighted least squares. Blocks that are too bright (marks) or too dark (blade, pen, shadow) are pushed out.
/// </summary>
internal sealed class SmoothSurface
{
    private const int Degree = 4;

    private const int Terms = (Degree + 1) * (Degree + 2) / 2;

    /// <summary>Terms to a row, filled up with zeros to whole vectors of any machine.</summary>
    private const int Padded = 16;

    private const int Iterations = 10;

    private readonly double[] _c;
    private readonly int _width;
    private readonly int _height;

    private SmoothSurface(double[] c, int width, int height) => (_c, _width, _height) = (c, width, height);

    /// <summary>Robust spread of the kept blocks about the surface.</summary>
    public double Spread { get; private init; }

    public static SmoothSurface Fit(float[] plane, bool[] masked, int width, int height, bool[]? suspect = null)
    {
        Blocks blocks = Blocks.Of(plane, masked, width, height, suspect);
        int count = blocks.Means.Count;
        double[] means = [.. blocks.Means];
        double[] basis = Basis(blocks);
        double[] weights = [.. blocks.Suspect.Select(s => s ? 0.0 : 1.0)];
        double[] c = new double[Terms];
        double[] kept = new double[count];
        c[0] = OrderStatistic.Quantile(kept.AsSpan(0, Kept(means, blocks.Suspect, kept, absolute: false)), 0.5);
        double spread = 1;
        double[] residuals = new double[count];
        for (int iteration = 0; iteration < Iterations; iteration++)
        {
            double[]? solved = Solve(basis, means, weights);
            if (solved is null)
                break;
            c = solved;
            Residuals(basis, means, c, residuals);
            spread = Math.Max(1.4826 * OrderStatistic.Quantile(kept.AsSpan(0, Kept(residuals, blocks.Suspect, kept, absolute: true)), 0.5), 1e-6);
            for (int i = 0; i < count; i++)
            {
                double t = residuals[i] / spread;
                double q = t > 0 ? t / 2 : t / 3;
                weights[i] = blocks.Suspect[i] ? 0 : 1 / (1 + (q * q * q * q));
            }
        }

        return new(c, width, height) { Spread = spread };
    }

    private static int Kept(ReadOnlySpan<double> values, List<bool> suspect, Span<double> kept, bool absolute)
    {
        int count = 0;
        for (int i = 0; i < values.Length; i++)
        {
            if (!suspect[i])
                kept[count++] = absolute ? Math.Abs(values[i]) : values[i];
        }

        return count;
    }

    /// <summary>Weighted normal equations with a faint pull of all but the mean to zero, gathered a vector at a time.</summary>
    private static double[]? Solve(ReadOnlySpan<double> basis, ReadOnlySpan<double> means, ReadOnlySpan<double> weights)
    {
        Span<double> a = stackalloc double[Padded * Padded];
        double[] b = new double[Terms];
        a.Clear();
        for (int i = 0; i < means.Length; i++)
        {
            double weight = weights[i];
            if (weight == 0)
                continue;
            ReadOnlySpan<double> row = basis.Slice(i * Padded, Padded);
            ReadOnlySpan<Vector<double>> parts = MemoryMarshal.Cast<double, Vector<double>>(row);
            for (int k = 0; k < Terms; k++)
            {
                double v = weight * row[k];
                b[k] += v * means[i];
                Span<Vector<double>> sums = MemoryMarshal.Cast<double, Vector<double>>(a.Slice(k * Padded, Padded));
                for (int m = 0; m * Vector<double>.Count <= k; m++)
                    sums[m] += v * parts[m];
            }
        }

        double[,] normal = new double[Terms, Terms];
        for (int k = 0; k < Terms; k++)
        {
            for (int m = 0; m <= k; m++)
                normal[k, m] = a[(k * Padded) + m];
            normal[k, k] += k == 0 ? 0 : 1e-4;
        }

        return LeastSquares.Solve(normal, b, 1e-12);
    }

    private static void Residuals(ReadOnlySpan<double> basis, ReadOnlySpan<double> means, ReadOnlySpan<double> c, Span<double> residuals)
    {
        for (int i = 0; i < means.Length; i++)
        {
            ReadOnlySpan<double> row = basis.Slice(i * Padded, Terms);
            double model = 0;
            for (int k = 0; k < Terms; k++)
                model += c[k] * row[k];
            residuals[i] = means[i] - model;
        }
    }

    public float[] Draw()
    {
        float[] plane = new float[_width * _height];
        double[] atRow = new double[Degree + 1];
        double[] us = [.. Enumerable.Range(0, _width).Select(i => U(i, _width))];
        for (int row = 0; row < _height; row++)
        {
            double v = U(row, _height);
            Array.Clear(atRow);
            int k = 0;
            for (int d = 0; d <= Degree; d++)
            {
                for (int b = 0; b <= d; b++)
                    atRow[d - b] += _c[k++] * Power(v, b);
            }

            Span<float> line = plane.AsSpan(row * _width, _width);
            for (int column = 0; column < line.Length; column++)
            {
                double u = us[column];
                double z = atRow[Degree];
                for (int p = Degree - 1; p >= 0; p--)
                    z = (z * u) + atRow[p];
                line[column] = (float)z;
            }
        }

        return plane;
    }

    internal static double Quantile(IEnumerable<double> values, double part) => OrderStatistic.Quantile([.. values], part);

    private static double U(double i, int n) => (2 * i / n) - 1;

    /// <summary>Every block's powers of u and v, <see cref="Padded"/> to a row.</summary>
    private static double[] Basis(Blocks blocks)
    {
        double[] basis = new double[blocks.Means.Count * Padded];
        for (int i = 0; i < blocks.Means.Count; i++)
        {
            int k = i * Padded;
            for (int d = 0; d <= Degree; d++)
            {
                for (int b = 0; b <= d; b++)
                    basis[k++] = Power(blocks.U[i], d - b) * Power(blocks.V[i], b);
            }
        }

        return basis;
    }

    private static double Power(double x, int n)
    {
        double y = 1;
        for (int i = 0; i < n; i++)
            y *= x;
        return y;
    }

    /// <summary>Means over square blocks of cells that are wholly unmasked, with their places.</summary>
    private sealed record Blocks(List<double> U, List<double> V, List<double> Means, List<bool> Suspect)
    {
        private const int Side = 12;

        public static Blocks Of(float[] plane, bool[] masked, int width, int height, bool[]? suspect)
        {
            Blocks blocks = new([], [], [], []);
            for (int row = 0; row + Side <= height; row += Side)
            {
                for (int column = 0; column + Side <= width; column += Side)
                {
                    if (Any(masked, row, column, width))
                        continue;
                    double sum = 0;
                    for (int r = row; r < row + Side; r++)
                    {
                        foreach (float z in plane.AsSpan((r * width) + column, Side))
                            sum += z;
                    }

                    blocks.U.Add(SmoothSurface.U(column + (Side / 2), width));
                    blocks.V.Add(SmoothSurface.U(row + (Side / 2), height));
                    blocks.Means.Add(sum / (Side * Side));
                    blocks.Suspect.Add(suspect is not null && Any(suspect, row, column, width));
                }
            }

            return blocks;
        }

        private static bool Any(bool[] marked, int row, int column, int width)
        {
            for (int r = row; r < row + Side; r++)
            {
                if (marked.AsSpan((r * width) + column, Side).Contains(true))
                    return true;
            }

            return false;
        }
    }
}
