namespace Whetwright.Core.Metrology.Learning;

/// <summary>A step that a hypothesis holds, with the bias of the wheel in use before it and, once another step came, after it.</summary>
internal sealed record StepMark(int At, int Wheel, bool OfWheel, double BeforeMean, double BeforeVariance, StepMark? Earlier)
{
    public double? AfterMean { get; init; }

    public double AfterVariance { get; init; }
}

/// <summary>One way it may have been: a scatter, the steps so far, and given those a Gaussian over the rig's mean (0) and the wheels' own parts (1 …).</summary>
internal sealed class BiasHypothesis(double logWeight, int scatter, double[] mean, double[] covariance, StepMark? step)
{
    public double LogWeight { get; set; } = logWeight;

    public double Weight { get; set; }

    public int Scatter { get; } = scatter;

    public double[] Mean { get; } = mean;

    /// <summary>Row by row.</summary>
    public double[] Covariance { get; } = covariance;

    public StepMark? Step { get; } = step;

    private int Size => Mean.Length;

    public double BiasOf(int wheel) => Mean[0] + Mean[wheel];

    public double VarianceOf(int wheel) => Covariance[0] + (2 * Covariance[wheel]) + Covariance[(wheel * Size) + wheel];

    /// <summary>
    /// What becomes of it with one reading on a wheel, after drift and perhaps a step: the ordinary reading and the wild one, weighed and drawn together by
    /// their moments. Rank one: with g = P·h, P' = P − g·gᵀ/S. Source: [kalman].
    /// </summary>
    /// <param name="child">Which step came before the reading, and how likely the readings are.</param>
    /// <param name="at">Index of the piece.</param>
    /// <param name="wheel">Index of the wheel.</param>
    /// <param name="drift">Variance added to the rig and the wheel.</param>
    /// <param name="stepVariance">Variance that a step adds.</param>
    public BiasHypothesis Next(in BiasChild child, int at, int wheel, (double Rig, double Wheel) drift, double stepVariance)
    {
        int n = Size;
        double[] p = [.. Covariance];
        p[0] += drift.Rig;
        p[(wheel * n) + wheel] += drift.Wheel;
        StepMark? latest = Step;
        if (child.Kind != StepKind.None)
        {
            StepMark? before = latest is { AfterMean: null } last
                ? last with { AfterMean = BiasOf(last.Wheel), AfterVariance = VarianceOf(last.Wheel) }
                : latest;
            latest = new(at, wheel, child.Kind == StepKind.Wheel, BiasOf(wheel), VarianceOf(wheel), before);
            int moved = child.Kind == StepKind.Wheel ? wheel : 0;
            p[(moved * n) + moved] += stepVariance;
        }

        double ordinary = 1 - child.Wild;
        double gain = (ordinary / child.OrdinaryVariance) + (child.Wild / child.WildVariance);
        double apart = (1 / child.OrdinaryVariance) - (1 / child.WildVariance);
        double spread = ordinary * child.Wild * child.Innovation * child.Innovation * apart * apart;
        double[] updated = new double[n];
        double[] g = new double[n];
        for (int i = 0; i < n; i++)
        {
            g[i] = p[i * n] + p[(i * n) + wheel];
            updated[i] = Mean[i] + (g[i] * child.Innovation * gain);
        }

        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                p[(i * n) + j] += g[i] * g[j] * (spread - gain);
        }

        return new(child.LogWeight, Scatter, updated, p, latest);
    }
}

/// <summary>What came before a reading.</summary>
internal enum StepKind
{
    /// <summary>No step.</summary>
    None = 0,

    /// <summary>The rig moved.</summary>
    Rig = 1,

    /// <summary>The wheel alone moved.</summary>
    Wheel = 2,
}

/// <summary>A hypothesis after one reading, before it is worked out.</summary>
internal readonly record struct BiasChild(
    int Parent, StepKind Kind, double LogWeight, double Innovation, double OrdinaryVariance, double WildVariance, double Wild);
