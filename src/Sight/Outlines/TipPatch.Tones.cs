namespace Whetwright.Sight.Outlines;

/// <content>The tones that explain best what is seen, solved by least squares, and what they leave.</content>
internal sealed partial class TipPatch
{
    /// <summary>What a shape leaves of what is seen.</summary>
    /// <param name="Residual">What is left, weighed, place by place.</param>
    /// <param name="Held">What the field of stains strains its ties by; empty without one.</param>
    /// <param name="Tones">Tones.</param>
    /// <param name="Ties">Square of what all ties are strained by.</param>
    /// <param name="Freedom">What the field of stains is paid for with, −2 log.</param>
    public sealed record Explained(double[] Residual, double[] Held, double[] Tones, double Ties, double Freedom);

    /// <summary>What is seen less the best that a shape explains, weighed; with the tones.</summary>
    public Explained Explain(TipShape s)
    {
        (double[][] parts, double[] prior, double[] tie) = Parts(s);
        int n = parts.Length;
        double[] steel = _hats.Count == 0 ? [] : [.. parts[0].Select((v, k) => 1 - (v / (_clean?[k] ?? 1)))];
        Hat[] hats = [.. _hats.Select(h => h.Times(steel, _columns))];
        (Solved solved, double[] residual) = AboveTheCut(w => Solve(parts, hats, prior, tie, w, FirstLight + 1 + s.Lamps.Count), t => Left(parts, hats, t));
        double[] held = [.. solved.Tones[n..].Select(t => Math.Sqrt(_stainTie) * t)];
        for (int k = 0; k < residual.Length; k++)
            residual[k] = _cut[k] > 0 ? Math.Sqrt(_cut[k]) * Math.Max(0, residual[k]) : Math.Sqrt(_weight[k]) * residual[k];
        double[] tones = solved.Tones;
        double all = _weight.Sum();
        double ties = (solved.Limit * solved.Over * solved.Over) + held.Sum(v => v * v);
        for (int i = 1; i < n; i++)
            ties += tie[i] * all * Math.Pow(tones[i] - (prior[i] * tones[0]), 2);
        return new(residual, held, tones[..n], ties, solved.Freedom);
    }

    /// <summary>Tones that explain best what is seen.</summary>
    /// <param name="Tones">Of the parts, then of the field of stains.</param>
    /// <param name="Limit">Weight that holds the light kept off to what falls on the paper.</param>
    /// <param name="Over">By how much it is more.</param>
    /// <param name="Freedom">What the field of stains is paid for with, −2 log.</param>
    private readonly record struct Solved(double[] Tones, double Limit, double Over, double Freedom);

    /// <summary>The tones that explain best what is seen, by least squares.</summary>
    /// <param name="parts">What shows of each for a tone of 1.</param>
    /// <param name="hats">Places of the field of stains.</param>
    /// <param name="prior">Tones' ratios to the paper's beforehand.</param>
    /// <param name="tie">How strongly they are held.</param>
    /// <param name="weight">What each place counts.</param>
    /// <param name="lights">Where among the parts the lights end.</param>
    private Solved Solve(double[][] parts, Hat[] hats, double[] prior, double[] tie, double[] weight, int lights)
    {
        int n = parts.Length;
        double[,] a = new double[n + hats.Length, n + hats.Length];
        double[] b = new double[n + hats.Length];
        for (int i = 0; i < n; i++)
        {
            double[] p = parts[i];
            double[] w = new double[p.Length];
            for (int k = 0; k < p.Length; k++)
                w[k] = p[k] * weight[k];
            b[i] = Dot(w, _seen);
            for (int j = 0; j <= i; j++)
                a[i, j] = Dot(w, parts[j]);
            for (int j = 0; j < hats.Length; j++)
                a[n + j, i] = hats[j].Dot(w, _columns);
        }

        if (hats.Length > 0)
        {
            double[] w = [.. _seen.Select((v, k) => v * weight[k])];
            for (int i = 0; i < hats.Length; i++)
            {
                b[n + i] = hats[i].Dot(w, _columns);
                for (int j = 0; j <= i; j++)
                    a[n + i, n + j] = hats[i].Dot(hats[j], weight, _columns);
            }
        }

        double freedom = hats.Length == 0 ? 0 : LogDeterminant(a, n, _stainTie);
        for (int i = 0; i < hats.Length; i++)
            a[n + i, n + i] += _stainTie;

        // Ties: tone i is prior·tone 0 (paper) give or take; those without a tie are free.
        double all = _weight.Sum();
        for (int i = 1; i < n; i++)
        {
            double t = tie[i] * all;
            a[i, i] += t;
            a[i, 0] -= t * prior[i];
            a[0, 0] += t * prior[i] * prior[i];
        }

        double[] tones = LeastSquares.Solve((double[,])a.Clone(), b, 1e-9) ?? new double[b.Length];
        double over = -tones[0];
        for (int i = FirstLight; i < lights; i++)
            over += tones[i];
        double limit = 0;
        if (over > 0)
        {
            // No more light can be kept off the paper than falls on it.
            limit = Held(0.01) * all;
            for (int i = FirstLight; i < lights; i++)
            {
                a[i, 0] -= limit;
                for (int j = FirstLight; j <= i; j++)
                    a[i, j] += limit;
            }

            a[0, 0] += limit;
            tones = LeastSquares.Solve(a, b, 1e-9) ?? new double[b.Length];
            over = -tones[0];
            for (int i = FirstLight; i < lights; i++)
                over += tones[i];
        }

        return new(tones, limit, over, freedom);
    }

    /// <summary>What tones leave of what is seen.</summary>
    private double[] Left(double[][] parts, Hat[] hats, double[] tones)
    {
        double[] residual = (double[])_seen.Clone();
        for (int i = 0; i < parts.Length; i++)
        {
            double q = tones[i];
            double[] p = parts[i];
            for (int k = 0; k < p.Length; k++)
                residual[k] -= q * p[k];
        }

        for (int i = 0; i < hats.Length; i++)
            hats[i].TakeFrom(residual, tones[parts.Length + i], _columns);
        return residual;
    }
}
