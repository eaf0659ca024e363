using Whetwright.Core.Metrology;

namespace Whetwright.Core.Ordering;

/// <summary>
/// Learns what each kind of change takes from changes that were seen whole, several kinds at once: T = (Σ base·e^θ) · e^ε. Bayesian on log scale.
/// </summary>
/// <remarks>
/// Prior: each θ normal about the default with <see cref="DefaultLogU"/>; the scatter's square scaled-inverse-χ² (Gelman et al., Bayesian Data Analysis, ch. 3.3,
/// from memory). ε is Student's t with 4 degrees of freedom, so that a telephone call in between weighs little (ch. 17, from memory). The posterior is taken
/// by importance sampling about its mode, seeded: the same log gives the same numbers.
/// </remarks>
public static class SetupLearning
{
    /// <summary>0.7 in ln minutes: a default is good to a factor of four either way (chosen, not derived).</summary>
    public const double DefaultLogU = 0.7;

    /// <summary>Changes looked at, the newest (chosen, not derived).</summary>
    public const int MostChanges = 400;

    private const double GuessScatter = 0.35; // in ln minutes from change to change (chosen, not derived)
    private const double GuessFreedom = 4; // what that guess is worth (chosen, not derived)
    private const double Tail = 4; // degrees of freedom of the scatter's t (chosen, not derived)
    private const double Wider = 1.3; // proposal over the curvature at the mode (chosen, not derived; wider is safe, only slower)
    private const int Draws = 4000;
    private const int FewestWorth = 300; // draws that the weighted ones must be worth (chosen, not derived)
    private const int Kinds = 4;

    private static readonly double[] Usual = [3, 2, 1.5, 1];

    /// <summary>What the log tells.</summary>
    /// <param name="seen">Changes, oldest first; those that changed nothing are left out.</param>
    /// <exception cref="ArgumentOutOfRangeException">Minutes that are not above 0.</exception>
    public static SetupTimes From(IReadOnlyList<SetupSeen> seen)
    {
        foreach (SetupSeen s in seen)
        {
            if (!(s.Minutes > 0) || !double.IsFinite(s.Minutes) || s.WheelMinutes is { } typed && !(typed >= 0 && double.IsFinite(typed)))
                throw new ArgumentOutOfRangeException(nameof(seen), s.Minutes, "Minutes of a change must be above 0, typed ones 0 or more.");
        }

        SetupSeen[] log = [.. seen.Where(s => Bases(s).Any(b => b > 0)).TakeLast(MostChanges)];
        if (log.Length == 0)
            return new(Default(0), Default(1), Default(2), Default(3), 0);
        Alike[] groups = [.. log.GroupBy(s => (s.Changes, s.WheelMinutes)).Select(g => new Alike(Bases(g.First()), [.. g.Select(s => Math.Log(s.Minutes))]))];
        (double[] mode, double[,] covariance) = Mode(groups, log.Length);
        (double[][] draws, double[] weights) = Posterior(groups, log.Length, mode, covariance);
        SetupTime[] times = [.. Enumerable.Range(0, Kinds).Select(k => Time(k, groups, draws, weights))];
        return new(times[0], times[1], times[2], times[3], log.Length);
    }

    /// <summary>Changes of the same kinds.</summary>
    private sealed record Alike(double[] Bases, double[] LogMinutes);

    private static double[] Bases(SetupSeen seen) =>
    [
        seen.Changes.HasFlag(SetupChanges.Clamp) ? Usual[0] : 0,
        seen.Changes.HasFlag(SetupChanges.Wheel) ? seen.WheelMinutes ?? Usual[1] : 0,
        seen.Changes.HasFlag(SetupChanges.Angle) ? Usual[2] : 0,
        seen.Changes.HasFlag(SetupChanges.Rig) ? Usual[3] : 0,
    ];

    private static SetupTime Default(int kind) => Made(kind, 0, Math.Exp(-1.96 * DefaultLogU), Math.Exp(1.96 * DefaultLogU), 0, false);

    private static SetupTime Made(int kind, double log, double from, double to, int seen, bool learnt) =>
        new(Usual[kind], Usual[kind] * Math.Exp(log), Usual[kind] * from, Usual[kind] * to, seen, learnt);

    private static SetupTime Time(int kind, Alike[] log, double[][] draws, double[] weights)
    {
        int seen = log.Where(g => g.Bases[kind] > 0).Sum(g => g.LogMinutes.Length);
        if (seen == 0)
            return Default(kind);
        double[] values = [.. draws.Select(d => d[kind])];
        int[] order = [.. Enumerable.Range(0, values.Length).OrderBy(i => values[i])];
        double mean = values.Zip(weights, (v, w) => v * w).Sum();
        double u = Math.Sqrt(values.Zip(weights, (v, w) => w * (v - mean) * (v - mean)).Sum());
        double Quantile(double share)
        {
            double sum = 0;
            foreach (int i in order)
            {
                sum += weights[i];
                if (sum >= share)
                    return values[i];
            }

            return values[order[^1]];
        }

        // Learnt where the log holds more of the knowledge (inverse variance) than the default does.
        return Made(kind, Quantile(0.5), Math.Exp(Quantile(0.025)), Math.Exp(Quantile(0.975)), seen, u < DefaultLogU / Math.Sqrt(2));
    }

    /// <summary>ln Σ base·e^θ, and by the way its derivatives: each kind's share of the sum.</summary>
    private static double LogSum(double[] bases, double[] point, double[] shares)
    {
        double sum = 0;
        for (int k = 0; k < Kinds; k++)
            sum += shares[k] = bases[k] > 0 ? bases[k] * Math.Exp(point[k]) : 0;
        for (int k = 0; k < Kinds; k++)
            shares[k] /= sum;
        return Math.Log(sum);
    }

    /// <summary>Mode by expectation–maximisation over the t's weights (Gauss–Newton steps), and a covariance about it; the last coordinate is ln scatter.</summary>
    private static (double[] Mode, double[,] Covariance) Mode(Alike[] log, int count)
    {
        double[] point = new double[Kinds + 1], shares = new double[Kinds];
        double variance = GuessScatter * GuessScatter;
        double[,] covariance = new double[Kinds + 1, Kinds + 1];
        for (int round = 0; round < 60; round++)
        {
            double[,] information = new double[Kinds, Kinds];
            double[] gradient = new double[Kinds];
            double squares = 0;
            for (int k = 0; k < Kinds; k++)
            {
                information[k, k] = 1 / (DefaultLogU * DefaultLogU);
                gradient[k] = -point[k] / (DefaultLogU * DefaultLogU);
            }

            foreach (Alike group in log)
            {
                double expected = LogSum(group.Bases, point, shares), weights = 0, pull = 0;
                foreach (double y in group.LogMinutes)
                {
                    double rest = y - expected, weight = (Tail + 1) / (Tail + (rest * rest / variance));
                    squares += weight * rest * rest;
                    weights += weight;
                    pull += weight * rest;
                }

                for (int i = 0; i < Kinds; i++)
                {
                    gradient[i] += shares[i] * pull / variance;
                    for (int j = 0; j < Kinds; j++)
                        information[i, j] += weights * shares[i] * shares[j] / variance;
                }
            }

            double[,] inverse = SymmetricMatrix.Inverse(information);
            double longest = 0;
            for (int i = 0; i < Kinds; i++)
            {
                double step = 0;
                for (int j = 0; j < Kinds; j++)
                {
                    step += inverse[i, j] * gradient[j];
                    covariance[i, j] = inverse[i, j];
                }

                step = Math.Clamp(step, -0.7, 0.7);
                point[i] += step;
                longest = Math.Max(longest, Math.Abs(step));
            }

            variance = ((GuessFreedom * GuessScatter * GuessScatter) + squares) / (GuessFreedom + count);
            if (longest < 1e-9)
                break;
        }

        point[Kinds] = Math.Log(variance) / 2;
        // Fisher information of a t about its scatter is less than a normal's by (ν)/(ν + 3).
        covariance[Kinds, Kinds] = 1 / (2 * (GuessFreedom + (count * Tail / (Tail + 3))));
        return (point, covariance);
    }

    private static (double[][] Draws, double[] Weights) Posterior(Alike[] log, int count, double[] mode, double[,] covariance)
    {
        const double tail = 5; // the proposal's own t: heavier than what it stands in for
        int size = Kinds + 1;
        double[,] lower = SymmetricMatrix.Cholesky(covariance);
        RandomDraws random = new(20_000 + count);
        double[][] draws = new double[Draws][];
        double[] weights = new double[Draws];
        double[] z = new double[size], shares = new double[Kinds];
        for (int d = 0; d < Draws; d++)
        {
            double chi = 0, norm = 0;
            for (int i = 0; i < (int)tail; i++)
            {
                double n = random.Normal();
                chi += n * n;
            }

            double stretch = Wider / Math.Sqrt(chi / tail);
            double[] point = [.. mode];
            for (int i = 0; i < size; i++)
                z[i] = random.Normal() * stretch;
            for (int i = 0; i < size; i++)
            {
                norm += z[i] * z[i];
                for (int j = 0; j <= i; j++)
                    point[i] += lower[i, j] * z[j];
            }

            draws[d] = point;
            double proposal = -(tail + size) / 2 * Math.Log(1 + (norm / (Wider * Wider * tail)));
            weights[d] = LogPosterior(log, point, shares) - proposal;
        }

        double highest = weights.Max();
        double sum = 0;
        for (int d = 0; d < Draws; d++)
            sum += weights[d] = Math.Exp(weights[d] - highest);
        for (int d = 0; d < Draws; d++)
            weights[d] /= sum;
        return 1 / weights.Sum(w => w * w) >= FewestWorth ? (draws, weights) : Walked(log, draws, weights, random);
    }

    /// <summary>
    /// The same posterior where it is a thin bent ridge, as for two kinds never seen apart, which draws about the mode do not reach: walkers that step along the
    /// lines between them (affine-invariant ensemble; J. Goodman, J. Weare, 2010, citation from memory).
    /// </summary>
    private static (double[][] Draws, double[] Weights) Walked(Alike[] log, double[][] draws, double[] weights, RandomDraws random)
    {
        const int walkers = 64, sweeps = 700, first = 200, every = 5;
        const double stretch = 2;
        double[] shares = new double[Kinds];
        double[][] at = [.. Enumerable.Range(0, draws.Length).OrderByDescending(i => weights[i]).Take(walkers).Select(i => draws[i])];
        double[] height = [.. at.Select(p => LogPosterior(log, p, shares))];
        List<double[]> kept = [];
        for (int sweep = 0; sweep < sweeps; sweep++)
        {
            for (int w = 0; w < walkers; w++)
            {
                int other = (w + 1 + (int)(random.Uniform() * (walkers - 1))) % walkers;
                double z = Math.Pow(((stretch - 1) * random.Uniform()) + 1, 2) / stretch;
                double[] to = [.. at[other].Zip(at[w], (o, mine) => o + (z * (mine - o)))];
                double there = LogPosterior(log, to, shares);
                if (Math.Log(random.Uniform()) < (Kinds * Math.Log(z)) + there - height[w])
                    (at[w], height[w]) = (to, there);
                if (sweep >= first && sweep % every == 0)
                    kept.Add(at[w]);
            }
        }

        return ([.. kept], [.. kept.Select(_ => 1.0 / kept.Count)]);
    }

    /// <summary>Log of the posterior's density over θ and ln scatter, but for a constant.</summary>
    private static double LogPosterior(Alike[] log, double[] point, double[] shares)
    {
        double logScatter = point[Kinds], variance = Math.Exp(2 * logScatter);
        // Scaled-inverse-χ² of the variance, over ln scatter: −ν·ln s − ν·s₀²/(2s²).
        double density = -(GuessFreedom * logScatter) - (GuessFreedom * GuessScatter * GuessScatter / (2 * variance));
        for (int k = 0; k < Kinds; k++)
            density -= point[k] * point[k] / (2 * DefaultLogU * DefaultLogU);
        foreach (Alike group in log)
        {
            double expected = LogSum(group.Bases, point, shares);
            foreach (double y in group.LogMinutes)
                density -= logScatter + ((Tail + 1) / 2 * Math.Log(1 + ((y - expected) * (y - expected) / (Tail * variance))));
        }

        return density;
    }
}
