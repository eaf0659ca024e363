using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>A run along the edge where paper shows inside the smooth line.</summary>
/// <param name="From">First station.</param>
/// <param name="To">Last station.</param>
/// <param name="DepthMm">Greatest depth, blur taken out.</param>
/// <param name="WidthMm">Width at a quarter of the depth.</param>
/// <param name="Middle">Station of the middle.</param>
internal sealed record SeenChip(int From, int To, double DepthMm, double WidthMm, int Middle);

/// <summary>
/// Finds chips by how much paper shows inside the smooth edge: at each station the light between paper's tone and the tone that the steel has
/// there along the edge (a running median at each depth) is summed over depth. An area outlasts blur, where a threshold's depth does not.
/// </summary>
internal sealed class ChipFinder(PhotoSampler sampler, LensMap map, double sigmaPx)
{
    /// <summary>Shallower than this is not called a chip. Chosen: half a millimetre must be found after blur.</summary>
    private const double LeastDepthMm = 0.25;

    private const double DeepestMm = 4;
    private const double OutMm = 1.0;
    private const double HalfWindowMm = 7;

    /// <summary>Chips along a line of evenly spaced stations, with the depth of paper at each.</summary>
    public (IReadOnlyList<SeenChip> Chips, double[] DepthMm) Find(Point2[] line, Vector2[] inward, double pxMm, double[] stepMm)
    {
        int n = line.Length;
        double dv = 0.4 * pxMm;
        int outside = (int)(OutMm / dv);
        int m = outside + (int)(DeepestMm / dv) + 1;
        double ds = line[0].DistanceTo(line[1]);
        float[,,] light = new float[n, m, 3];
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < m; k++)
            {
                var (b, g, r) = sampler.At(map.ToPhoto(line[i] + (inward[i] * ((k - outside) * dv))));
                (light[i, k, 0], light[i, k, 1], light[i, k, 2]) = (b, g, r);
            }
        }

        double[] depth = Depths(light, n, m, outside, dv, (int)(HalfWindowMm / ds), sigmaPx * pxMm);
        double[] clean = TakeOutBaseline(depth, (int)(HalfWindowMm / ds));
        double[] step = TakeOutBaseline(stepMm, (int)(HalfWindowMm / ds));
        double[] both = MedianOfFive([.. clean.Zip(step, (a, b) => Math.Max(a, b))]);
        double noiseOfPaper = 1.4826 * clean.Select(Math.Abs).Order().ElementAt(n / 2);
        double noiseOfStep = 1.4826 * step.Select(Math.Abs).Order().ElementAt(n / 2);
        double least = Math.Max(LeastDepthMm, 4 * Math.Min(noiseOfPaper, noiseOfStep));
        var chips = new List<SeenChip>();
        double blur = 2.355 * sigmaPx * pxMm;
        double length = line[^1].DistanceTo(line[0]);
        for (int i = 0; i < n; i++)
        {
            bool plain = both[i] >= least;
            bool agreed = clean[i] >= Math.Max(0.1, 4 * noiseOfPaper) && step[i] >= 0.15;
            if (!plain && !agreed)
                continue;
            int top = i;
            int from = i;
            int to = i;
            while (to + 1 < n && both[to + 1] > 0.25 * both[top])
            {
                to++;
                if (both[to] > both[top])
                    top = to;
            }

            while (from > 0 && both[from - 1] > 0.25 * both[top] && (chips.Count == 0 || from - 1 > chips[^1].To))
                from--;
            double seenWidth = (to - from + 1) * ds;
            double width = Math.Sqrt(Math.Max(0.25 * seenWidth * seenWidth, (seenWidth * seenWidth) - (blur * blur)));
            double sharper = Math.Min(1.5, seenWidth / width);
            bool atEnd = from * ds < 0.8 || (n - 1 - to) * ds < 0.8;
            double paper = Mean(clean, from, to);
            double fallsBack = Mean(step, from, to);

            // Both witnesses must see it: paper where steel should be, and a step that has moved inward.
            bool witnessed = paper > 0.06 + (2 * noiseOfPaper / Math.Sqrt(to - from + 1)) && fallsBack > 0.06;
            bool remainder = chips.Count > 0 && (from - chips[^1].To) * ds < 0.5;
            double deep = both[top] * sharper;
            bool shaped = deep > 0.35 || deep > 0.18 * width; // a shallow, wide hollow is the smooth line's own error
            if (!atEnd && !remainder && witnessed && shaped && width < Math.Min(25, 0.3 * length) && seenWidth > Math.Max(0.35, 2 * pxMm))
                chips.Add(new(from, to, deep, width, (from + to) / 2));
            i = to + 1;
        }

        return (chips, both);
    }

    private static double Mean(double[] v, int from, int to)
    {
        double sum = 0;
        for (int i = from; i <= to; i++)
            sum += v[i];
        return sum / (to - from + 1);
    }

    private static double[] Depths(float[,,] light, int n, int m, int outside, double dv, int half, double sigmaMm)
    {
        double[] depth = new double[n];
        float[,] steel = new float[m, 3];
        int stride = Math.Max(1, half / 8);
        Span<float> paper = stackalloc float[3];
        int blur = (int)Math.Ceiling(sigmaMm / dv);
        int deep = Math.Min(m - 1, outside + Math.Max(2 * blur, (int)(0.4 / dv)));
        for (int i = 0; i < n; i++)
        {
            if (i % stride == 0)
                Steel(light, steel, i, n, m, half);
            double sum = 0;
            for (int c = 0; c < 3; c++)
            {
                float p = 0;
                int count = Math.Max(1, outside / 2);
                for (int k = 0; k < count; k++)
                    p += light[i, k, c];
                paper[c] = p / count;
            }

            int dark = 0;
            for (int k = outside - blur; k < m; k++)
            {
                double dot = 0;
                double norm = 0;
                for (int c = 0; c < 3; c++)
                {
                    double d = paper[c] - steel[Math.Max(k, deep), c];
                    dot += (light[i, k, c] - steel[k, c]) * d;
                    norm += d * d;
                }

                double w = norm < 0.006 ? 0 : Math.Clamp(dot / norm, -0.3, 1);
                sum += w * dv;
                dark = w < 0.12 && k > outside + blur ? dark + 1 : 0;
                if (dark * dv > 0.4)
                    break; // paper must hang together from the edge inward
            }

            depth[i] = sum;
        }

        return depth;
    }

    private static void Steel(float[,,] light, float[,] steel, int at, int n, int m, int half)
    {
        int from = Math.Max(0, at - half);
        int to = Math.Min(n - 1, at + half);
        int step = Math.Max(1, (to - from) / 40);
        var values = new List<float>();
        for (int k = 0; k < m; k++)
        {
            for (int c = 0; c < 3; c++)
            {
                values.Clear();
                for (int i = from; i <= to; i += step)
                    values.Add(light[i, k, c]);
                values.Sort();
                steel[k, c] = values[values.Count / 2];
            }
        }
    }

    private static double[] MedianOfFive(double[] v)
    {
        double[] soft = new double[v.Length];
        double[] five = new double[5];
        for (int i = 0; i < v.Length; i++)
        {
            for (int k = -2; k <= 2; k++)
                five[k + 2] = v[Math.Clamp(i + k, 0, v.Length - 1)];
            Array.Sort(five);
            soft[i] = five[2];
        }

        return soft;
    }

    private static double[] TakeOutBaseline(double[] depth, int half)
    {
        double[] clean = new double[depth.Length];
        double baseline = 0;
        for (int i = 0; i < depth.Length; i++)
        {
            if (i % 8 == 0)
            {
                int from = Math.Max(0, i - half);
                int to = Math.Min(depth.Length - 1, i + half);
                double[] window = depth[from..(to + 1)];
                Array.Sort(window);
                baseline = window[window.Length / 2];
            }

            clean[i] = depth[i] - baseline;
        }

        return clean;
    }
}
