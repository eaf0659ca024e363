namespace Whetwright.Sight.Outlines;

/// <summary>
/// Finds the light of a whole edge and, with it, where the steel begins in each section: tones of open paper, bevel and flank are solved in each
/// section and channel, the edge's places by dynamic programming (neighbours lie near each other), the light by a pattern search.
/// </summary>
internal sealed class EdgeLightFit
{
    /// <summary>How far outside and inside the line the edge is looked for.</summary>
    private const double OutermostMm = -0.8;
    private const double InnermostMm = 1.6;

    /// <summary>Misfit that no model of ours gets below, as a share of the paper's light. Chosen.</summary>
    private const double Floor = 0.012;

    /// <summary>Neighbouring sections, 2 mm apart, differ by this. Chosen.</summary>
    private const double NeighbourMm = 0.04;

    /// <summary>Light that the camera no longer tells apart, and what it still counts. Chosen.</summary>
    private const double Full = 0.95;
    private const double OfFull = 0.05;

    /// <summary>What four more numbers must be worth in all. Chosen from trials.</summary>
    private const double LampMustGain = 24;

    /// <summary>What is known beforehand counts this often: sections that miss the model miss it alike. Chosen.</summary>
    private const double PriorCounts = 3;

    private const double FarthestSigma2 = 6;

    private readonly IReadOnlyList<EdgeProfile> _profiles;
    private readonly double _blurMm;
    private readonly double _looks;

    public EdgeLightFit(IReadOnlyList<EdgeProfile> profiles, double blurMm, double pixelMm)
    {
        _profiles = profiles;
        _blurMm = Math.Max(blurMm, 0.4 * pixelMm);
        _looks = 3.0 / Math.Max(pixelMm, 1.5 * _blurMm);
    }

    /// <summary>Places of the steel, inward from the line, with what each costs and how sharply.</summary>
    public sealed record Places(double[] InwardMm, double[] Cost, double[] Curvature, double Total);

    /// <summary>The light that fits best, and the edge's places under it.</summary>
    /// <param name="helds">Lines from which to begin too: the light is fitted with the edge held there, then let go.</param>
    /// <param name="begin">Where to begin from an earlier pass.</param>
    public (EdgeLight Light, Places Places) Find(IReadOnlyList<double[]> helds, EdgeLight? begin = null)
    {
        int every = Math.Max(1, _profiles.Count / 36);
        var few = new Grid([.. _profiles.Where((_, i) => i % every == 0)], 2, true, this);
        double Cost(EdgeLight? light) => light is null ? double.PositiveInfinity : few.Solve(light).Total + Beforehand(light);
        var starts = new List<(EdgeLight Light, double Cost)>();
        if (begin is not null)
        {
            starts.Add((begin, Cost(begin)));
        }
        else
        {
            foreach (double bevel in new[] { 0.25, 0.45, 0.75, 1.2 })
            {
                foreach (EdgeLamp[] lamps in new EdgeLamp[][] { [], [new(0.25, 0.25, 0, 0.12)], [new(0.25, 0.6, 0, 0.12)] })
                {
                    foreach (double z in new[] { 0.6, 1.2, 2.5 })
                    {
                        EdgeLight light = EdgeLight.Usual with { BevelMm = bevel, HeelMm = z, TipMm = Math.Min(z, OutlineBudget.TipHeightMm), Lamps = lamps };
                        starts.Add((light, Cost(light)));
                    }
                }
            }
        }

        foreach (double[] held in helds)
        {
            double[] some = [.. held.Where((_, i) => i % every == 0)];
            EdgeLight light = Grow([.. new[] { 0.3, 0.6, 1.1 }.Select(b => EdgeLight.Usual with { BevelMm = b })], l => l is null ? double.PositiveInfinity : few.At(l, some) + Beforehand(l)).Light;
            starts.Add((light, Cost(light)));
        }

        EdgeLight best = Grow([.. starts.OrderBy(s => s.Cost).Take(5).Select(s => s.Light)], Cost).Light;
        return (best, new Grid(_profiles, 1, false, this).Solve(best));
    }

    // Each start is searched; the best gets lamps as long as they are worth it.
    private static (EdgeLight Light, double Cost) Grow(IReadOnlyList<EdgeLight> starts, Func<EdgeLight?, double> cost)
    {
        (EdgeLight best, double least) = starts.Select(s => Search(s, cost(s), cost, 6)).MinBy(s => s.Cost);
        (best, least) = Search(best, least, cost, 8);
        while (best.Lamps.Count < 2)
        {
            EdgeLight with = best;
            double now = double.PositiveInfinity;
            foreach (double share in new[] { 0.15, 0.35 })
            {
                foreach (double lean in new[] { 0.1, 0.25, 0.45, 0.7, 1.0 })
                {
                    EdgeLamp lamp = new(share, lean, 0, 0.12);
                    Take(best with { Lamps = [.. best.Lamps, lamp], Sky = Math.Min(best.Sky, 0.9 - share) }, cost, ref with, ref now);
                }
            }

            (with, now) = Search(with, now, cost, 8);
            if (now > least - LampMustGain)
                break;
            (best, least) = (with, now);
        }

        return (best, least);
    }

    /// <summary>What all sections cost under the light that suits an edge held where it is told.</summary>
    public double Held(double[] inwardMm, EdgeLight from)
    {
        var grid = new Grid(_profiles, 1, false, this);
        double Cost(EdgeLight? l) => l is null ? double.PositiveInfinity : grid.At(l, inwardMm) + Beforehand(l);
        EdgeLight light = Search(from, Cost(from), Cost, 4).Light;
        return grid.At(light, inwardMm);
    }

    private static double Beforehand(EdgeLight light) => PriorCounts * light.Prior();

    private static void Take(EdgeLight light, Func<EdgeLight?, double> cost, ref EdgeLight best, ref double least)
    {
        double c = cost(light);
        if (c < least)
            (best, least) = (light, c);
    }

    private static (EdgeLight Light, double Cost) Search(EdgeLight from, double least, Func<EdgeLight?, double> cost, int rounds)
    {
        double[] p = from.ToRow();
        double[] step = EdgeLight.Steps(p.Length);
        EdgeLight best = from;
        for (int round = 0; round < rounds; round++)
        {
            double before = least;
            for (int k = 0; k < p.Length; k++)
            {
                bool better = false;
                foreach (int sign in new[] { 1, -1 })
                {
                    double[] q = [.. p];
                    q[k] += sign * step[k];
                    EdgeLight? light = EdgeLight.FromRow(q);
                    double c = cost(light);
                    if (c < least)
                    {
                        (p, least, best, better) = (q, c, light!, true);
                        break;
                    }
                }

                step[k] *= better ? 1.3 : 0.5;
            }

            if (before - least < 0.3 && round > 3)
                break;
        }

        return (best, least);
    }

    /// <summary>Sections as they are solved: all channels or their sum, all samples or every other.</summary>
    private sealed class Grid
    {
        private readonly IReadOnlyList<EdgeProfile> _profiles;
        private readonly EdgeLightFit _fit;
        private readonly double _step;
        private readonly double[][][] _light;
        private readonly double[] _level;
        private readonly double[][] _weight;
        private readonly double _all;
        private readonly int _places;
        private readonly int _samples;

        public Grid(IReadOnlyList<EdgeProfile> profiles, int stride, bool summed, EdgeLightFit fit)
        {
            (_profiles, _fit, _step) = (profiles, fit, stride * EdgeProfile.StepMm);
            _samples = ((EdgeProfile.Count - 1) / stride) + 1;
            _places = (int)Math.Round((InnermostMm - OutermostMm) / _step) + 1;
            _light = [.. profiles.Select(p => summed
                ? new[] { Enumerable.Range(0, _samples).Select(k => (p.Light[0][k * stride] + p.Light[1][k * stride] + p.Light[2][k * stride]) / 3).ToArray() }
                : [.. p.Light.Select(c => Enumerable.Range(0, _samples).Select(k => c[k * stride]).ToArray())])];
            _level = [.. Enumerable.Range(0, _light[0].Length).Select(c => Math.Max(0.02, _light.Select(s => s[c].Take(_samples / 3).Max()).Order().ElementAt(_light.Length / 2)))];
            _weight = [.. profiles.Select(p => Enumerable.Range(0, _samples).Select(k => Weight(EdgeProfile.FromMm + (k * _step)) * (p.Light.Any(c => c[k * stride] > Full) ? OfFull : 1)).ToArray())];
            _all = Enumerable.Range(0, _samples).Sum(k => Weight(EdgeProfile.FromMm + (k * _step)));
        }

        // Far from the edge other things are seen than the model knows of.
        private static double Weight(double v) => v > 1 ? Math.Exp(-Math.Pow((v - 1) / 0.8, 2)) : v < -1.6 ? Math.Exp(-Math.Pow((v + 1.6) / 0.9, 2)) : 1;

        public Places Solve(EdgeLight light)
        {
            int n = _profiles.Count;
            double[,] cost = Costs(light);
            double spacing = n > 1 ? _profiles[1].AtMm - _profiles[0].AtMm : 2;
            double scale = _step / (NeighbourMm * Math.Sqrt(spacing / 2));
            int[,] from = new int[n, _places];
            double[] best = new double[_places];
            double[] next = new double[_places];
            for (int i = 0; i < n; i++)
            {
                double least = best.Min();
                for (int k = 0; k < _places; k++)
                {
                    double top = double.PositiveInfinity;
                    int reach = Math.Min(_places, (int)(2.5 / scale) + 1);
                    for (int j = Math.Max(0, k - reach); j <= Math.Min(_places - 1, k + reach); j++)
                    {
                        double d = scale * (k - j);
                        double c = best[j] + Math.Min(d * d, FarthestSigma2);
                        if (c < top)
                            (top, from[i, k]) = (c, j);
                    }

                    if (least + FarthestSigma2 < top)
                        (top, from[i, k]) = (least + FarthestSigma2, Array.IndexOf(best, least));
                    next[k] = top + cost[i, k];
                }

                (best, next) = (next, best);
            }

            double total = best.Min();
            int at = Array.IndexOf(best, total);
            double[] inward = new double[n];
            double[] own = new double[n];
            double[] curvature = new double[n];
            for (int i = n - 1; i >= 0; i--)
            {
                own[i] = cost[i, at];
                inward[i] = OutermostMm + (at * _step);
                if (at > 0 && at < _places - 1)
                {
                    double bend = cost[i, at - 1] - (2 * cost[i, at]) + cost[i, at + 1];
                    if (bend > 0)
                        inward[i] += _step * Math.Clamp((cost[i, at - 1] - cost[i, at + 1]) / (2 * bend), -0.7, 0.7);
                    curvature[i] = Math.Max(0, bend) / (_step * _step);
                }

                at = from[i, at];
            }

            return new(inward, own, curvature, total);
        }

        /// <summary>Sum over the sections with the edge held.</summary>
        public double At(EdgeLight light, double[] inwardMm)
        {
            double[,] cost = Costs(light, i => (int)Math.Clamp((inwardMm[i] - OutermostMm) / _step, 0, _places - 1.001));
            double sum = 0;
            for (int i = 0; i < _profiles.Count; i++)
            {
                double k = Math.Clamp((inwardMm[i] - OutermostMm) / _step, 0, _places - 1.001);
                int j = (int)k;
                sum += cost[i, j] + ((k - j) * (cost[i, j + 1] - cost[i, j]));
            }

            return sum;
        }

        private double[,] Costs(EdgeLight light, Func<int, int>? only = null)
        {
            int n = _profiles.Count;
            double[,] cost = new double[n, _places];
            int length = _samples + _places - 1;
            Span<double> paper = stackalloc double[length];
            Span<double> bevel = stackalloc double[length];
            Span<double> flank = stackalloc double[length];
            for (int i = 0; i < n; i++)
            {
                EdgeProfile p = _profiles[i];
                light.Fill(paper, bevel, flank, EdgeProfile.FromMm - InnermostMm, _step, p.Share, p.TurnRad, _fit._blurMm);
                int first = only?.Invoke(i) ?? 0;
                int last = only is null ? _places - 1 : first + 1;
                for (int k = first; k <= last; k++)
                {
                    // The edge at OutermostMm + k·step: sample j lies FromMm + j·step − that behind it.
                    int shift = _places - 1 - k;
                    cost[i, k] = Section(_light[i], _weight[i], paper.Slice(shift, _samples), bevel.Slice(shift, _samples), flank.Slice(shift, _samples));
                }
            }

            return cost;
        }

        private double Section(double[][] light, double[] w, ReadOnlySpan<double> p, ReadOnlySpan<double> q, ReadOnlySpan<double> r)
        {
            (double pp, double pq, double pr, double qq, double qr, double rr) = (1e-9, 0, 0, 1e-9, 0, 1e-9);
            for (int k = 0; k < p.Length; k++)
            {
                (double wp, double wq) = (w[k] * p[k], w[k] * q[k]);
                pp += wp * p[k];
                pq += wp * q[k];
                pr += wp * r[k];
                qq += wq * q[k];
                qr += wq * r[k];
                rr += w[k] * r[k] * r[k];
            }

            double misfit = 0;
            for (int c = 0; c < light.Length; c++)
            {
                double[] s = light[c];
                (double bp, double bq, double br, double ss) = (0, 0, 0, 0);
                for (int k = 0; k < p.Length; k++)
                {
                    double y = w[k] * s[k];
                    bp += y * p[k];
                    bq += y * q[k];
                    br += y * r[k];
                    ss += y * s[k];
                }

                // A bevel's tone is not far from the flank's unless the photo says so: the paper's light, one look.
                double tie = 0.002 * _all;
                (double a, double b, double d) = Solve3(pp, pq, pr, qq + tie, qr - tie, rr + tie, bp, bq, br);
                const double top = 3; // beyond what the camera tells apart
                if (b < 0 || b > top)
                {
                    b = b < 0 ? 0 : top;
                    (a, d) = Solve2(pp, pr, rr + tie, bp - (b * pq), br - (b * (qr - tie)));
                }

                a = Math.Max(a, 0.25 * _level[c]);
                d = Math.Max(d, 0);
                double rss = ss - (2 * ((a * bp) + (b * bq) + (d * br))) + (a * a * pp) + (b * b * qq) + (d * d * rr) + (2 * ((a * b * pq) + (a * d * pr) + (b * d * qr)));
                misfit += (rss + (tie * (b - d) * (b - d) * 0.02)) / (_level[c] * _level[c]);
            }

            return _fit._looks * Math.Log(1 + (Math.Max(0, misfit) / (light.Length * _all * Floor * Floor)));
        }

        private static (double, double) Solve2(double a, double b, double d, double x, double y)
        {
            double det = (a * d) - (b * b);
            return (((d * x) - (b * y)) / det, ((a * y) - (b * x)) / det);
        }

        private static (double, double, double) Solve3(double m00, double m01, double m02, double m11, double m12, double m22, double b0, double b1, double b2)
        {
            double c00 = (m11 * m22) - (m12 * m12);
            double c01 = (m02 * m12) - (m01 * m22);
            double c02 = (m01 * m12) - (m02 * m11);
            double c11 = (m00 * m22) - (m02 * m02);
            double c12 = (m01 * m02) - (m00 * m12);
            double c22 = (m00 * m11) - (m01 * m01);
            double det = (m00 * c00) + (m01 * c01) + (m02 * c02);
            return (((c00 * b0) + (c01 * b1) + (c02 * b2)) / det, ((c01 * b0) + (c11 * b1) + (c12 * b2)) / det, ((c02 * b0) + (c12 * b1) + (c22 * b2)) / det);
        }
    }
}
