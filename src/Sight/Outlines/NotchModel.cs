namespace Whetwright.Sight.Outlines;

/// <summary>Where the light of a lamp that falls through a notch lies on the mat, against the notch: behind a shadow's rim, moved along and outward.</summary>
/// <param name="AlongMm">Along the edge, toward the tip.</param>
/// <param name="OutMm">Outward from the edge; 0 with nothing along: no shadow.</param>
/// <param name="SoftMm">How soft its rim is, standard deviation.</param>
internal readonly record struct LitPatch(double AlongMm, double OutMm, double SoftMm);

/// <summary>What a notch shows, in parts of the open paper's light.</summary>
/// <param name="Open">Light in it that does not come from the lamp whose shadow is seen.</param>
/// <param name="Shade">How much of that its floor loses.</param>
/// <param name="Lit">Light of that lamp.</param>
internal readonly record struct NotchMix(double Open, double Shade, double Lit);

/// <summary>How well a notch explains what is seen at a place of the edge.</summary>
/// <param name="AtMm">Middle along the strip.</param>
/// <param name="Shape">The notch.</param>
/// <param name="Patch">Where a lamp's light through it lies.</param>
/// <param name="Explained">Share of what departs from the edge on both sides that the notch explains, 0 to 1.</param>
/// <param name="Gain">That departure explained, in squares of the paper's light times mm².</param>
/// <param name="Mix">What is seen in it.</param>
/// <param name="Departure">Root mean square of the departure, in parts of the paper's light.</param>
internal sealed record NotchFit(double AtMm, NotchShape Shape, LitPatch Patch, double Explained, double Gain, NotchMix Mix, double Departure)
{
    /// <summary>How much of the paper's light is let in; 1 for a clean notch.</summary>
    public double Opened => Mix.Open + Mix.Lit;
}

/// <summary>
/// Two explanations of a place along the edge. A notch: paper where steel should be, darker the deeper in it; where the edge throws a shadow, the lamp's light falls
/// through the notch on paper further out and further along, and the notch itself is dark. A stain: a soft patch of another tone on the steel, under an edge that goes
/// straight on. What neither explains is the line between the means of the edge on both sides, row by row; rows that are uneven there count less.
/// </summary>
internal sealed class NotchModel(EdgeStrip strip, double blurMm)
{
    /// <summary>So far out a patch of light belongs to the notch's own walls, and no shadow need be seen beside it. Chosen.</summary>
    private const double WallMm = 0.35;

    /// <summary>Unevenness that every row is taken to have, in parts of the paper's light. Chosen.</summary>
    private const double UnevenFloor = 0.03;

    /// <summary>So much of the edge on either side is what a place is compared with.</summary>
    public const double BesideMm = 1.5;

    private const double OutsideMm = 1.2;
    private const double BeneathMm = 0.7;
    private const double MarginMm = 0.5;

    /// <summary>Where steel fills more than this of what is seen, its tone is taken from there.</summary>
    private const double MostlySteel = 0.85;

    private static readonly double[] s_deep = [0, 0.4, 0.9, 1.5, 2.3];
    private static readonly double[] s_deepOnPaper = [-1, -0.6, -0.25, 0, 0.4, 0.9, 1.5, 2.3];
    private static readonly double[] s_aside = [-1, -0.5, 0, 0.5, 1];

    private readonly double _blurMm = blurMm;
    private readonly Dictionary<(NotchShape, int), double[,]> _open = [];
    private readonly double[,] _unbroken = new NotchShape(0, 1, true).OpenShare(0, strip.Rows, strip.StepMm, blurMm);

    /// <summary>Share of paper in each row of an unbroken edge.</summary>
    public double[] Unbroken => [.. Enumerable.Range(0, strip.Rows).Select(k => _unbroken[0, k])];

    /// <summary>How far from its middle a notch of a width is compared with the edge beside it, mm.</summary>
    public double ReachMm(double widthMm) => GapMm(widthMm, _blurMm) + BesideMm;

    /// <summary>From a notch's middle to where the edge beside it is looked at, mm.</summary>
    public static double GapMm(double widthMm, double blurMm) => (widthMm / 2) + Math.Max(0.25, 1.5 * blurMm);

    /// <summary>The first row in which the steel's own tone is seen.</summary>
    public static int SteelFrom(IReadOnlyList<double> unbroken) => Enumerable.Range(0, unbroken.Count - 1).First(k => k == unbroken.Count - 2 || unbroken[k] < 1 - MostlySteel);

    /// <summary>The best notch of this shape there; null too near to an end.</summary>
    public NotchFit? Fit(double atMm, NotchShape shape, LitPatch patch = default)
    {
        if (Window.At(strip, atMm, shape, _blurMm, _unbroken) is not { } w)
            return null;
        Terms terms = Of(shape, patch);
        var light = default(NotchLight);
        double none = 0;
        int count = 0;
        double h = strip.StepMm;
        for (int j = -w.Half; j <= w.Half; j++)
        {
            for (int k = w.First; k <= w.Last; k++)
            {
                double weight = w.Weight[k];
                (double open, double shade, double lit) = terms.At(j, k, _unbroken[0, k]);
                double gone = -terms.Share(j, k);
                for (int c = 0; c < 3; c++)
                {
                    double paper = w.Paper[c];
                    double d = strip[w.Middle + j, k, c] - w.Plain(j, k, c);
                    none += weight * d * d;
                    d -= gone * w.Plain(j, w.SteelRow[k], c);
                    light.Add(weight, d, paper * open, paper * shade, paper * lit);
                }

                count += 3;
            }
        }

        (double left, NotchMix mix) = light.Best(MostLit(patch, w.Shadow));
        left = Math.Max(0, left);
        double level = w.Level * w.Level;
        return new(atMm, shape, patch, none > 0 ? Math.Max(-9, (none - left) / none) : 0, (none - left) / level * h * h, mix, Math.Sqrt(none / count / level));
    }

    /// <summary>The most light of a lamp that a patch can have: within the notch's own walls any, further out what the shadow takes.</summary>
    public static double MostLit(LitPatch patch, double shadow) => patch.OutMm switch { <= 0 => 0, <= WallMm => NotchLight.MostLit, _ => Math.Clamp(shadow, 0, NotchLight.MostLit) };

    /// <summary>How much of the paper's light a shadow takes beside the edge there.</summary>
    public double ShadowAt(double atMm) => Window.At(strip, atMm, new(0.5, 1, false), _blurMm, _unbroken)?.Shadow ?? 0;

    /// <summary>
    /// What share the best stain explains in the window of a notch: a soft patch, three channels alike, only where steel is; against a lamp's light out on the paper also one on
    /// the paper alone.
    /// </summary>
    public double Stain(NotchFit fit)
    {
        if (Window.At(strip, fit.AtMm, fit.Shape, _blurMm, _unbroken) is not { } w)
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
        bool onPaper = fit.Patch.OutMm > 0;
        foreach (double across in new[] { 0.35, 0.7, 1.4 })
        {
            foreach (double deep in onPaper ? s_deepOnPaper : s_deep)
            {
                foreach (double along in new[] { 0.3, 0.6, 1.2, 2.4 })
                {
                    foreach (double aside in deep < 0 ? s_aside : [0])
                    {
                        double square = 0;
                        double with = 0;
                        for (int k = w.First; k <= w.Last; k++)
                        {
                            double row = (deep < 0 ? _unbroken[0, k] : 1 - _unbroken[0, k]) * Math.Exp(-0.5 * Math.Pow((strip.DepthOf(k) - deep) / across, 2));
                            for (int j = -w.Half; j <= w.Half && row > 1e-3; j++)
                            {
                                double patch = row * Math.Exp(-0.5 * Math.Pow(((j * h) - (aside * fit.Patch.OutMm)) / along, 2));
                                square += w.Weight[k] * patch * patch * paper;
                                with += w.Weight[k] * patch * apart[j + w.Half, k];
                            }
                        }

                        if (square > 0)
                            most = Math.Max(most, with * with / square);
                    }
                }
            }
        }

        return none > 0 ? most / none : 0;
    }

    public Terms Of(NotchShape shape, LitPatch patch) => new(
        Open(shape, _blurMm), patch.OutMm > 0 ? Open(shape, Math.Sqrt((_blurMm * _blurMm) + (patch.SoftMm * patch.SoftMm))) : null,
        (int)Math.Round(patch.AlongMm / strip.StepMm), (int)Math.Round(patch.OutMm / strip.StepMm), shape.DepthMm, strip.StepMm);

    // What is open and would be closed without the notch.
    private double[,] Open(NotchShape shape, double softMm)
    {
        (NotchShape, int) key = (shape, (int)Math.Round(softMm * 50));
        if (_open.TryGetValue(key, out double[,]? open))
            return open;
        int half = (int)Math.Ceiling(((shape.WidthMm / 2) + (2.5 * softMm)) / strip.StepMm);
        open = shape.OpenShare(half, strip.Rows, strip.StepMm, softMm);
        double[,] unbroken = softMm == _blurMm ? _unbroken : new NotchShape(0, 1, true).OpenShare(0, strip.Rows, strip.StepMm, softMm);
        for (int i = 0; i <= 2 * half; i++)
        {
            for (int k = 0; k < strip.Rows; k++)
                open[i, k] = Math.Max(0, open[i, k] - unbroken[0, k]);
        }

        return _open[key] = open;
    }

    /// <summary>What a notch changes, in parts of the paper's light; columns from its middle.</summary>
    public readonly record struct Terms(double[,] Notch, double[,]? Patch, int Along, int Out, double DepthMm, double StepMm)
    {
        public double Share(int column, int row) => In(Notch, column, row);

        public (double Open, double Shade, double Lit) At(int column, int row, double unbroken)
        {
            double share = In(Notch, column, row);
            double deep = Math.Clamp((EdgeStrip.FromMm + (row * StepMm)) / DepthMm, 0, 1);
            return (share, -share * deep, Patch is null ? 0 : (unbroken + share) * In(Patch, column - Along, row + Out));
        }

        private static double In(double[,] of, int column, int row)
        {
            int half = of.GetLength(0) / 2;
            return Math.Abs(column) > half || row >= of.GetLength(1) ? 0 : of[column + half, row];
        }
    }

    /// <summary>The part of a strip around a notch, with the edge as it is on both sides: row by row, three channels each.</summary>
    private sealed record Window(int Middle, int Half, int First, int Last, double Reach, double[] Before, double[] After, double[] Weight, double[] Paper, double Level, int[] SteelRow, double Shadow)
    {
        public static Window? At(EdgeStrip strip, double atMm, NotchShape shape, double blurMm, double[,] unbroken)
        {
            double h = strip.StepMm;
            int middle = (int)Math.Round(atMm / h);
            int gap = (int)Math.Ceiling(GapMm(shape.WidthMm, blurMm) / h);
            int side = (int)Math.Ceiling(BesideMm / h);
            if (middle - gap - side < 0 || middle + gap + side >= strip.Columns)
                return null;
            int first = (int)((-OutsideMm - EdgeStrip.FromMm) / h);
            int last = Math.Min(strip.Rows - 1, (int)((shape.DepthMm + BeneathMm - EdgeStrip.FromMm) / h));
            double[] before = new double[strip.Rows * 3];
            double[] after = new double[strip.Rows * 3];
            double[] uneven = new double[strip.Rows];
            for (int k = 0; k < strip.Rows; k++)
            {
                for (int c = 0; c < 3; c++)
                {
                    before[(k * 3) + c] = strip.Mean(middle - gap - side + 1, middle - gap, k, c);
                    after[(k * 3) + c] = strip.Mean(middle + gap, middle + gap + side - 1, k, c);
                    uneven[k] += (strip.Variance(middle - gap - side + 1, middle - gap, k, c) + strip.Variance(middle + gap, middle + gap + side - 1, k, c)) / 6;
                    uneven[k] += Math.Pow(before[(k * 3) + c] - after[(k * 3) + c], 2) / 12;
                }
            }

            double[] paper = [.. Enumerable.Range(0, 3).Select(c => Enumerable.Range(0, 3).Average(k => (before[(k * 3) + c] + after[(k * 3) + c]) / 2))];
            double level = Math.Max(1e-3, Math.Sqrt(paper.Average(p => p * p)));
            double[] weight = [.. uneven.Select(u => 1 / (u + (UnevenFloor * UnevenFloor * level * level)))];
            int steel = SteelFrom([.. Enumerable.Range(0, strip.Rows).Select(k => unbroken[0, k])]);
            double mean = weight[first..(last + 1)].Average();
            return new(middle, (int)Math.Ceiling(((shape.WidthMm / 2) + MarginMm) / h), first, last, gap + (side / 2.0), before, after, [.. weight.Select(v => v / mean)], paper, level, [.. Enumerable.Range(0, strip.Rows).Select(k => Math.Max(k, steel))], ShadowOf(strip, before, after, paper, unbroken));
        }

        // How much of the paper's light is missing beside the edge, where the blur brings in no steel.
        private static double ShadowOf(EdgeStrip strip, double[] before, double[] after, double[] paper, double[,] unbroken)
        {
            int k = Enumerable.Range(0, strip.Rows).Last(r => unbroken[0, r] > 0.95);
            return 1 - (Enumerable.Range(0, 3).Sum(c => before[(k * 3) + c] + after[(k * 3) + c]) / (2 * paper.Sum()));
        }

        /// <summary>The edge without a notch, columns from the middle, rows from the outermost.</summary>
        public double Plain(int column, int row, int channel)
        {
            double t = (column + Reach) / (2 * Reach);
            return ((1 - t) * Before[(row * 3) + channel]) + (t * After[(row * 3) + channel]);
        }
    }
}
