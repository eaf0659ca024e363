using System.Numerics;
using System.Runtime.InteropServices;

namespace Whetwright.Sight.Outlines;

/// <summary>The sections as they are solved.</summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>Sections as they are solved: all channels or their sum, all samples or every other.</summary>
    private sealed class Grid
    {
        private readonly IReadOnlyList<EdgeProfile> _profiles;
        private readonly EdgeLightFit _fit;
        private readonly double _step;
        private readonly double[][][] _weighed;
        private readonly double[][] _squares;
        private readonly double[] _level;
        private readonly double[][] _weight;
        private readonly double _all;
        private readonly int _places;
        private readonly int _samples;
        private readonly int _padded;

        public Grid(IReadOnlyList<EdgeProfile> profiles, int stride, bool summed, EdgeLightFit fit)
        {
            (_profiles, _fit, _step) = (profiles, fit, stride * EdgeProfile.StepMm);
            _samples = ((EdgeProfile.Count - 1) / stride) + 1;
            _places = (int)Math.Round((InnermostMm - OutermostMm) / _step) + 1;
            double[][][] light = [.. profiles.Select(p => summed
                ? new[] { Enumerable.Range(0, _samples).Select(k => (p.Light[0][k * stride] + p.Light[1][k * stride] + p.Light[2][k * stride]) / 3).ToArray() }
                : [.. p.Light.Select(c => Enumerable.Range(0, _samples).Select(k => c[k * stride]).ToArray())])];
            _level = [.. Enumerable.Range(0, light[0].Length).Select(c => Math.Max(0.02, light.Select(s => s[c].Take(_samples / 3).Max()).Order().ElementAt(light.Length / 2)))];

            // Filled up with samples of no weight, so that sums run over whole vectors.
            _padded = (_samples + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;
            double[] Padded(IEnumerable<double> v) => [.. v, .. new double[_padded - _samples]];
            _weight = [.. profiles.Select(p => Padded(Enumerable.Range(0, _samples).Select(k => Weight(EdgeProfile.FromMm + (k * _step)) * (p.Light.Any(c => c[k * stride] > Full) ? OfFull : 1))))];
            _weighed = [.. light.Select((s, i) => s.Select(c => Padded(c.Select((v, k) => v * _weight[i][k]))).ToArray())];
            _squares = [.. light.Select((s, i) => s.Select(c => c.Select((v, k) => v * v * _weight[i][k]).Sum()).ToArray())];
            _all = Enumerable.Range(0, _samples).Sum(k => Weight(EdgeProfile.FromMm + (k * _step)));
        }

        // Far from the edge other things are seen than the model knows of.
        private static double Weight(double v) => v > InsideMm ? Math.Exp(-Math.Pow((v - InsideMm) / 0.8, 2)) : v < -1.6 ? Math.Exp(-Math.Pow((v + 1.6) / 0.9, 2)) : 1;

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

        public int Count => _profiles.Count;

        /// <summary>Where along the edge a section lies, as a share from heel to tip.</summary>
        public double Share(int section) => _profiles[section].Share;

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
            int length = _padded + _places - 1;
            Span<double> paper = stackalloc double[length];
            Span<double> bevel = stackalloc double[length];
            Span<double> flank = stackalloc double[length];
            Span<double> shoulder = stackalloc double[length];
            for (int i = 0; i < n; i++)
            {
                int first = only?.Invoke(i) ?? 0;
                int last = only is null ? _places - 1 : first + 1;
                int skip = _places - 1 - last; // what only edges further in need
                int need = _padded + last - first;
                light.Fill(paper.Slice(skip, need), bevel.Slice(skip, need), flank.Slice(skip, need), shoulder.Slice(skip, need), EdgeProfile.FromMm - InnermostMm + (skip * _step), _step, _profiles[i], _fit._blurMm);
                for (int k = first; k <= last; k++)
                {
                    // The edge at OutermostMm + k·step: sample j lies FromMm + j·step − that behind it.
                    int shift = _places - 1 - k;
                    cost[i, k] = Section(i, paper.Slice(shift, _padded), bevel.Slice(shift, _padded), flank.Slice(shift, _padded), shoulder.Slice(shift, _padded));
                }
            }

            return cost;
        }

        private double Section(int section, ReadOnlySpan<double> paper, ReadOnlySpan<double> bevel, ReadOnlySpan<double> flank, ReadOnlySpan<double> shoulder)
        {
            ReadOnlySpan<Vector<double>> w = MemoryMarshal.Cast<double, Vector<double>>(_weight[section]);
            ReadOnlySpan<Vector<double>> p = MemoryMarshal.Cast<double, Vector<double>>(paper);
            ReadOnlySpan<Vector<double>> q = MemoryMarshal.Cast<double, Vector<double>>(bevel);
            ReadOnlySpan<Vector<double>> r = MemoryMarshal.Cast<double, Vector<double>>(flank);
            ReadOnlySpan<Vector<double>> g = MemoryMarshal.Cast<double, Vector<double>>(shoulder);
            Vector<double> vpp = default, vpq = default, vpr = default, vqq = default, vqr = default, vrr = default, vgp = default, vgq = default, vgr = default, vgg = default;
            for (int k = 0; k < w.Length; k++)
            {
                Vector<double> wp = w[k] * p[k];
                Vector<double> wq = w[k] * q[k];
                Vector<double> wg = w[k] * g[k];
                vpp += wp * p[k];
                vpq += wp * q[k];
                vpr += wp * r[k];
                vqq += wq * q[k];
                vqr += wq * r[k];
                vrr += w[k] * r[k] * r[k];
                vgp += wg * p[k];
                vgq += wg * q[k];
                vgr += wg * r[k];
                vgg += wg * g[k];
            }

            const double least = 1e-9;
            (double pp, double pq, double pr, double qq, double qr, double rr) = (least + Vector.Sum(vpp), Vector.Sum(vpq), Vector.Sum(vpr), least + Vector.Sum(vqq), Vector.Sum(vqr), least + Vector.Sum(vrr));
            (double gp, double gq, double gr, double gg) = (Vector.Sum(vgp), Vector.Sum(vgq), Vector.Sum(vgr), least + Vector.Sum(vgg));

            // A bevel's tone is not far from the flank's, and its shoulder does not shine, unless the photo says so: the paper's light, one look.
            double tie = 0.002 * _all;
            var tones = new ThreeTones(pp, pq, pr, qq + tie, qr - tie, rr + tie);
            (double u, double v, double s) = tones.Solve(gp, gq, gr);
            double free = gg + tie - (gp * u) - (gq * v) - (gr * s);
            double misfit = 0;
            for (int c = 0; c < _level.Length; c++)
            {
                ReadOnlySpan<Vector<double>> y = MemoryMarshal.Cast<double, Vector<double>>(_weighed[section][c]);
                Vector<double> vbp = default, vbq = default, vbr = default, vbg = default;
                for (int k = 0; k < y.Length; k++)
                {
                    vbp += y[k] * p[k];
                    vbq += y[k] * q[k];
                    vbr += y[k] * r[k];
                    vbg += y[k] * g[k];
                }

                (double bp, double bq, double br, double bg) = (Vector.Sum(vbp), Vector.Sum(vbq), Vector.Sum(vbr), Vector.Sum(vbg));
                (double a, double b, double d) = tones.Solve(bp, bq, br);
                const double top = 3; // beyond what the camera tells apart
                double e = Math.Clamp((bg - (gp * a) - (gq * b) - (gr * d)) / free, 0, top);
                (a, b, d) = (a - (e * u), b - (e * v), d - (e * s));
                if (b < 0 || b > top)
                {
                    b = b < 0 ? 0 : top;
                    (a, d) = Solve2(pp, pr, rr + tie, bp - (b * pq) - (e * gp), br - (b * (qr - tie)) - (e * gr));
                }

                a = Math.Max(a, 0.25 * _level[c]);
                d = Math.Max(d, 0);
                double rss = _squares[section][c] - (2 * ((a * bp) + (b * bq) + (d * br) + (e * bg))) + (a * a * pp) + (b * b * qq) + (d * d * rr) + (e * e * gg) + (2 * ((a * b * pq) + (a * d * pr) + (b * d * qr) + (e * ((a * gp) + (b * gq) + (d * gr)))));
                misfit += (rss + (tie * (((b - d) * (b - d)) + (e * e)) * 0.02)) / (_level[c] * _level[c]);
            }

            return _fit._looks * Math.Log(1 + (Math.Max(0, misfit) / (_level.Length * _all * Floor * Floor)));
        }

        private static (double, double) Solve2(double a, double b, double d, double x, double y)
        {
            double det = (a * d) - (b * b);
            return (((d * x) - (b * y)) / det, ((a * y) - (b * x)) / det);
        }
    }
}
