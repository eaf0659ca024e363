using System.Numerics;

namespace Whetwright.Sight.Outlines;

/// <content>
/// Steel whose tone changes from millimetre to millimetre, by patina or what it mirrors: a field of tones about its even one, normal, of one spread, tied over a millimetre. It explains what
/// the even tone does not, but is paid for by how much of it there is (log determinant), so that a strip of paper in shadow stays cheaper where it is even.
/// </content>
internal sealed partial class TipPatch
{
    /// <summary>Places of the field lie so far apart, mm. Chosen.</summary>
    private const double StainMm = 1.1;

    /// <summary>Steel nearer to its rim than this is not asked how uneven it is, mm: blur and bevel. Chosen.</summary>
    private const double PlainlySteelMm = 0.4;

    /// <summary>Less of it tells nothing, mm². Chosen.</summary>
    private const double LeastAreaMm2 = 1.5;

    /// <summary>A place of the field of which the photo counts less than this is left out, mm². Chosen.</summary>
    private const double SeenMm2 = 0.02;

    private double _stainTie;

    private List<Hat> _hats = [];

    /// <summary>How uneven the steel is, standard deviation about a plane of tones in the paper's light; 0 where too little is seen.</summary>
    public double Unevenness(TipShape supposed)
    {
        double[] right = new double[3];
        var at = new List<(double U, double V, double Light)>();
        for (int r = 0; r < _rows; r++)
        {
            for (int c = 0; c < _columns; c++)
            {
                (double u, double v) = (U(c), V(r));
                if (Depth(supposed, u, v) > PlainlySteelMm && v - supposed.EdgeAt(u) > supposed.BevelMm + PlainlySteelMm && (u * u) + (v * v) < BehindMm * BehindMm)
                    at.Add((u, v, Math.Min(_seen[(r * _columns) + c], Full / Level)));
            }
        }

        if (at.Count * _step * _step < LeastAreaMm2)
            return 0;
        double[,] a = new double[3, 3];
        foreach ((double u, double v, double light) in at)
        {
            double[] row = [1, u, v];
            for (int i = 0; i < 3; i++)
            {
                right[i] += row[i] * light;
                for (int j = 0; j < 3; j++)
                    a[i, j] += row[i] * row[j];
            }
        }

        double[] plane = LeastSquares.Solve(a, right, 1e-9) ?? [at.Average(p => p.Light), 0, 0];
        return Math.Sqrt(at.Average(p => Math.Pow(p.Light - plane[0] - (plane[1] * p.U) - (plane[2] * p.V), 2)));
    }

    /// <summary>The same photo, its steel stained.</summary>
    /// <param name="spread">Standard deviation of its tones, in the paper's light.</param>
    /// <param name="noise">Misfit of a model that is right, in the same.</param>
    /// <param name="looks">Independent looks in the photo.</param>
    public TipPatch Stained(double spread, double noise, double looks)
    {
        var stained = (TipPatch)MemberwiseClone();
        stained._stainTie = noise * noise * Weight / (looks * spread * spread);
        stained._hats = [];
        for (double v = -OutsideMm; v < InsideMm + StainMm; v += StainMm)
        {
            for (double u = -BehindMm; u < BeyondMm + StainMm; u += StainMm)
            {
                if (Hat.Of(u, v, this) is { } hat)
                    stained._hats.Add(hat);
            }
        }

        return stained;
    }

    /// <summary>A place of the field: a pyramid of tones about it, in the rows and columns that it covers.</summary>
    private sealed class Hat(int column, int row, int wide, int high, double[] height)
    {
        public static Hat? Of(double u, double v, TipPatch patch)
        {
            int reach = (int)(StainMm / patch._step) + 1;
            (int c, int r) = ((int)Math.Round((u + BehindMm) / patch._step), (int)Math.Round((v + OutsideMm) / patch._step));
            (int c0, int c1) = (Math.Max(0, c - reach), Math.Min(patch._columns - 1, c + reach));
            (int r0, int r1) = (Math.Max(0, r - reach), Math.Min(patch._rows - 1, r + reach));
            if (c1 < c0 || r1 < r0)
                return null;
            double[] height = new double[(c1 - c0 + 1) * (r1 - r0 + 1)];
            double counts = 0;
            for (int j = r0; j <= r1; j++)
            {
                for (int i = c0; i <= c1; i++)
                {
                    double h = Math.Max(0, 1 - (Math.Abs(patch.U(i) - u) / StainMm)) * Math.Max(0, 1 - (Math.Abs(patch.V(j) - v) / StainMm));
                    height[((j - r0) * (c1 - c0 + 1)) + i - c0] = h;
                    counts += h * patch._weight[(j * patch._columns) + i];
                }
            }

            return counts * patch._step * patch._step < SeenMm2 ? null : new(c0, r0, c1 - c0 + 1, r1 - r0 + 1, height);
        }

        /// <summary>Times what is seen of the steel.</summary>
        public Hat Times(double[] seen, int columns)
        {
            double[] product = new double[height.Length];
            for (int j = 0; j < high; j++)
            {
                for (int i = 0; i < wide; i++)
                    product[(j * wide) + i] = height[(j * wide) + i] * seen[((row + j) * columns) + column + i];
            }

            return new(column, row, wide, high, product);
        }

        public double Dot(double[] field, int columns)
        {
            double sum = 0;
            for (int j = 0; j < high; j++)
                sum += Product(height.AsSpan(j * wide, wide), field.AsSpan(((row + j) * columns) + column, wide));
            return sum;
        }

        public double Dot(Hat other, double[] weight, int columns)
        {
            (int c0, int c1) = (Math.Max(column, other.Column), Math.Min(column + wide, other.Column + other.Wide));
            (int r0, int r1) = (Math.Max(row, other.Row), Math.Min(row + high, other.Row + other.High));
            double sum = 0;
            for (int r = r0; r < r1; r++)
            {
                for (int c = c0; c < c1; c++)
                    sum += height[((r - row) * wide) + c - column] * other.Height[((r - other.Row) * other.Wide) + c - other.Column] * weight[(r * columns) + c];
            }

            return sum;
        }

        public void TakeFrom(double[] residual, double tone, int columns)
        {
            for (int j = 0; j < high; j++)
            {
                for (int i = 0; i < wide; i++)
                    residual[((row + j) * columns) + column + i] -= tone * height[(j * wide) + i];
            }
        }

        private int Column => column;

        private int Row => row;

        private int Wide => wide;

        private int High => high;

        private double[] Height => height;
    }

    private static double Product(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        // Four sums beside each other: one would wait for itself.
        int lanes = Vector<double>.Count;
        Vector<double> sum = default, second = default, third = default, fourth = default;
        int k = 0;
        for (; k <= a.Length - (4 * lanes); k += 4 * lanes)
        {
            sum = Vector.MultiplyAddEstimate(new Vector<double>(a[k..]), new Vector<double>(b[k..]), sum);
            second = Vector.MultiplyAddEstimate(new Vector<double>(a[(k + lanes)..]), new Vector<double>(b[(k + lanes)..]), second);
            third = Vector.MultiplyAddEstimate(new Vector<double>(a[(k + (2 * lanes))..]), new Vector<double>(b[(k + (2 * lanes))..]), third);
            fourth = Vector.MultiplyAddEstimate(new Vector<double>(a[(k + (3 * lanes))..]), new Vector<double>(b[(k + (3 * lanes))..]), fourth);
        }

        for (; k <= a.Length - lanes; k += lanes)
            sum = Vector.MultiplyAddEstimate(new Vector<double>(a[k..]), new Vector<double>(b[k..]), sum);
        double total = Vector.Sum(sum + second + third + fourth);
        for (; k < a.Length; k++)
            total += a[k] * b[k];
        return total;
    }

    /// <summary>Log determinant of (A + t·1)/t: how much of the field the photo tells, and what it is paid for with.</summary>
    private static double LogDeterminant(double[,] a, int from, double tie)
    {
        int m = a.GetLength(0) - from;
        double[,] l = new double[m, m];
        double log = 0;
        for (int i = 0; i < m; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double v = (a[from + i, from + j] / tie) + (i == j ? 1 : 0);
                for (int k = 0; k < j; k++)
                    v -= l[i, k] * l[j, k];
                if (i == j)
                {
                    l[i, i] = Math.Sqrt(Math.Max(v, 1e-12));
                    log += 2 * Math.Log(l[i, i]);
                }
                else
                {
                    l[i, j] = v / l[j, j];
                }
            }
        }

        return log;
    }
}
