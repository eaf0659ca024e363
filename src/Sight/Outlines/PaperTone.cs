using OpenCvSharp;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The tone of the bare paper over the whole mat as lamps and lens leave it: a smooth surface through the tones of small blocks, what lies on the
/// mat left out as outliers. Nothing on paper makes it brighter, so what is brighter than this surface is a thing, whatever its rim looks like.
/// </summary>
internal static class PaperTone
{
    private const int BlockCells = 20;
    private const int Degree = 4;

    /// <summary>Brighter than the paper by this (natural logarithm) is no paper: a step of 5 %. Chosen: three times what the surface misses.</summary>
    private const double Brighter = 0.05;

    /// <summary>Darker than this no lamp's shadow is that paper still shows gently. Chosen.</summary>
    private const double Darker = 0.55;

    /// <summary>A thing's rim is a step along at least this share of it; a pool of light between shadows fades. Chosen.</summary>
    private const double LeastRim = 0.35;

    /// <summary>The bare paper's tone at every cell, three channels; null where too little paper is seen. Belongs to the caller.</summary>
    public static Mat? Level(Mat tones, Mat valid)
    {
        if (Fit(tones, valid) is not { } level)
            return null;

        // A smooth surface: every eighth cell, the rest between.
        const int coarse = 8;
        int columns = (tones.Width + coarse - 1) / coarse;
        int rows = (tones.Rows + coarse - 1) / coarse;
        using var small = new Mat(rows, columns, MatType.CV_32FC3);
        var values = new Vec3f[rows * columns];
        for (int i = 0; i < values.Length; i++)
        {
            double[] basis = Basis((2.0 * ((i % columns) + 0.5) / columns) - 1, (2.0 * ((i / columns) + 0.5) / rows) - 1);
            values[i] = new((float)At(level[0], basis), (float)At(level[1], basis), (float)At(level[2], basis));
        }

        small.SetArray(values);
        var whole = new Mat();
        Cv2.Resize(small, whole, tones.Size(), 0, 0, InterpolationFlags.Linear);
        return whole;
    }

    /// <summary>Takes from the paper what is brighter than paper can be, or darker than a shadow, and has a rim.</summary>
    public static void Claim(Mat paper, Mat tones, Mat valid, Mat gradient, Mat level)
    {
        using Mat off = new();
        Cv2.Subtract(tones, level, off);
        off.GetArray(out Vec3f[] tone);
        valid.GetArray(out byte[] inside);
        byte[] other = new byte[tone.Length];
        for (int i = 0; i < tone.Length; i++)
        {
            if (inside[i] == 0)
                continue;
            float least = Math.Min(tone[i].Item0, Math.Min(tone[i].Item1, tone[i].Item2));
            float most = Math.Max(tone[i].Item0, Math.Max(tone[i].Item1, tone[i].Item2));
            if ((most > Brighter && least > -Brighter) || most < -Darker)
                other[i] = 255;
        }

        using Mat claimed = new(tones.Size(), MatType.CV_8UC1);
        claimed.SetArray(other);
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(5, 5));
        Cv2.MorphologyEx(claimed, claimed, MorphTypes.Open, disc);
        DropPools(claimed, gradient);
        using Mat rest = new();
        Cv2.BitwiseNot(claimed, rest);
        Cv2.BitwiseAnd(paper, rest, paper);
    }

    private static void DropPools(Mat claimed, Mat gradient)
    {
        using Mat steep = new();
        Cv2.Threshold(gradient, steep, MatField.LeastBarrier, 255, ThresholdTypes.Binary);
        steep.ConvertTo(steep, MatType.CV_8UC1);
        using Mat near = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(7, 7));
        Cv2.Dilate(steep, steep, near);
        steep.GetArray(out byte[] step);
        int columns = claimed.Width;
        Cv2.FindContours(claimed, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        foreach (Point[] outline in outlines)
        {
            if (outline.Count(p => step[(p.Y * columns) + p.X] != 0) < LeastRim * outline.Length)
                Cv2.DrawContours(claimed, [outline], -1, Scalar.All(0), -1);
        }
    }

    /// <summary>Coefficients for each channel; null where too little paper is seen.</summary>
    private static double[][]? Fit(Mat tones, Mat valid)
    {
        tones.GetArray(out Vec3f[] tone);
        valid.GetArray(out byte[] inside);
        int columns = tones.Width;
        int rows = tones.Height;
        var blocks = new List<(double[] Basis, double[] Tone)>();
        var values = new List<float>[] { [], [], [] };
        for (int row = 0; row + BlockCells <= rows; row += BlockCells)
        {
            for (int column = 0; column + BlockCells <= columns; column += BlockCells)
            {
                foreach (List<float> v in values)
                    v.Clear();
                for (int r = row; r < row + BlockCells; r += 2)
                {
                    for (int c = column; c < column + BlockCells; c += 2)
                    {
                        int at = (r * columns) + c;
                        if (inside[at] == 0)
                            continue;
                        for (int k = 0; k < 3; k++)
                            values[k].Add(tone[at][k]);
                    }
                }

                if (values[0].Count < BlockCells * BlockCells / 8)
                    continue;
                double x = (2.0 * (column + (BlockCells / 2.0)) / columns) - 1;
                double y = (2.0 * (row + (BlockCells / 2.0)) / rows) - 1;
                blocks.Add((Basis(x, y), [.. values.Select(v => (double)v.Order().ElementAt(v.Count / 2))]));
            }
        }

        return blocks.Count < 60 ? null : [Surface(blocks, 0), Surface(blocks, 1), Surface(blocks, 2)];
    }

    // Tukey's weights, the cut drawn in pass by pass.
    private static double[] Surface(List<(double[] Basis, double[] Tone)> blocks, int channel)
    {
        int terms = blocks[0].Basis.Length;
        double middle = blocks.Select(b => b.Tone[channel]).Order().ElementAt(blocks.Count / 2);
        double[] p = new double[terms];
        p[0] = middle;
        foreach (double cut in new[] { 0.5, 0.35, 0.25, 0.18, 0.12, 0.1, 0.08, 0.08, 0.08 })
        {
            double[,] a = new double[terms, terms];
            double[] b = new double[terms];
            for (int i = 0; i < terms; i++)
                a[i, i] = i == 0 ? 1e-6 : 0.3;
            foreach ((double[] basis, double[] tone) in blocks)
            {
                double r = tone[channel] - At(p, basis);
                double q = 1 - (r * r / (cut * cut));
                if (q <= 0)
                    continue;
                double w = q * q;
                for (int i = 0; i < terms; i++)
                {
                    b[i] += w * basis[i] * (tone[channel] - middle);
                    for (int j = 0; j < terms; j++)
                        a[i, j] += w * basis[i] * basis[j];
                }
            }

            double[,]? inverse = LeastSquares.Invert(a);
            if (inverse is null)
                return p;
            double[] next = new double[terms];
            for (int i = 0; i < terms; i++)
            {
                for (int j = 0; j < terms; j++)
                    next[i] += inverse[i, j] * b[j];
            }

            next[0] += middle;
            p = next;
        }

        return p;
    }

    private static double At(double[] p, double[] basis)
    {
        double sum = 0;
        for (int i = 0; i < p.Length; i++)
            sum += p[i] * basis[i];
        return sum;
    }

    private static double[] Basis(double x, double y)
    {
        double[] basis = new double[(Degree + 1) * (Degree + 2) / 2];
        int k = 0;
        double px = 1;
        for (int i = 0; i <= Degree; i++)
        {
            double py = 1;
            for (int j = 0; i + j <= Degree; j++)
            {
                basis[k++] = px * py;
                py *= y;
            }

            px *= x;
        }

        return basis;
    }
}
