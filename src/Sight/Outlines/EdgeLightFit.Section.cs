using System.Numerics;
using System.Runtime.InteropServices;

namespace Whetwright.Sight.Outlines;

/// <summary>What a section costs with its edge at one place.</summary>
internal sealed partial class EdgeLightFit
{
    private sealed partial class Grid
    {
        /// <summary>Tones beyond what the camera tells apart.</summary>
        private const double Top = 3;

        /// <summary>A bevel's tone is not far from the flank's, and its shoulder does not shine, unless the photo says so: the paper's light, one look.</summary>
        private const double Tie = 0.002;
        private const double TieCost = 0.02;

        /// <summary>The tie where the flank shows no tone, being brighter than the camera tells apart.</summary>
        private const double LooseTie = 1e-6;

        /// <summary>Share of samples below which a variance is not told by them. Chosen.</summary>
        private const double LeastShare = 1e-3;

        /// <summary>Share of paper in a section below which its light is not told from blur. Chosen.</summary>
        private const double LeastPaper = 0.2;

        /// <summary>Sums of products of what a section shows for its four tones.</summary>
        private readonly record struct Products(double PP, double PQ, double PR, double QQ, double QR, double RR, double GP, double GQ, double GR, double GG);

        private double Section(int section, Span<double> room, ReadOnlySpan<double> paper, ReadOnlySpan<double> bevel, ReadOnlySpan<double> flank, ReadOnlySpan<double> shoulder, bool paperAlone = false)
        {
            scoped ReadOnlySpan<double> inked = Inked(section, paper, room);
            scoped ReadOnlySpan<Vector<double>> p = MemoryMarshal.Cast<double, Vector<double>>(inked);
            ReadOnlySpan<Vector<double>> q = MemoryMarshal.Cast<double, Vector<double>>(bevel);
            ReadOnlySpan<Vector<double>> r = MemoryMarshal.Cast<double, Vector<double>>(flank);
            ReadOnlySpan<Vector<double>> g = MemoryMarshal.Cast<double, Vector<double>>(shoulder);
            double share = SteelShare(q, r);
            double Of(Unexplained left) => paperAlone ? OfPaper(left, share) : _fit._looks * Cost(left, share);
            double cost = Of(Misfit(section, _weight[section], Tie * _all, p, q, r, g));
            return _unclipped[section] is { } weight ? Math.Min(cost, Of(Misfit(section, weight, LooseTie * _all, p, q, r, g))) : cost;
        }

        /// <summary>Sums of squares that a section leaves unexplained, outside the edge and behind it, in the paper's light.</summary>
        private readonly record struct Unexplained(double Paper, double Steel);

        /// <summary>
        /// −2 log likelihood of one look. Paper is even and what is left of its light is small; steel is brushed, streaked or stained, over several pixels and whatever its light.
        /// Weighed as one, stains outvote a faint foot of the shadow, and paper may be missed by as much as steel. So each has a variance of its own, which the section itself
        /// tells: n·log σ² summed over paper and steel, each for its share of the samples.
        /// </summary>
        private double Cost(Unexplained left, double steel) =>
            _bare ? OfShare(1, left.Paper + left.Steel) : OfShare(1 - steel, left.Paper) + OfShare(steel, left.Steel);

        /// <summary>The same of the paper alone, for all of a section: nothing where hardly any paper is seen.</summary>
        private double OfPaper(Unexplained left, double steel) => 1 - steel < LeastPaper ? 0 : OfShare(1 - steel, left.Paper) / (1 - steel);

        private double OfShare(double share, double squares) => share * Math.Log(1 + (Math.Max(0, squares) / ((LeastShare + share) * _level.Length * _all * Floor * Floor)));

        // What a ruled line's ink leaves of the paper's light; steel over it shows none of it.
        private ReadOnlySpan<double> Inked(int section, ReadOnlySpan<double> paper, Span<double> room)
        {
            if (_clean[section] is not { } clean)
                return paper;
            for (int k = 0; k < room.Length; k++)
                room[k] = paper[k] * clean[k];
            return room;
        }

        // How much of what a section shows, weighed, is steel.
        private double SteelShare(ReadOnlySpan<Vector<double>> q, ReadOnlySpan<Vector<double>> r)
        {
            ReadOnlySpan<Vector<double>> w = MemoryMarshal.Cast<double, Vector<double>>(_even);
            Vector<double> sum = default;
            for (int k = 0; k < w.Length; k++)
                sum = Fma(w[k], q[k] + r[k], sum);
            return Math.Clamp(Vector.Sum(sum) / _all, 0, 1);
        }

        private Unexplained Misfit(int section, double[] weight, double tie, ReadOnlySpan<Vector<double>> p, ReadOnlySpan<Vector<double>> q, ReadOnlySpan<Vector<double>> r, ReadOnlySpan<Vector<double>> g)
        {
            ReadOnlySpan<Vector<double>> w = MemoryMarshal.Cast<double, Vector<double>>(weight);
            Products of = Sums(w, p, q, r, g);
            var tones = new ThreeTones(of.PP, of.PQ, of.PR, of.QQ + tie, of.QR - tie, of.RR + tie);
            (double u, double v, double s) = tones.Solve(of.GP, of.GQ, of.GR);
            double free = of.GG + tie - (of.GP * u) - (of.GQ * v) - (of.GR * s);
            double paperMisfit = 0;
            double steelMisfit = 0;
            for (int c = 0; c < _level.Length; c++)
            {
                ReadOnlySpan<Vector<double>> y = MemoryMarshal.Cast<double, Vector<double>>(_light[section][c]);
                Vector<double> vbp = default, vbq = default, vbr = default, vbg = default;
                for (int k = 0; k < y.Length; k++)
                {
                    Vector<double> wy = w[k] * y[k];
                    vbp = Fma(wy, p[k], vbp);
                    vbq = Fma(wy, q[k], vbq);
                    vbr = Fma(wy, r[k], vbr);
                    vbg = Fma(wy, g[k], vbg);
                }

                (double bp, double bq, double br, double bg) = (Vector.Sum(vbp), Vector.Sum(vbq), Vector.Sum(vbr), Vector.Sum(vbg));
                (double a, double b, double d) = tones.Solve(bp, bq, br);
                double e = Math.Clamp((bg - (of.GP * a) - (of.GQ * b) - (of.GR * d)) / free, 0, Top);
                (a, b, d) = (a - (e * u), b - (e * v), d - (e * s));
                if (b < 0 || b > Top)
                {
                    b = b < 0 ? 0 : Top;
                    (a, d) = Solve2(of.PP, of.PR, of.RR + tie, bp - (b * of.PQ) - (e * of.GP), br - (b * (of.QR - tie)) - (e * of.GR));
                }

                a = Math.Max(a, 0.25 * _level[c]);
                d = Math.Max(d, 0);
                double tied = tie * TieCost * (((b - d) * (b - d)) + (e * e));
                if (_least[section] is not null)
                {
                    double over = b - Math.Min(d, 1);
                    tied = Tie * _all * TieCost * ((over * over) + Math.Min(1, e * e));
                }

                (double onPaper, double onSteel) = Squares(section, _least[section] is null ? weight : _even, y, a, b, d, e, p, q, r, g);
                paperMisfit += onPaper / (_level[c] * _level[c]);
                steelMisfit += (onSteel + tied) / (_level[c] * _level[c]);
            }

            return new(paperMisfit, steelMisfit);
        }

        // Squares left on paper and on steel. Where the camera was full the light was at least that: only less than it is a misfit.
        private (double Paper, double Steel) Squares(int section, double[] weight, ReadOnlySpan<Vector<double>> y, double a, double b, double d, double e, ReadOnlySpan<Vector<double>> p, ReadOnlySpan<Vector<double>> q, ReadOnlySpan<Vector<double>> r, ReadOnlySpan<Vector<double>> g)
        {
            ReadOnlySpan<Vector<double>> w = MemoryMarshal.Cast<double, Vector<double>>(weight);
            ReadOnlySpan<Vector<double>> lo = _least[section] is { } least ? MemoryMarshal.Cast<double, Vector<double>>(least) : default;
            Vector<double> all = default;
            Vector<double> steel = default;
            (Vector<double> na, Vector<double> nb, Vector<double> nd, Vector<double> ne) = (Vector.Create(-a), Vector.Create(-b), Vector.Create(-d), Vector.Create(-e));
            for (int k = 0; k < y.Length; k++)
            {
                Vector<double> off = Fma(na, p[k], Fma(nb, q[k], Fma(nd, r[k], Fma(ne, g[k], y[k]))));
                if (lo.Length > 0)
                    off = Vector.Max(lo[k], off);
                Vector<double> square = w[k] * off * off;
                all += square;
                steel = Fma(square, q[k] + r[k], steel);
            }

            double onSteel = Vector.Sum(steel);
            return (Vector.Sum(all) - onSteel, onSteel);
        }

        private static Products Sums(ReadOnlySpan<Vector<double>> w, ReadOnlySpan<Vector<double>> p, ReadOnlySpan<Vector<double>> q, ReadOnlySpan<Vector<double>> r, ReadOnlySpan<Vector<double>> g)
        {
            Vector<double> pp = default, pq = default, pr = default, qq = default, qr = default, rr = default, gp = default, gq = default, gr = default, gg = default;
            for (int k = 0; k < w.Length; k++)
            {
                Vector<double> wp = w[k] * p[k];
                Vector<double> wq = w[k] * q[k];
                Vector<double> wg = w[k] * g[k];
                pp = Fma(wp, p[k], pp);
                pq = Fma(wp, q[k], pq);
                pr = Fma(wp, r[k], pr);
                qq = Fma(wq, q[k], qq);
                qr = Fma(wq, r[k], qr);
                rr = Fma(w[k] * r[k], r[k], rr);
                gp = Fma(wg, p[k], gp);
                gq = Fma(wg, q[k], gq);
                gr = Fma(wg, r[k], gr);
                gg = Fma(wg, g[k], gg);
            }

            const double least = 1e-9;
            return new(least + Vector.Sum(pp), Vector.Sum(pq), Vector.Sum(pr), least + Vector.Sum(qq), Vector.Sum(qr), least + Vector.Sum(rr), Vector.Sum(gp), Vector.Sum(gq), Vector.Sum(gr), least + Vector.Sum(gg));
        }

        // One rounding where the processor multiplies and adds at once.
        private static Vector<double> Fma(Vector<double> a, Vector<double> b, Vector<double> c) => Vector.MultiplyAddEstimate(a, b, c);

        private static (double, double) Solve2(double a, double b, double d, double x, double y)
        {
            double det = (a * d) - (b * b);
            return (((d * x) - (b * y)) / det, ((a * y) - (b * x)) / det);
        }
    }
}
