using System.Numerics;
using System.Runtime.InteropServices;

namespace Whetwright.Sight.Marks;

/// <summary>
/// A smooth surface through the room light of the plain field: a polynomial of total degree 4 fitted to block means by iteratively
/// reweighted least squares. Blocks that are too bright (marks) or too dark (blade, pen, shadow) are pushed out.
/// </summary>
internal sealed class SmoothSurface
{
    internal const int Degree = 4;

    internal const int Terms = (Degree + 1) * (Degree + 2) / 2;

    /// <summary>Terms to a row, filled up with zeros to whole vectors of any machine.</summary>
    internal const int Padded = 16;

    private const int Iterations = 10;

    private readonly double[] _c;
    private readonly int _width;
    private readonly int _height;

    private SmoothSurface(double[] c, int width, int height) => (_c, _width, _height) = (c, width, height);

    /// <summary>Robust spread of the kept blocks about the surface.</summary>
    public double Spread { get; private init; }

    /// <summary>Fits one of several planes that are cut into the same blocks.</summary>
    public static SmoothSurface Fit(float[] plane, SurfaceGrid blocks)
    {
        double[] means = blocks.Means(plane);
        int count = means.Length;
        double[] basis = blocks.Basis;
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

        return new(c, blocks.Width, blocks.Height) { Spread = spread };
    }

    private static int Kept(ReadOnlySpan<double> values, IReadOnlyList<bool> suspect, Span<double> kept, bool absolute)
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

    public float[] Draw() => Draw(GC.AllocateUninitializedArray<float>(_width * _height));

    /// <summary>Draws into a plane that has room for it, and returns it.</summary>
    public float[] Draw(float[] plane)
    {
        double[] atRow = new double[Degree + 1];
        double[] us = [.. Enumerable.Range(0, _width).Select(i => SurfaceGrid.U(i, _width))];
        for (int row = 0; row < _height; row++)
        {
            double v = SurfaceGrid.U(row, _height);
            Array.Clear(atRow);
            int k = 0;
            for (int d = 0; d <= Degree; d++)
            {
                for (int b = 0; b <= d; b++)
                    atRow[d - b] += _c[k++] * SurfaceGrid.Power(v, b);
            }

            Span<float> line = plane.AsSpan(row * _width, _width);
            Across(us, atRow, line);
        }

        return plane;
    }

    /// <summary>One row of the surface by Horner's rule, two vectors of columns at a time.</summary>
    private static void Across(ReadOnlySpan<double> us, ReadOnlySpan<double> atRow, Span<float> line)
    {
        int lanes = Vector<double>.Count;
        int column = 0;
        for (; column + (2 * lanes) <= line.Length; column += 2 * lanes)
        {
            Vector<double> u = new(us[column..]);
            Vector<double> w = new(us[(column + lanes)..]);
            Vector<double> z = new(atRow[Degree]);
            Vector<double> y = z;
            for (int p = Degree - 1; p >= 0; p--)
            {
                z = (z * u) + new Vector<double>(atRow[p]);
                y = (y * w) + new Vector<double>(atRow[p]);
            }

            Vector.Narrow(z, y).CopyTo(line[column..]);
        }

        for (; column < line.Length; column++)
        {
            double z = atRow[Degree];
            for (int p = Degree - 1; p >= 0; p--)
                z = (z * us[column]) + atRow[p];
            line[column] = (float)z;
        }
    }

    internal static double Quantile(IEnumerable<double> values, double part) => OrderStatistic.Quantile([.. values], part);
}
