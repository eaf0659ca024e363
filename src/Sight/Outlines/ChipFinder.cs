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
    public (IReadOnlyList<SeenChip> Chips, double[] DepthMm) Find(Point2[] line, Vector2[] inward, double pxMm)
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
        double noise = 1.4826 * clean.Select(Math.Abs).Order().ElementAt(n / 2);
        double least = Math.Max(LeastDepthMm, 5 * noise);
        var chips = new List<SeenChip>();
        double blur = 2.355 * sigmaPx * pxMm;
        for (int i = 0; i < n; i++)
        {
            if (clean[i] < least)
                continue;
            int top = i;
            int from = i;
            int to = i;
            while (to + 1 < n && clean[to + 1] > 0.25 * clean[top])
            {
                to++;
                if (clean[to] > clean[top])
                    top = to;
            }

            while (from > 0 && clean[from - 1] > 0.25 * clean[top])
                from--;
            double seenWidth = (to - from + 1) * ds;
            double width = Math.Sqrt(Math.Max(0.25 * seenWidth * seenWidth, (seenWidth * seenWidth) - (blur * blur)));
            double sharper = Math.Min(1.5, seenWidth / width);
            double length = line[^1].DistanceTo(line[0]);
            bool atEnd = from * ds < 0.8 || (n - 1 - to) * ds < 0.8;
            if (!atEnd && width < Math.Min(25, 0.3 * length) && seenWidth > 1.5 * pxMm)
                chips.Add(new(from, to, clean[top] * sharper, width, (from + to) / 2));
            i = to + 1;
        }

        return (chips, clean);
    }

    private static double[] Depths(float[,,] light, int n, int m, int outside, double dv, int half, double sigmaMm)
    {
        double[] depth = new double[n];
        float[,] steel = new float[m, 3];
        int stride = Math.Max(1, half / 8);
        int skip = (int)Math.Ceiling(0.8 * sigmaMm / dv); // the edge's own blur reaches in this far
        for (int i = 0; i < n; i++)
        {
            if (i % stride == 0)
                Steel(light, steel, i, n, m, half);
            double sum = 0;
            Span<float> paper = stackalloc float[3];
            for (int c = 0; c < 3; c++)
            {
                float p = 0;
                int count = Math.Max(1, outside / 2);
                for (int k = 0; k < count; k++)
                    p += light[i, k, c];
                paper[c] = p / count;
            }

            int dark = 0;
            for (int k = outside + skip; k < m; k++)
            {
                double dot = 0;
                double norm = 0;
                for (int c = 0; c < 3; c++)
                {
                    double d = paper[c] - steel[k, c];
                    dot += (light[i, k, c] - steel[k, c]) * d;
                    norm += d * d;
                }

                double w = norm < 0.006 ? 0 : Math.Clamp(dot / norm, -0.3, 1);
                sum += w * dv;
                dark = w < 0.15 ? dark + 1 : 0;
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
