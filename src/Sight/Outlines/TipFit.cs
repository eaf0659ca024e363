namespace Whetwright.Sight.Outlines;

/// <summary>Fits the shape of a tip to the photo around it: damped Gauss–Newton steps (Levenberg–Marquardt), the tones solved anew at each (variable projection).</summary>
internal sealed class TipFit
{
    /// <summary>Misfit that no model of ours gets below, as a share of the paper's light. Chosen.</summary>
    public const double Floor = 0.012;

    private readonly TipPatch _patch;
    private readonly double _looks;
    private readonly double[] _prior;
    private readonly double[] _spread;

    /// <summary>Of a patch.</summary>
    /// <param name="patch">The photo.</param>
    /// <param name="looks">Independent looks in it.</param>
    /// <param name="usual">The shape that is supposed.</param>
    /// <param name="spread">How far its numbers may be off.</param>
    public TipFit(TipPatch patch, double looks, TipShape usual, double[] spread) => (_patch, _looks, _prior, _spread) = (patch, looks, usual.ToRow(), spread);

    /// <summary>A fitted shape.</summary>
    /// <param name="Shape">The shape.</param>
    /// <param name="Cost">−2 log of how likely it is.</param>
    /// <param name="Misfit">Root mean square of what is left, in the paper's light.</param>
    /// <param name="TipUMm">Standard uncertainty of the tip along the edge.</param>
    /// <param name="Tones">Tones.</param>
    public sealed record Fitted(TipShape Shape, double Cost, double Misfit, double TipUMm, double[] Tones);

    /// <summary>The best shape that damped steps lead to.</summary>
    /// <param name="from">Where they begin.</param>
    /// <param name="rounds">How many at most.</param>
    public Fitted Find(TipShape from, int rounds = 14)
    {
        double[] p = from.ToRow();
        (double cost, double[] rows, double misfit, double[] tones, double scale, double freedom) = Rows(from.With(p), p);
        double lambda = 1e-2;
        double[,]? normal = null;
        for (int round = 0; round < rounds; round++)
        {
            (double[,] j, double[] slope) = Jacobian(from, p, rows, scale, freedom);
            double[,] a = Normal(j);
            normal = (double[,])a.Clone();
            double[] b = [.. slope.Select(v => -0.5 * v)];
            for (int i = 0; i < rows.Length; i++)
            {
                for (int k = 0; k < b.Length; k++)
                    b[k] -= j[i, k] * rows[i];
            }

            bool better = false;
            double gain = 0;
            for (int tries = 0; tries < 5 && !better; tries++)
            {
                double[]? step = LeastSquares.Solve((double[,])a.Clone(), b, lambda);
                if (step is null)
                    break;
                double[] q = [.. p.Select((v, k) => v + Math.Clamp(step[k], -2 * _spread[k], 2 * _spread[k]))];
                (double c, double[] r, double m, double[] t, double k2, double f) = Rows(from.With(q), q);
                if (c < cost)
                {
                    gain = cost - c;
                    (p, cost, rows, misfit, tones, scale, freedom, better, lambda) = (q, c, r, m, t, k2, f, true, Math.Max(1e-5, lambda * 0.2));
                }
                else
                {
                    lambda *= 6;
                }
            }

            if (!better || gain < 0.02)
                break;
        }

        double u = double.NaN;
        if (normal is not null && LeastSquares.Invert(normal) is { } covariance)
            u = Math.Sqrt(covariance[0, 0]);
        return new(from.With(p), cost, misfit, u, tones);
    }

    private (double Cost, double[] Rows, double Misfit, double[] Tones, double Scale, double Freedom) Rows(TipShape shape, double[] p, double? scale = null)
    {
        (double[] residual, double[] held, double[] tones, double ties, double freedom) = _patch.Explain(shape);
        double all = _patch.Weight;
        double square = residual.Sum(v => v * v) + ties;
        double k = _looks / ((all * Floor * Floor) + square);
        double cost = (_looks * Math.Log(1 + (square / (all * Floor * Floor)))) + freedom;
        double root = scale ?? Math.Sqrt(k);
        double[] rows = new double[residual.Length + held.Length + p.Length];
        for (int i = 0; i < residual.Length; i++)
            rows[i] = residual[i] * root;
        for (int i = 0; i < held.Length; i++)
            rows[residual.Length + i] = held[i] * root;
        for (int i = 0; i < p.Length; i++)
        {
            double off = (p[i] - _prior[i]) / _spread[i];
            rows[residual.Length + held.Length + i] = off;
            cost += off * off;
        }

        return (cost, rows, Math.Sqrt(residual.Sum(v => v * v) / all), tones, root, freedom);
    }

    private (double[,] Rows, double[] Freedom) Jacobian(TipShape from, double[] p, double[] rows, double scale, double freedom)
    {
        double[,] j = new double[rows.Length, p.Length];
        double[] slope = new double[p.Length];
        for (int k = 0; k < p.Length; k++)
        {
            double h = 0.1 * _spread[k];
            h = Math.Min(h, 0.03);
            double[] q = (double[])p.Clone();
            q[k] += h;
            (_, double[] there, _, _, _, double free) = Rows(from.With(q), q, scale);
            slope[k] = (free - freedom) / h;
            for (int i = 0; i < rows.Length; i++)
                j[i, k] = (there[i] - rows[i]) / h;
        }

        return (j, slope);
    }

    private static double[,] Normal(double[,] j)
    {
        (int rows, int n) = (j.GetLength(0), j.GetLength(1));
        double[,] a = new double[n, n];
        for (int i = 0; i < rows; i++)
        {
            for (int k = 0; k < n; k++)
            {
                double v = j[i, k];
                for (int m = 0; m <= k; m++)
                    a[k, m] += v * j[i, m];
            }
        }

        for (int k = 0; k < n; k++)
        {
            for (int m = 0; m < k; m++)
                a[m, k] = a[k, m];
        }

        return a;
    }
}
