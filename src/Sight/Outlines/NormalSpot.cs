using System.Numerics;
using System.Runtime.InteropServices;

namespace Whetwright.Sight.Outlines;

/// <summary>Convolution of a field with a normal spot.</summary>
internal static class NormalSpot
{
    /// <summary>Standard deviations that the spot reaches.</summary>
    private const double Reach = 3;

    /// <summary>Spots smaller than this change nothing, cells. Chosen.</summary>
    private const double LeastSigma = 0.2;

    /// <summary>The field convolved with a normal spot, its rim repeated; row by row, then column by column.</summary>
    /// <param name="field">Rows of cells.</param>
    /// <param name="wide">Cells in a row.</param>
    /// <param name="high">Rows.</param>
    /// <param name="sigma">Standard deviation of the spot, cells.</param>
    public static double[] Blurred(double[] field, int wide, int high, double sigma)
    {
        if (sigma < LeastSigma)
            return field;
        int reach = Math.Max(1, (int)Math.Ceiling(Reach * sigma));
        double[] kernel = [.. Enumerable.Range(-reach, (2 * reach) + 1).Select(i => Math.Exp(-0.5 * i * i / (sigma * sigma)))];
        double total = kernel.Sum();
        for (int i = 0; i < kernel.Length; i++)
            kernel[i] /= total;
        double[] half = new double[field.Length];
        double[] row = new double[wide + (2 * reach)];
        int[] starts = new int[kernel.Length];
        for (int i = 0; i < kernel.Length; i++)
            starts[i] = i;
        for (int r = 0; r < high; r++)
        {
            ReadOnlySpan<double> own = field.AsSpan(r * wide, wide);
            row.AsSpan(0, reach).Fill(own[0]);
            own.CopyTo(row.AsSpan(reach));
            row.AsSpan(reach + wide).Fill(own[^1]);
            Sum(half.AsSpan(r * wide, wide), row, starts, kernel);
        }

        double[] whole = new double[field.Length];
        for (int r = 0; r < high; r++)
        {
            for (int i = 0; i < kernel.Length; i++)
                starts[i] = Math.Clamp(r + i - reach, 0, high - 1) * wide;
            Sum(whole.AsSpan(r * wide, wide), half, starts, kernel);
        }

        return whole;
    }

    // to[k] = Σ kernel[i]·from[starts[i] + k], several k at once so that sums stay in registers.
    private static void Sum(Span<double> to, ReadOnlySpan<double> from, ReadOnlySpan<int> starts, ReadOnlySpan<double> kernel)
    {
        int lanes = Vector<double>.Count;
        ref double first = ref MemoryMarshal.GetReference(from);
        int k = 0;
        for (; k <= to.Length - (4 * lanes); k += 4 * lanes)
        {
            Vector<double> a = default, b = default, c = default, d = default;
            for (int i = 0; i < kernel.Length; i++)
            {
                var weight = Vector.Create(kernel[i]);
                nuint at = (nuint)(starts[i] + k);
                a = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref first, at), a);
                b = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref first, at + (nuint)lanes), b);
                c = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref first, at + (nuint)(2 * lanes)), c);
                d = Vector.MultiplyAddEstimate(weight, Vector.LoadUnsafe(ref first, at + (nuint)(3 * lanes)), d);
            }

            a.CopyTo(to[k..]);
            b.CopyTo(to[(k + lanes)..]);
            c.CopyTo(to[(k + (2 * lanes))..]);
            d.CopyTo(to[(k + (3 * lanes))..]);
        }

        for (; k < to.Length; k++)
        {
            double sum = 0;
            for (int i = 0; i < kernel.Length; i++)
                sum += kernel[i] * from[starts[i] + k];
            to[k] = sum;
        }
    }
}
