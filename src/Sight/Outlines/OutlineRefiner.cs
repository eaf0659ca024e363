using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Draws a rough outline onto the outermost step of tone: the best path through steps along the outline's normals (dynamic programming, a step
/// that stands outside another counts against the inner one), then each place to a part of a pixel by a fitted blurred step.
/// </summary>
internal sealed class OutlineRefiner(PhotoSampler sampler, LensMap map, double sigmaPx)
{
    /// <summary>A step of this much (natural logarithm of the coded tone) counts in full. Chosen from trials, not derived.</summary>
    private const double FullStep = 0.15;

    /// <summary>How much a step further out counts against this one. Chosen, not derived.</summary>
    private const double OuterWeight = 0.8;

    /// <summary>Cost of a slope of one offset step per station. Chosen, not derived.</summary>
    private const double SlopeCost = 0.06;

    /// <summary>Height that the contact shadow's model takes: half a millimetre up or down moves the edge by a few hundredths. Chosen.</summary>
    private const double ShadowHeightMm = 1.0;

    /// <summary>A refined outline, closed, in mat millimetres.</summary>
    public RefinedOutline Refine(IReadOnlyList<Point2> roughMm)
    {
        double pxPerMm = map.PixelsPerMm(roughMm[roughMm.Count / 2]);
        double px = 1 / pxPerMm;
        Point2[] line = Contour.Smooth(Contour.Resample(roughMm, 0.4), 1.2);
        line = Contour.Resample(Path(line, px, outMm: 1.0, inMm: 2.8, alongPx: 2).Line, 0.3);
        line = Contour.Resample(Contour.Smooth(line, 2.0), 0.5 * px);
        Traced first = Path(line, px, outMm: 1.0, inMm: 1.2, alongPx: 1.2);
        line = Contour.Resample(Contour.Smooth(first.Line, 1.5), 0.5 * px);
        Traced second = Path(line, px, outMm: 0.8, inMm: 0.8, alongPx: 0.7);
        return SubPixel(line, second, px);
    }

    private Traced Path(Point2[] line, double px, double outMm, double inMm, double alongPx)
    {
        double dv = 0.3 * px;
        int n = line.Length;
        int outside = (int)Math.Ceiling(outMm / dv);
        int m = outside + (int)Math.Ceiling(inMm / dv) + 1;
        double ds = line[1].DistanceTo(line[0]);
        Vector2[] inward = Contour.Inward(line, Math.Max(1, (int)Math.Round(1.2 * px / ds)));
        int wide = (int)Math.Round(2.0 * Math.Max(1, sigmaPx) / 0.3);
        float[,] strength = Strengths(line, inward, dv, outside, m, wide, (int)Math.Round(alongPx * px / ds));
        int[] path = Best(strength, n, m, (int)(1.6 * wide), ds / dv);
        var result = new Point2[n];
        double[] v = new double[n];
        double[] s = new double[n];
        for (int i = 0; i < n; i++)
        {
            v[i] = (path[i] - outside) * dv;
            s[i] = strength[i, path[i]];
            result[i] = line[i] + (inward[i] * v[i]);
        }

        return new(result, inward, v, s);
    }

    private float[,] Strengths(Point2[] line, Vector2[] inward, double dv, int outside, int m, int wide, int along)
    {
        int n = line.Length;
        float[][,] tones = [new float[n, m + (2 * wide)], new float[n, m + (2 * wide)], new float[n, m + (2 * wide)]];
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < m + (2 * wide); k++)
            {
                var (b, g, r) = sampler.At(map.ToPhoto(line[i] + (inward[i] * ((k - wide - outside) * dv))));
                tones[0][i, k] = Tone(b);
                tones[1][i, k] = Tone(g);
                tones[2][i, k] = Tone(r);
            }
        }

        float[,] strength = new float[n, m];
        foreach (float[,] tone in tones)
        {
            float[,] sums = Sums(Along(tone, along));
            for (int i = 0; i < n; i++)
            {
                for (int k = 0; k < m; k++)
                {
                    float inner = sums[i, k + (2 * wide)] - sums[i, k + wide];
                    float outer = sums[i, k + wide] - sums[i, k];
                    strength[i, k] = Math.Max(strength[i, k], Math.Abs(inner - outer) / wide);
                }
            }
        }

        return strength;
    }

    private static float[,] Along(float[,] tone, int reach)
    {
        if (reach < 1)
            return tone;
        int n = tone.GetLength(0);
        int m = tone.GetLength(1);
        float[,] soft = new float[n, m];
        for (int k = 0; k < m; k++)
        {
            float sum = 0;
            for (int i = -reach; i <= reach; i++)
                sum += tone[Contour.Wrap(i, n), k];
            for (int i = 0; i < n; i++)
            {
                soft[i, k] = sum / ((2 * reach) + 1);
                sum += tone[Contour.Wrap(i + reach + 1, n), k] - tone[Contour.Wrap(i - reach, n), k];
            }
        }

        return soft;
    }

    private static float[,] Sums(float[,] tone)
    {
        int n = tone.GetLength(0);
        int m = tone.GetLength(1);
        float[,] sums = new float[n, m + 1];
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < m; k++)
                sums[i, k + 1] = sums[i, k] + tone[i, k];
        }

        return sums;
    }

    /// <summary>Roughly what the eye sees: the logarithm of a coded tone with a foot.</summary>
    private static float Tone(float linear) => MathF.Log(MathF.Pow(linear, 1 / 2.2f) + 0.05f);

    private static int[] Best(float[,] strength, int n, int m, int gap, double perStation)
    {
        int reach = Math.Max(1, (int)Math.Ceiling(1.5 * perStation));
        double[] best = new double[m];
        double[] next = new double[m];
        sbyte[,] from = new sbyte[n, m];
        for (int i = 0; i < n; i++)
        {
            double outer = 0;
            for (int k = 0; k < m; k++)
            {
                if (k - gap >= 0)
                    outer = Math.Max(outer, Math.Min(1, strength[i, k - gap] / FullStep));
                double gain = Math.Min(1, strength[i, k] / FullStep) + (0.15 * Math.Min(1, strength[i, k] / (4 * FullStep))) - (OuterWeight * outer);
                double top = double.NegativeInfinity;
                int step = 0;
                for (int d = -reach; d <= reach; d++)
                {
                    int j = k - d;
                    if (j < 0 || j >= m)
                        continue;
                    double value = best[j] - (SlopeCost * Math.Abs(d) / perStation);
                    if (value > top)
                        (top, step) = (value, d);
                }

                next[k] = top + gain;
                from[i, k] = (sbyte)step;
            }

            (best, next) = (next, best);
        }

        int[] path = new int[n];
        int at = Array.IndexOf(best, best.Max());
        for (int i = n - 1; i >= 0; i--)
        {
            path[i] = at;
            at = Math.Clamp(at - from[i, at], 0, m - 1);
        }

        return path;
    }

    private RefinedOutline SubPixel(Point2[] line, Traced traced, double px)
    {
        var step = new BlurredStep(sigmaPx, ShadowHeightMm / px);
        var points = new Point2[line.Length];
        double[] u = new double[line.Length];
        double[] contrast = new double[line.Length];
        for (int i = 0; i < line.Length; i++)
        {
            Vector2 inward = traced.Inward[i];
            Point2 at = line[i] + (inward * traced.OffsetMm[i]);
            Point2 atPx = map.ToPhoto(at);
            Point2 nextPx = map.ToPhoto(at + (inward * px));
            double scale = atPx.DistanceTo(nextPx) / px; // photo pixels per millimetre along this normal
            (double offsetPx, double uPx, double size) = step.Fit(o => sampler.At(map.ToPhoto(at + (inward * (o / scale)))));
            points[i] = at + (inward * (offsetPx / scale));
            u[i] = uPx / scale;
            contrast[i] = size;
        }

        return new(points, traced.Inward, u, contrast, px);
    }

    private sealed record Traced(Point2[] Line, Vector2[] Inward, double[] OffsetMm, double[] Strength);
}

/// <summary>An outline on the mat as seen.</summary>
/// <param name="Points">Closed, half a pixel apart.</param>
/// <param name="Inward">Unit normals toward the steel.</param>
/// <param name="UMm">Standard uncertainty of each place along its normal.</param>
/// <param name="Contrast">Size of each step, linear light.</param>
/// <param name="PixelMm">Size of a pixel on the mat.</param>
internal sealed record RefinedOutline(Point2[] Points, Vector2[] Inward, double[] UMm, double[] Contrast, double PixelMm);
