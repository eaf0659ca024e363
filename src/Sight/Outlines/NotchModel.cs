namespace Whetwright.Sight.Outlines;

/// <summary>How well a notch explains what is seen at a place of the edge.</summary>
/// <param name="AtMm">Middle along the strip.</param>
/// <param name="Shape">The notch.</param>
/// <param name="Explained">Share of what departs from the edge on both sides that the notch explains, 0 to 1.</param>
/// <param name="Gain">That departure explained, in squares of the paper's light times mm².</param>
/// <param name="Mix">How much of the paper's light, of its shade deeper in, and of the edge's own section moved inward is in it.</param>
/// <param name="Departure">Root mean square of the departure, in parts of the paper's light.</param>
internal sealed record NotchFit(double AtMm, NotchShape Shape, double Explained, double Gain, (double Paper, double Shade, double Moved) Mix, double Departure)
{
    /// <summary>How much is let in; 1 for a clean notch.</summary>
    public double Opened => Mix.Paper + Mix.Moved;
}

/// <summary>
/// Two explanations of a place along the edge. A notch: paper's light where steel should be, darker the deeper in it, or shadow and bevel following
/// its rim (the edge's own section moved inward). A stain: a soft patch of another tone on the steel, under an edge that goes straight on. What
/// neither explains is the line between the means of the edge on both sides, row by row; rows that are uneven there count less.
/// </summary>
internal sealed class NotchModel(EdgeStrip strip, double blurMm)
{
    /// <summary>A notch lets at least so much of the paper's light in; light stains that are mixed with it stay below. Chosen from trials.</summary>
    private const double LeastOpened = 0.6;

    private const double MostOpened = 1.3;
    private const double MostShade = 0.9;
    private const double MostTogether = 1.5;

    /// <summary>Unevenness that every row is taken to have, in parts of the paper's light. Chosen.</summary>
    private const double UnevenFloor = 0.03;

    private const double BesideMm = 1.5;
    private const double OutsideMm = 1.0;
    private const double BeneathMm = 0.7;
    private const double MarginMm = 0.5;
    private const double BeforeEdgeMm = 0.8;
    private const double BehindEdgeMm = 0.3;

    /// <summary>A term more must make the misfit smaller by this share.</summary>
    private const double TermMustGain = 0.02;

    private readonly double _blurMm = blurMm;
    private readonly Dictionary<NotchShape, double[,]> _open = [];
    private readonly double[,] _unbroken = new NotchShape(0, 1, true).OpenShare(0, strip.Rows, strip.StepMm, blurMm);

    /// <summary>The best notch of this shape there; null too near to an end.</summary>
    public NotchFit? Fit(double atMm, NotchShape shape)
    {
        if (Window.At(strip, atMm, shape, _blurMm) is not { } w)
            return null;
        double[,] open = Open(shape, w.Half);
        Span<double> square = stackalloc double[9];
        Span<double> with = stackalloc double[3];
        square.Clear();
        with.Clear();
        double none = 0;
        int count = 0;
        double h = strip.StepMm;
        for (int j = -w.Half; j <= w.Half; j++)
        {
            double depth = shape.At(j * h);
            for (int k = w.First; k <= w.Last; k++)
            {
                double weight = w.Weight[k];
                for (int c = 0; c < 3; c++)
                {
                    double d = strip[w.Middle + j, k, c] - w.Plain(j, k, c);
                    (double paper, double shade, double moved) = Terms(w, shape, depth, open[j + w.Half, k], j, k, c);
                    none += weight * d * d;
                    square[0] += weight * paper * paper;
                    square[1] += weight * paper * shade;
                    square[2] += weight * paper * moved;
                    square[4] += weight * shade * shade;
                    square[5] += weight * shade * moved;
                    square[8] += weight * moved * moved;
                    with[0] += weight * paper * d;
                    with[1] += weight * shade * d;
                    with[2] += weight * moved * d;
                }

                count += 3;
            }
        }

        (double left, (double, double, double) mix) = Best(square, with, none);
        double level = w.Level * w.Level;
        return new(atMm, shape, none > 0 ? (none - left) / none : 0, (none - left) / level * h * h, mix, Math.Sqrt(none / count / level));
    }

    /// <summary>What share a notch explains around the edge itself, where a stain changes little.</summary>
    public double AtEdge(NotchFit fit)
    {
        if (Window.At(strip, fit.AtMm, fit.Shape, _blurMm) is not { } w)
            return 0;
        double[,] open = Open(fit.Shape, w.Half);
        double none = 0;
        double left = 0;
        for (int j = -w.Half; j <= w.Half; j++)
        {
            double depth = fit.Shape.At(j * strip.StepMm);
            for (int k = w.First; k <= w.Last; k++)
            {
                if (strip.DepthOf(k) is < -BeforeEdgeMm or > BehindEdgeMm)
                    continue;
                for (int c = 0; c < 3; c++)
                {
                    double d = strip[w.Middle + j, k, c] - w.Plain(j, k, c);
                    (double paper, double shade, double moved) = Terms(w, fit.Shape, depth, open[j + w.Half, k], j, k, c);
                    double rest = d - (fit.Mix.Paper * paper) - (fit.Mix.Shade * shade) - (fit.Mix.Moved * moved);
                    none += w.Weight[k] * d * d;
                    left += w.Weight[k] * rest * rest;
                }
            }
        }

        return none > 0 ? (none - left) / none : 0;
    }

    /// <summary>What share the best stain explains in the window of a notch: a soft patch, three channels alike, only where steel is.</summary>
    public double Stain(NotchFit fit)
    {
        if (Window.At(strip, fit.AtMm, fit.Shape, _blurMm) is not { } w)
            return 0;
        double none = 0;
        double most = 0;
        double h = strip.StepMm;
        double[,] apart = new double[(2 * w.Half) + 1, strip.Rows];
        for (int j = -w.Half; j <= w.Half; j++)
        {
            for (int k = w.First; k <= w.Last; k++)
            {
                for (int c = 0; c < 3; c++)
                {
                    double d = strip[w.Middle + j, k, c] - w.Plain(j, k, c);
                    none += w.Weight[k] * d * d;
                    apart[j + w.Half, k] += d * w.Paper[c];
                }
            }
        }

        double paper = w.Paper.Sum(p => p * p);
        foreach (double across in new[] { 0.35, 0.7, 1.4 })
        {
            foreach (double deep in new[] { 0, 0.4, 0.9, 1.5, 2.3 })
            {
                foreach (double along in new[] { 0.3, 0.6, 1.2, 2.4 })
                {
                    double square = 0;
                    double with = 0;
                    for (int k = w.First; k <= w.Last; k++)
                    {
                        double row = (1 - _unbroken[0, k]) * Math.Exp(-0.5 * Math.Pow((strip.DepthOf(k) - deep) / across, 2));
                        for (int j = -w.Half; j <= w.Half && row > 1e-3; j++)
                        {
                            double patch = row * Math.Exp(-0.5 * Math.Pow(j * h / along, 2));
                            square += w.Weight[k] * patch * patch * paper;
                            with += w.Weight[k] * patch * apart[j + w.Half, k];
                        }
                    }

                    if (square > 0)
                        most = Math.Max(most, with * with / square);
                }
            }
        }

        return none > 0 ? most / none : 0;
    }

    // What each part of a notch adds to the edge as it is beside it.
    private (double Paper, double Shade, double Moved) Terms(Window w, NotchShape shape, double depth, double share, int column, int row, int channel)
    {
        double plain = w.Plain(column, row, channel);
        double deep = Math.Clamp(strip.DepthOf(row) / shape.DepthMm, 0, 1);
        return (share * (w.Paper[channel] - plain), -share * w.Paper[channel] * deep, depth <= 0 ? 0 : w.Plain(column, Math.Max(0, row - (depth / strip.StepMm)), channel) - plain);
    }

    private double[,] Open(NotchShape shape, int half)
    {
        if (!_open.TryGetValue(shape, out double[,]? open))
            _open[shape] = open = shape.OpenShare(half, strip.Rows, strip.StepMm, _blurMm);
        return open;
    }

    /// <summary>Least squares over paper, shade and moved section, each within its bounds, tried singly and together.</summary>
    private static (double Left, (double Paper, double Shade, double Moved) Mix) Best(ReadOnlySpan<double> a, ReadOnlySpan<double> b, double none)
    {
        double left = none;
        (double, double, double) mix = default;
        foreach ((bool paper, bool shade, bool moved) in new[] { (true, false, false), (true, true, false), (false, false, true), (true, false, true), (false, true, true), (true, true, true) })
        {
            (double x, double y, double z) = Solve(a, b, paper, shade, moved);
            (x, z) = (Math.Clamp(x, 0, MostOpened), Math.Clamp(z, 0, MostOpened));
            y = Math.Clamp(y, 0, Math.Min(MostShade, x + z));
            double together = x + z;
            if (together < 0.05)
                continue;
            double to = Math.Clamp(together, LeastOpened, MostTogether) / together;
            (x, z) = (x * to, z * to);
            double e = none - (2 * ((x * b[0]) + (y * b[1]) + (z * b[2]))) + (x * x * a[0]) + (y * y * a[4]) + (z * z * a[8]) + (2 * ((x * y * a[1]) + (x * z * a[2]) + (y * z * a[5])));
            if (e < left * (1 - TermMustGain))
                (left, mix) = (e, (x, y, z));
        }

        return (left, mix);
    }

    // A term that is left out gets a diagonal that holds it at nought; the others a touch of one that keeps them from running away.
    private static (double X, double Y, double Z) Solve(ReadOnlySpan<double> a, ReadOnlySpan<double> b, bool first, bool second, bool third)
    {
        const double touch = 1.001;
        (double m00, double m11, double m22) = ((first ? a[0] : 1) * touch, (second ? a[4] : 1) * touch, (third ? a[8] : 1) * touch);
        (double m01, double m02, double m12) = (first && second ? a[1] : 0, first && third ? a[2] : 0, second && third ? a[5] : 0);
        (double b0, double b1, double b2) = (first ? b[0] : 0, second ? b[1] : 0, third ? b[2] : 0);
        double c00 = (m11 * m22) - (m12 * m12);
        double c01 = (m02 * m12) - (m01 * m22);
        double c02 = (m01 * m12) - (m02 * m11);
        double det = (m00 * c00) + (m01 * c01) + (m02 * c02);
        if (!(Math.Abs(det) > 1e-30))
            return (0, 0, 0);
        return (
            ((c00 * b0) + (c01 * b1) + (c02 * b2)) / det,
            ((c01 * b0) + (((m00 * m22) - (m02 * m02)) * b1) + (((m01 * m02) - (m00 * m12)) * b2)) / det,
            ((c02 * b0) + (((m01 * m02) - (m00 * m12)) * b1) + (((m00 * m11) - (m01 * m01)) * b2)) / det);
    }

    /// <summary>The part of a strip around a notch, with the edge as it is on both sides.</summary>
    private sealed record Window(int Middle, int Half, int First, int Last, double Reach, double[,] Before, double[,] After, double[] Weight, double[] Paper, double Level)
    {
        public static Window? At(EdgeStrip strip, double atMm, NotchShape shape, double blurMm)
        {
            double h = strip.StepMm;
            int middle = (int)Math.Round(atMm / h);
            int gap = (int)Math.Ceiling(((shape.WidthMm / 2) + Math.Max(0.25, 1.5 * blurMm)) / h);
            int side = (int)Math.Ceiling(BesideMm / h);
            if (middle - gap - side < 0 || middle + gap + side >= strip.Columns)
                return null;
            int first = (int)((-OutsideMm - EdgeStrip.FromMm) / h);
            int last = Math.Min(strip.Rows - 1, (int)((shape.DepthMm + BeneathMm - EdgeStrip.FromMm) / h));
            double[,] before = new double[strip.Rows, 3];
            double[,] after = new double[strip.Rows, 3];
            double[] uneven = new double[strip.Rows];
            for (int k = 0; k < strip.Rows; k++)
            {
                for (int c = 0; c < 3; c++)
                {
                    before[k, c] = strip.Mean(middle - gap - side + 1, middle - gap, k, c);
                    after[k, c] = strip.Mean(middle + gap, middle + gap + side - 1, k, c);
                    uneven[k] += (strip.Variance(middle - gap - side + 1, middle - gap, k, c) + strip.Variance(middle + gap, middle + gap + side - 1, k, c)) / 6;
                }
            }

            double[] paper = [.. Enumerable.Range(0, 3).Select(c => Enumerable.Range(0, 3).Average(k => (before[k, c] + after[k, c]) / 2))];
            double level = Math.Max(1e-3, Math.Sqrt(paper.Average(p => p * p)));
            double[] weight = [.. uneven.Select(u => 1 / (u + (UnevenFloor * UnevenFloor * level * level)))];
            double mean = weight[first..(last + 1)].Average();
            return new(middle, (int)Math.Ceiling(((shape.WidthMm / 2) + MarginMm) / h), first, last, gap + (side / 2.0), before, after, [.. weight.Select(v => v / mean)], paper, level);
        }

        /// <summary>The edge without a notch, columns from the middle, rows from the outermost.</summary>
        public double Plain(int column, int row, int channel)
        {
            double t = (column + Reach) / (2 * Reach);
            return ((1 - t) * Before[row, channel]) + (t * After[row, channel]);
        }

        public double Plain(int column, double row, int channel)
        {
            int k = Math.Min((int)row, Before.GetLength(0) - 2);
            double t = row - k;
            return ((1 - t) * Plain(column, k, channel)) + (t * Plain(column, k + 1, channel));
        }
    }
}
