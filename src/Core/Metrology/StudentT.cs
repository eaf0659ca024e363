namespace Whetwright.Core.Metrology;

/// <summary>Student's t distribution, as coverage factors need it. Degrees of freedom may be fractional or infinite (then it is the normal one).</summary>
public static class StudentT
{
    /// <summary>Density: Γ((ν+1)/2)/(√(νπ)·Γ(ν/2))·(1 + t²/ν)^(−(ν+1)/2). Source: [dlmf] 8.17, [gum] G.3.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Degrees of freedom not above zero.</exception>
    public static double Density(double t, double degreesOfFreedom)
    {
        double nu = Above(degreesOfFreedom);
        if (nu > 1e7)
            return Math.Exp(-0.5 * t * t) / Math.Sqrt(2 * Math.PI);
        double log = Distributions.LogGamma((nu + 1) / 2) - Distributions.LogGamma(nu / 2) - (0.5 * Math.Log(nu * Math.PI)) - ((nu + 1) / 2 * Math.Log(1 + (t * t / nu)));
        return Math.Exp(log);
    }

    /// <summary>Probability that |T| is at most t: 1 − I(ν/(ν + t²); ν/2, ½). Source: [dlmf] 8.17.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Degrees of freedom not above zero, or a negative t.</exception>
    public static double ProbabilityWithin(double t, double degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(t);
        double nu = Math.Min(Above(degreesOfFreedom), 1e7);
        return 1 - Distributions.RegularizedIncompleteBeta(nu / (nu + (t * t)), nu / 2, 0.5);
    }

    /// <summary>The t that holds a share of the probability between −t and t: the coverage factor for that share.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Degrees of freedom not above zero, share not between 0 and 1.</exception>
    public static double CoverageFactor(double share, double degreesOfFreedom)
    {
        if (!(share > 0 && share < 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "Must lie between 0 and 1.");
        double low = 0, high = 1;
        while (ProbabilityWithin(high, degreesOfFreedom) < share && high < 1e12)
            high *= 2;
        for (int i = 0; i < 200 && high - low > 1e-13 * high; i++)
        {
            double middle = (low + high) / 2;
            if (ProbabilityWithin(middle, degreesOfFreedom) < share)
                low = middle;
            else
                high = middle;
        }

        return (low + high) / 2;
    }

    private static double Above(double degreesOfFreedom) => degreesOfFreedom > 0
        ? degreesOfFreedom
        : throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "Must be above zero.");
}
