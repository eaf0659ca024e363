using System.Numerics;
using System.Runtime.InteropServices;
using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>What is looked at of an edge for a notch, in cells: the notch with a margin, and on either side, beyond a gap, the edge that it is compared with.</summary>
/// <param name="Gap">From the middle to the edge beside it.</param>
/// <param name="Side">So much of that edge on either side.</param>
/// <param name="Half">Columns to each side of the middle that are weighed.</param>
/// <param name="First">The outermost row.</param>
/// <param name="Rows">Rows that are weighed.</param>
internal readonly record struct NotchWindow(int Gap, int Side, int Half, int First, int Rows)
{
    private const double OutsideMm = 1.2;
    private const double BeneathMm = 0.7;
    private const double MarginMm = 0.5;

    public int Reach => Gap + Side;

    public int Columns => (2 * Half) + 1;

    public static NotchWindow Of(CoarseTones tones, NotchShape shape, double blurMm)
    {
        int Cells(double mm) => (int)Math.Ceiling(mm / tones.CellMm);
        int first = tones.RowFrom(-OutsideMm);
        return new(Cells(NotchModel.GapMm(shape.WidthMm, blurMm)), Cells(NotchModel.BesideMm), Cells((shape.WidthMm / 2) + MarginMm), first, tones.RowFrom(shape.DepthMm + BeneathMm) - first);
    }
}

/// <summary>
/// One notch's shape against the departures that are usual along an edge. Their covariance is taken to be that of the rows across the edge times that of the columns along
/// it, with white noise on top: in the common eigenvectors of both every departure stands alone.
/// </summary>
internal sealed class NotchInMottle
{
    /// <summary>The largest tenth of the departures is no rule: chips are among them. Chosen.</summary>
    private const double Usual = 0.9;

    /// <summary>White noise: so much of the variance on the paper, and no less than this. Chosen.</summary>
    private const double OfPaper = 0.15;
    private const double LeastNoise = 1.6e-5;

    /// <summary>No departure along the edge is taken to be smaller than this share of the mean. Chosen.</summary>
    private const double LeastAlong = 1e-3;

    private const int PaperRows = 3;

    /// <summary>In so much paper the steel's own tone is not seen. As in <see cref="NotchModel"/>.</summary>
    private const double MostlySteel = 0.85;

    /// <summary>Light in a notch, parts of the open paper's, and how much of it the notch's floor may lose. Chosen as in <see cref="NotchLight"/>.</summary>
    private const double LeastOpen = 0.2, MostOpen = 1.15;

    private static readonly double[] s_shades = [0, 0.25, 0.5, 0.75];

    private readonly CoarseTones _tones;
    private readonly NotchWindow _window;
    private readonly double[,] _rows;
    private readonly double[][] _along;
    private readonly double[][] _seen;
    private readonly double[][] _sum;
    private readonly double[] _weight;
    private readonly double[][] _share;
    private readonly double[] _open;
    private readonly double[] _deep;
    private readonly double[] _toward;
    private readonly double[] _from;
    private readonly int[] _steel;
    private readonly int[] _opened;
    private readonly double _oo, _od, _dd;

    public NotchInMottle(CoarseTones tones, NotchWindow window, NotchShape shape, double blurMm)
    {
        (_tones, _window) = (tones, window);
        (double[,] across, double[] correlation, double paper) = Departures();
        (double[] lambda, _rows) = Eigen(across);
        int n = window.Columns;
        double[,] toeplitz = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                toeplitz[i, j] = correlation[Math.Abs(i - j)];
        }

        (double[] mu, double[,] along) = Eigen(toeplitz);
        _along = [.. Enumerable.Range(0, n).Select(j => Enumerable.Range(0, n).Select(b => along[b, j]).ToArray())];
        double noise = (OfPaper * paper) + LeastNoise;
        _weight = [.. lambda.SelectMany(l => mu.Select(m => 1 / ((Math.Max(0, l) * Math.Max(LeastAlong, m)) + noise)))];
        _seen = [.. Enumerable.Range(0, window.Rows).Select(Turned)];
        _sum = [.. _seen.Select(Sums)];
        double reach = window.Gap + (window.Side / 2.0);
        _toward = Along([.. Enumerable.Range(-window.Half, n).Select(j => (j + reach) / (2 * reach))]);
        _from = Along([.. Enumerable.Range(-window.Half, n).Select(j => (reach - j) / (2 * reach))]);

        double[,] unbroken = new NotchShape(0, 1, true).OpenShare(0, tones.Rows, tones.CellMm, blurMm, tones.FromMm);
        double[,] open = shape.OpenShare(window.Half, tones.Rows, tones.CellMm, blurMm, tones.FromMm);
        int steel = Enumerable.Range(0, tones.Rows - 1).First(k => k == tones.Rows - 2 || unbroken[0, k] < 1 - MostlySteel);
        _steel = [.. Enumerable.Range(0, window.Rows).Select(k => Math.Max(steel, window.First + k))];
        double[][] share = [.. Enumerable.Range(0, window.Rows).Select(k => Enumerable.Range(0, n).Select(j => Math.Max(0, open[j, window.First + k] - unbroken[0, window.First + k])).ToArray())];
        _share = [.. share.Select(Along)];
        _opened = [.. Enumerable.Range(0, window.Rows).Where(k => share[k].Max() > LeastAlong)];
        _open = Both(k => 1);
        _deep = Both(k => -Math.Clamp(tones.DepthOf(window.First + k) / shape.DepthMm, 0, 1));
        for (int i = 0; i < _weight.Length; i++)
            (_oo, _od, _dd) = (_oo + (_weight[i] * _open[i] * _open[i]), _od + (_weight[i] * _open[i] * _deep[i]), _dd + (_weight[i] * _deep[i] * _deep[i]));
    }

    /// <summary>Log of the ratio of likelihoods, notch against none, with its middle in a column at least <see cref="NotchWindow.Reach"/> from both ends.</summary>
    public double Gain(int middle)
    {
        (int n, int gap, int side) = (_window.Columns, _window.Gap, _window.Side);
        double[] plain = [.. _steel.Select(k => Steel(middle, k))];
        double without = 0;
        (double square, double open, double deep) = (0, 0, 0);
        Span<double> departure = stackalloc double[n];
        Span<double> gone = stackalloc double[n];
        for (int a = 0; a < _window.Rows; a++)
        {
            double before = (_sum[a][middle - gap + 1] - _sum[a][middle - gap - side + 1]) / side;
            double after = (_sum[a][middle + gap + side] - _sum[a][middle + gap]) / side;
            departure.Clear();
            gone.Clear();
            for (int j = 0; j < n; j++)
                Add(departure, _seen[a][middle - _window.Half + j], _along[j]);
            Add(departure, -before, _from);
            Add(departure, -after, _toward);
            foreach (int k in _opened)
                Add(gone, _rows[a, k] * plain[k], _share[k]);
            for (int b = 0; b < n; b++)
            {
                int i = (a * n) + b;
                (double w, double d, double y) = (_weight[i], departure[b], departure[b] + gone[b]);
                (without, square, open, deep) = (without + (w * d * d), square + (w * y * y), open + (w * y * _open[i]), deep + (w * y * _deep[i]));
            }
        }

        double left = double.PositiveInfinity;
        foreach (double shade in s_shades)
        {
            double with = open + (shade * deep);
            double own = _oo + (2 * shade * _od) + (shade * shade * _dd);
            double light = Math.Clamp(with / own, LeastOpen, MostOpen);
            left = Math.Min(left, square - (2 * light * with) + (light * light * own));
        }

        return (without - left) / 2;
    }

    // How rows depart from the edge on both sides: their covariance, the correlation of what lies so many columns apart, and the variance on the paper.
    private (double[,] Across, double[] Along, double Paper) Departures()
    {
        (int gap, int side, int rows) = (_window.Gap, _window.Side, _window.Rows);
        int count = _tones.Columns - (2 * _window.Reach);
        double[][] d = [.. Enumerable.Range(_window.Reach, count).Select(m => new double[rows])];
        for (int k = 0; k < rows; k++)
        {
            double[] sum = Sums([.. Enumerable.Range(0, _tones.Columns).Select(i => _tones[i, _window.First + k])]);
            for (int i = 0; i < count; i++)
            {
                int m = i + _window.Reach;
                d[i][k] = _tones[m, _window.First + k] - ((sum[m - gap + 1] - sum[m - gap - side + 1] + sum[m + gap + side] - sum[m + gap]) / (2 * side));
            }
        }

        double[] size = [.. d.Select(v => v.Sum(x => x * x))];
        double most = size.Order().ElementAt((int)(Usual * (count - 1)));
        bool[] usual = [.. size.Select(s => s <= most)];
        double[,] across = new double[rows, rows];
        double[] row = new double[rows];
        for (int k = 0; k < rows; k++)
        {
            Array.Clear(row);
            foreach (double[] v in d.Where((_, i) => usual[i]))
                Add(row, v[k], v);
            for (int l = 0; l < rows; l++)
                across[k, l] = row[l] / usual.Count(u => u);
        }

        double[] along = new double[_window.Columns];
        for (int lag = 0; lag < along.Length; lag++)
        {
            int[] both = [.. Enumerable.Range(0, Math.Max(0, count - lag)).Where(i => usual[i] && usual[i + lag])];
            along[lag] = both.Length == 0 ? 0 : both.Average(i => Dot(d[i], d[i + lag]));
        }

        double[] paper = [.. Enumerable.Range(0, PaperRows).Select(k => across[k, k]).Order()];
        return (across, [.. along.Select(c => c / Math.Max(1e-12, along[0]))], paper[PaperRows / 2]);
    }

    // Light of a row of the edge beside a notch, the mean of both sides.
    private double Steel(int middle, int row)
    {
        double sum = 0;
        for (int i = _window.Gap; i < _window.Gap + _window.Side; i++)
            sum += _tones[middle - i, row] + _tones[middle + i, row];
        return sum / (2 * _window.Side);
    }

    private double[] Turned(int a)
    {
        double[] turned = new double[_tones.Columns];
        for (int i = 0; i < turned.Length; i++)
        {
            for (int k = 0; k < _window.Rows; k++)
                turned[i] += _rows[a, k] * _tones[i, _window.First + k];
        }

        return turned;
    }

    private double[] Along(double[] columns)
    {
        double[] turned = new double[columns.Length];
        for (int j = 0; j < columns.Length; j++)
            Add(turned, columns[j], _along[j]);
        return turned;
    }

    // The notch's share, times a factor of each row, in the eigenvectors of both.
    private double[] Both(Func<int, double> of)
    {
        double[] turned = new double[_weight.Length];
        for (int a = 0; a < _window.Rows; a++)
        {
            foreach (int k in _opened)
                Add(turned.AsSpan(a * _window.Columns, _window.Columns), _rows[a, k] * of(k), _share[k]);
        }

        return turned;
    }

    private static double[] Sums(double[] row)
    {
        double[] sum = new double[row.Length + 1];
        for (int i = 0; i < row.Length; i++)
            sum[i + 1] = sum[i] + row[i];
        return sum;
    }

    private static void Add(Span<double> to, double times, ReadOnlySpan<double> row)
    {
        Span<Vector<double>> sums = MemoryMarshal.Cast<double, Vector<double>>(to);
        ReadOnlySpan<Vector<double>> parts = MemoryMarshal.Cast<double, Vector<double>>(row);
        for (int i = 0; i < sums.Length; i++)
            sums[i] += parts[i] * times;
        for (int i = sums.Length * Vector<double>.Count; i < to.Length; i++)
            to[i] += row[i] * times;
    }

    private static double Dot(double[] a, double[] b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
            sum += a[i] * b[i];
        return sum;
    }

    // Eigenvalues and, row by row, eigenvectors of a symmetric matrix.
    private static (double[] Values, double[,] Vectors) Eigen(double[,] symmetric)
    {
        int n = symmetric.GetLength(0);
        using Mat of = Mat.FromPixelData(n, n, MatType.CV_64F, symmetric);
        using var values = new Mat();
        using var vectors = new Mat();
        Cv2.Eigen(of, values, vectors);
        double[,] rows = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                rows[i, j] = vectors.At<double>(i, j);
        }

        return ([.. Enumerable.Range(0, n).Select(i => values.At<double>(i))], rows);
    }
}
