namespace Whetwright.Sight.Marks;

/// <summary>
/// A smooth surface through the room light of the plain field: a polynomial of total degree 4 fitted to block means by iteratively
/// reweighted least squares. Blocks that are too bright (marks) or too dark (blade, pen, shadow) are pushed out.
/// </summary>
internal sealed class SmoothSurface
{
    private const int Degree = 4;

    private readonly double[] _c;
    private readonly int _width;
    private readonly int _height;

    private SmoothSurface(double[] c, int width, int height) => (_c, _width, _height) = (c, width, height);

    /// <summary>Robust spread of the kept blocks about the surface.</summary>
    public double Spread { get; private init; }

    public static SmoothSurface Fit(float[] plane, bool[] masked, int width, int height, bool[]? suspect = null)
    {
        const int block = 12;
        var xs = new List<(double U, double V, double Z, bool Suspect)>();
        for (int row = 0; row + block <= height; row += block)
        {
            for (int column = 0; column + block <= width; column += block)
            {
                double sum = 0;
                bool bad = false;
                bool doubtful = false;
                for (int r = row; r < row + block && !bad; r++)
                {
                    for (int i = (r * width) + column; i < (r * width) + column + block; i++)
                    {
                        bad |= masked[i];
                        doubtful |= suspect is not null && suspect[i];
                        sum += plane[i];
                    }
                }

                if (!bad)
                    xs.Add((U(column + (block / 2), width), U(row + (block / 2), height), sum / (block * block), doubtful));
            }
        }

        double[] weights = xs.Select(x => x.Suspect ? 0.0 : 1.0).ToArray();
        double start = Quantile(xs.Where(x => !x.Suspect).Select(x => x.Z), 0.5);
        double[] c = new double[Terms()];
        c[0] = start;
        double spread = 1;
        double[,] basis = new double[xs.Count, c.Length];
        double[] one = new double[c.Length];
        for (int i = 0; i < xs.Count; i++)
        {
            Basis(xs[i].U, xs[i].V, one);
            for (int k = 0; k < c.Length; k++)
                basis[i, k] = one[k];
        }

        double[,] j = new double[xs.Count + c.Length, c.Length];
        double[] z = new double[xs.Count + c.Length];
        double[] residuals = new double[xs.Count];
        for (int k = 1; k < c.Length; k++)
            j[xs.Count + k, k] = 1e-2;
        for (int iteration = 0; iteration < 10; iteration++)
        {
            for (int i = 0; i < xs.Count; i++)
            {
                double w = Math.Sqrt(weights[i]);
                for (int k = 0; k < c.Length; k++)
                    j[i, k] = w * basis[i, k];
                z[i] = w * xs[i].Z;
            }

            double[]? solved = LeastSquares.Step(j, z, 1e-12);
            if (solved is null)
                break;
            c = solved;
            for (int i = 0; i < xs.Count; i++)
            {
                double model = 0;
                for (int k = 0; k < c.Length; k++)
                    model += c[k] * basis[i, k];
                residuals[i] = xs[i].Z - model;
            }

            spread = Math.Max(1.4826 * Quantile(residuals.Where((_, i) => !xs[i].Suspect).Select(Math.Abs), 0.5), 1e-6);
            for (int i = 0; i < xs.Count; i++)
            {
                double t = residuals[i] / spread;
                double q = t > 0 ? t / 2 : t / 3;
                weights[i] = xs[i].Suspect ? 0 : 1 / (1 + (q * q * q * q));
            }
        }

        return new(c, width, height) { Spread = spread };
    }

    public float[] Draw()
    {
        float[] plane = new float[_width * _height];
        double[] atRow = new double[Degree + 1];
        for (int row = 0; row < _height; row++)
        {
            double v = U(row, _height);
            Array.Clear(atRow);
            int k = 0;
            for (int d = 0; d <= Degree; d++)
            {
                for (int b = 0; b <= d; b++)
                    atRow[d - b] += _c[k++] * Math.Pow(v, b);
            }

            for (int column = 0; column < _width; column++)
            {
                double u = U(column, _width);
                double z = atRow[Degree];
                for (int p = Degree - 1; p >= 0; p--)
                    z = (z * u) + atRow[p];
                plane[(row * _width) + column] = (float)z;
            }
        }

        return plane;
    }

    internal static double Quantile(IEnumerable<double> values, double part)
    {
        double[] sorted = [.. values];
        if (sorted.Length == 0)
            return 0;
        Array.Sort(sorted);
        return sorted[(int)Math.Clamp(part * (sorted.Length - 1), 0, sorted.Length - 1)];
    }

    private static double U(double i, int n) => (2 * i / n) - 1;

    private static int Terms() => (Degree + 1) * (Degree + 2) / 2;

    private static void Basis(double u, double v, double[] basis)
    {
        int k = 0;
        for (int d = 0; d <= Degree; d++)
        {
            for (int b = 0; b <= d; b++)
                basis[k++] = Math.Pow(u, d - b) * Math.Pow(v, b);
        }
    }
}
