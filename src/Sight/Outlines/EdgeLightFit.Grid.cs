using System.Numerics;

namespace Whetwright.Sight.Outlines;

/// <summary>The sections as they are solved.</summary>
internal sealed partial class EdgeLightFit
{
    /// <summary>Sections as they are solved: all channels or their sum, all samples or every other.</summary>
    private sealed partial class Grid
    {
        private readonly IReadOnlyList<EdgeProfile> _profiles;
        private readonly EdgeLightFit _fit;
        private readonly double _step;
        private readonly double[] _even;
        private readonly double[] _level;
        private readonly double[][] _weight;
        private readonly double[]?[] _unclipped;
        private readonly double[]?[] _least;
        private readonly double[][][] _light;
        private readonly double _all;
        private readonly int _places;
        private readonly int _samples;
        private readonly int _padded;
        private readonly bool _bare;
        private readonly double[]?[] _ruled;
        private readonly double[]?[] _clean;

        public Grid(IReadOnlyList<EdgeProfile> profiles, int stride, bool summed, EdgeLightFit fit, bool bare = false)
        {
            (_profiles, _fit, _step, _bare) = (profiles, fit, stride * EdgeProfile.StepMm, bare || fit._beside is not null);
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
            _light = [.. light.Select(s => s.Select(c => Padded(c)).ToArray())];
            bool[][] full = [.. profiles.Select(p => Enumerable.Range(0, _samples).Select(k => p.Light.Any(c => c[k * stride] > Full)).ToArray())];
            _unclipped = [.. full.Select(f => f.Any(v => v) ? Padded(f.Select((v, k) => v ? 0 : Weight(EdgeProfile.FromMm + (k * _step)))) : null)];
            _least = [.. full.Select(f => f.Any(v => v) ? Padded(f.Select(v => v ? 0.0 : -1e9)) : null)];
            _even = Padded(Enumerable.Range(0, _samples).Select(k => Weight(EdgeProfile.FromMm + (k * _step))));
            _ruled = _bare ? new double[]?[profiles.Count] : Ruled(stride);
            _clean = [.. profiles.Select(p => p.Ink is { } ink ? Padded(Enumerable.Range(0, _samples).Select(k => 1 - ink[k * stride])) : null)];
            _all = Enumerable.Range(0, _samples).Sum(k => Weight(EdgeProfile.FromMm + (k * _step)));
        }

        // What ruled lines cost each place in the section nearest to where each ends; where not all sections are looked at they count in that measure.
        private double[]?[] Ruled(int stride)
        {
            double[]?[] ruled = new double[]?[_profiles.Count];
            double share = RuledCounts * _profiles.Count / _fit._profiles.Count;
            int first = (int)Math.Round((OutermostMm - EdgeProfile.FromMm) / EdgeProfile.StepMm);
            foreach (EdgeProfile p in _fit._profiles)
            {
                if (p.Ruled is not { } costs)
                    continue;
                double[] row = ruled[EdgeProfile.Nearest(_profiles, p.AtMm)] ??= new double[_places];
                double least = costs.Min();
                for (int k = 0; k < _places; k++)
                    row[k] += share * (costs[first + (k * stride)] - least);
            }

            return ruled;
        }

        // Far from the edge other things are seen than the model knows of.
        private static double Weight(double v) => v > InsideMm ? Math.Exp(-Math.Pow((v - InsideMm) / 0.8, 2)) : v < -1.6 ? Math.Exp(-Math.Pow((v + 1.6) / 0.9, 2)) : 1;

        /// <summary>How far a search under lights like one that was solved looks for the line, mm. Chosen.</summary>
        private const double NearMm = 0.5;

        /// <summary>Places near a line, the first and the last in each section.</summary>
        public (int From, int To)[] Near(double[] inwardMm)
        {
            int reach = (int)(NearMm / _step);
            return [.. inwardMm.Select(v => (int)Math.Round((v - OutermostMm) / _step)).Select(k => (Math.Max(0, k - reach), Math.Min(_places - 1, k + reach)))];
        }

        /// <summary>The likeliest line under a light.</summary>
        /// <param name="light">The light.</param>
        /// <param name="near">Where to look for it; everywhere where not given.</param>
        public Places Solve(EdgeLight light, (int From, int To)[]? near = null)
        {
            int n = _profiles.Count;
            double[] cost = Costs(light, near);
            double spacing = n > 1 ? _profiles[1].AtMm - _profiles[0].AtMm : 2;
            double scale = _step / (NeighbourMm * Math.Sqrt(spacing / 2));
            int[] from = new int[n * _places];
            double[] best = new double[_places];
            double[] next = new double[_places];
            for (int i = 0; i < n; i++)
            {
                double least = best.Min();
                Array.Fill(next, double.PositiveInfinity);
                (int first, int last) = near?[i] ?? (0, _places - 1);
                Span<double> here = cost.AsSpan(i * _places, _places);
                Span<int> came = from.AsSpan(i * _places, _places);
                for (int k = first; k <= last; k++)
                {
                    double top = double.PositiveInfinity;
                    int reach = Math.Min(_places, (int)(2.5 / scale) + 1);
                    for (int j = Math.Max(0, k - reach); j <= Math.Min(_places - 1, k + reach); j++)
                    {
                        double d = scale * (k - j);
                        double c = best[j] + Math.Min(d * d, FarthestSigma2);
                        if (c < top)
                            (top, came[k]) = (c, j);
                    }

                    if (least + FarthestSigma2 < top)
                        (top, came[k]) = (least + FarthestSigma2, Array.IndexOf(best, least));
                    next[k] = top + here[k];
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
                Span<double> here = cost.AsSpan(i * _places, _places);
                own[i] = here[at] - (_ruled[i]?[at] ?? 0);
                inward[i] = OutermostMm + (at * _step);
                (int first, int last) = near?[i] ?? (0, _places - 1);
                if (at > first && at < last)
                {
                    double bend = here[at - 1] - (2 * here[at]) + here[at + 1];
                    if (bend > 0)
                        inward[i] += _step * Math.Clamp((here[at - 1] - here[at + 1]) / (2 * bend), -0.7, 0.7);
                    curvature[i] = Math.Max(0, bend) / (_step * _step);
                }

                at = from[(i * _places) + at];
            }

            return new(inward, own, curvature, total);
        }

        public int Count => _profiles.Count;

        /// <summary>Where along the edge a section lies, as a share from heel to tip.</summary>
        public double Share(int section) => _profiles[section].Share;

        /// <summary>Sum over the sections with the edge held.</summary>
        public double At(EdgeLight light, double[] inwardMm) => Sum(light, inwardMm, paperAlone: false);

        /// <summary>How badly a light explains the paper alone, the edge held: mean over the sections of the natural logarithm of what it leaves, against the floor.</summary>
        public double PaperAt(EdgeLight light, double[] inwardMm) => Sum(light, inwardMm, paperAlone: true) / _profiles.Count;

        private double Sum(EdgeLight light, double[] inwardMm, bool paperAlone)
        {
            Span<double> room = stackalloc double[_padded];
            Span<double> paper = stackalloc double[_padded];
            Span<double> bevel = stackalloc double[_padded];
            Span<double> flank = stackalloc double[_padded];
            Span<double> shoulder = stackalloc double[_padded];
            double sum = 0;
            for (int i = 0; i < _profiles.Count; i++)
            {
                light.Fill(paper, bevel, flank, shoulder, EdgeProfile.FromMm - Math.Clamp(inwardMm[i], OutermostMm, InnermostMm), _step, _profiles[i], _fit._blurMm);
                sum += Section(i, room, paper, bevel, flank, shoulder, paperAlone) + (paperAlone ? 0 : _ruled[i]?[Place(inwardMm[i])] ?? 0);
            }

            return sum;
        }

        // What ruled lines cost such an edge, as one look at them does.
        public double RuledAt(double[] inwardMm) => _ruled.Select((costs, i) => costs?[Place(inwardMm[i])] ?? 0).Sum() / RuledCounts;

        private int Place(double inwardMm) => Math.Clamp((int)Math.Round((inwardMm - OutermostMm) / _step), 0, _places - 1);

        // Section by section, a row of places each; what is not looked at stays unset.
        private double[] Costs(EdgeLight light, (int From, int To)[]? near)
        {
            int n = _profiles.Count;
            double[] cost = GC.AllocateUninitializedArray<double>(n * _places);
            int length = _padded + _places - 1;
            Span<double> room = stackalloc double[_padded];
            Span<double> paper = stackalloc double[length];
            Span<double> bevel = stackalloc double[length];
            Span<double> flank = stackalloc double[length];
            Span<double> shoulder = stackalloc double[length];
            for (int i = 0; i < n; i++)
            {
                // Only what the places looked at show, by whole vectors.
                (int first, int last) = near?[i] ?? (0, _places - 1);
                int skip = (_places - 1 - last) / Vector<double>.Count * Vector<double>.Count;
                int take = Math.Min(length, _places - 1 - first + _padded) - skip;
                light.Fill(paper.Slice(skip, take), bevel.Slice(skip, take), flank.Slice(skip, take), shoulder.Slice(skip, take), EdgeProfile.FromMm - InnermostMm + (skip * _step), _step, _profiles[i], _fit._blurMm);
                for (int k = first; k <= last; k++)
                {
                    // The edge at OutermostMm + k·step: sample j lies FromMm + j·step − that behind it.
                    int shift = _places - 1 - k;
                    cost[(i * _places) + k] = Section(i, room, paper.Slice(shift, _padded), bevel.Slice(shift, _padded), flank.Slice(shift, _padded), shoulder.Slice(shift, _padded)) + (_ruled[i]?[k] ?? 0);
                }
            }

            return cost;
        }
    }
}
