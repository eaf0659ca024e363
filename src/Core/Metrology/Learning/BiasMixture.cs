namespace Whetwright.Core.Metrology.Learning;

/// <summary>The hypotheses of one rig, weighed; the likeliest are kept.</summary>
internal sealed class BiasMixture
{
    /// <summary>Hypotheses kept (chosen: more did not change simulated shops).</summary>
    private const int Most = 64;

    private readonly LearningPrior _prior;
    private readonly int _wheels;
    private List<BiasHypothesis> _all;

    public BiasMixture(LearningPrior prior, int wheels)
    {
        (_prior, _wheels) = (prior, wheels);
        int n = wheels + 1;
        double total = prior.Scatter.Sum(s => s.Weight);
        _all = [];
        for (int k = 0; k < prior.Scatter.Count; k++)
        {
            double[] p = new double[n * n];
            p[0] = prior.RigDeg * prior.RigDeg;
            for (int w = 1; w < n; w++)
                p[(w * n) + w] = prior.WheelDeg * prior.WheelDeg;
            _all.Add(new(Math.Log(prior.Scatter[k].Weight / total), k, new double[n], p, null) { Weight = prior.Scatter[k].Weight / total });
        }
    }

    public IReadOnlyList<BiasHypothesis> All => _all;

    /// <summary>Takes in one reading and gives back how likely it was wild.</summary>
    /// <param name="at">Index of the piece.</param>
    /// <param name="wheel">From 1.</param>
    /// <param name="difference">Got less set.</param>
    /// <param name="u">Standard uncertainty of reading.</param>
    /// <param name="mayStep">False for the first piece.</param>
    public double Take(int at, int wheel, double difference, double u, bool mayStep)
    {
        (double Rig, double Wheel) drift = mayStep ? (_prior.RigDriftDeg * _prior.RigDriftDeg, _prior.WheelDriftDeg * _prior.WheelDriftDeg) : (0, 0);
        double stepVariance = _prior.StepDeg * _prior.StepDeg;
        double stay = mayStep ? 1 - _prior.StepChance : 1;
        double each = _wheels > 1 ? _prior.StepChance / 2 : _prior.StepChance;
        List<BiasChild> children = new(_all.Count * 3);
        for (int k = 0; k < _all.Count; k++)
        {
            BiasHypothesis h = _all[k];
            double before = h.VarianceOf(wheel) + drift.Rig + drift.Wheel;
            double scatter = _prior.Scatter[h.Scatter].Deg;
            double noise = (u * u) + (scatter * scatter);
            children.Add(Child(k, StepKind.None, Math.Log(stay), h, before, noise));
            if (mayStep && each > 0)
            {
                children.Add(Child(k, StepKind.Rig, Math.Log(each), h, before + stepVariance, noise));
                if (_wheels > 1)
                    children.Add(Child(k, StepKind.Wheel, Math.Log(each), h, before + stepVariance, noise));
            }
        }

        if (children.Count > Most)
        {
            children.Sort((a, b) => b.LogWeight.CompareTo(a.LogWeight));
            children.RemoveRange(Most, children.Count - Most);
        }

        List<BiasHypothesis> next = new(children.Count);
        foreach (BiasChild child in children)
            next.Add(_all[child.Parent].Next(child, at, wheel, drift, stepVariance));
        _all = next;
        Normalise();
        double wild = 0;
        for (int k = 0; k < _all.Count; k++)
            wild += _all[k].Weight * children[k].Wild;
        return wild;

        BiasChild Child(int parent, StepKind kind, double logPrior, BiasHypothesis h, double variance, double noise)
        {
            double innovation = difference - h.BiasOf(wheel);
            double ordinary = variance + noise, wide = ordinary + (_prior.WildDeg * _prior.WildDeg);
            double a = (1 - _prior.WildChance) * Density(innovation, ordinary), b = _prior.WildChance * Density(innovation, wide);
            // Far out both densities vanish: the wild one decides then.
            double log = a + b > 0 ? Math.Log(a + b) : Math.Log(Math.Max(_prior.WildChance, 1e-300)) - (0.5 * innovation * innovation / wide) - (0.5 * Math.Log(2 * Math.PI * wide));
            return new(parent, kind, h.LogWeight + logPrior + log, innovation, ordinary, wide, a + b > 0 ? b / (a + b) : 1);
        }
    }

    /// <summary>A change that somebody noted: the rig's or a wheel's part may be anywhere within a step of where it was.</summary>
    public void Loosen(int component)
    {
        int n = _wheels + 1;
        foreach (BiasHypothesis h in _all)
            h.Covariance[(component * n) + component] += _prior.StepDeg * _prior.StepDeg;
    }

    /// <summary>Mean and standard uncertainty of a wheel's bias.</summary>
    public (double Mean, double U) Bias(int wheel) => Moments(h => h.BiasOf(wheel), h => h.VarianceOf(wheel));

    /// <summary>Mean and standard uncertainty of the rig's mean.</summary>
    public (double Mean, double U) Rig() => Moments(h => h.Mean[0], h => h.Covariance[0]);

    /// <summary>Expected scatter from piece to piece.</summary>
    public double Scatter() => _all.Sum(h => h.Weight * _prior.Scatter[h.Scatter].Deg);

    /// <summary>Chance that a wheel's bias is at most x.</summary>
    public double Below(int wheel, double x) =>
        _all.Sum(h => h.Weight * Distributions.NormalLowerTail((x - h.BiasOf(wheel)) / Math.Sqrt(h.VarianceOf(wheel))));

    /// <summary>Chance that the rig's mean is at most x.</summary>
    public double RigBelow(double x) => _all.Sum(h => h.Weight * Distributions.NormalLowerTail((x - h.Mean[0]) / Math.Sqrt(h.Covariance[0])));

    /// <summary>The value that a wheel's bias stays below with this chance, by halving.</summary>
    public double Quantile(int wheel, double share)
    {
        double low = _all.Min(h => h.BiasOf(wheel) - (9 * Math.Sqrt(h.VarianceOf(wheel)))), high = _all.Max(h => h.BiasOf(wheel) + (9 * Math.Sqrt(h.VarianceOf(wheel))));
        for (int i = 0; i < 50; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = Below(wheel, middle) < share ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    private (double Mean, double U) Moments(Func<BiasHypothesis, double> mean, Func<BiasHypothesis, double> variance)
    {
        double m = _all.Sum(h => h.Weight * mean(h));
        double v = _all.Sum(h => h.Weight * (variance(h) + ((mean(h) - m) * (mean(h) - m))));
        return (m, Math.Sqrt(v));
    }

    private void Normalise()
    {
        double top = _all.Max(h => h.LogWeight);
        double log = top + Math.Log(_all.Sum(h => Math.Exp(h.LogWeight - top)));
        foreach (BiasHypothesis h in _all)
        {
            h.LogWeight -= log;
            h.Weight = Math.Exp(h.LogWeight);
        }
    }

    private static double Density(double x, double variance) => Math.Exp(-0.5 * x * x / variance) / Math.Sqrt(2 * Math.PI * variance);
}
