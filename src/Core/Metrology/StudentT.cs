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
        double log = LogGamma((nu + 1) / 2) - LogGamma(nu / 2) - (0.5 * Math.Log(nu * Math.PI)) - ((nu + 1) / 2 * Math.Log(1 + (t * t / nu)));
        return Math.Exp(log);
    }

    /// <summary>Probability that |T| is at most t: 1 − I(ν/(ν + t²); ν/2, ½). Source: [dlmf] 8.17.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Degrees of freedom not above zero, or a negative t.</exception>
    public static double ProbabilityWithin(double t, double degreesOfFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(t);
        double nu = Math.Min(Above(degreesOfFreedom), 1e7);
        return 1 - IncompleteBeta(nu / (nu + (t * t)), nu / 2, 0.5);
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

    /// <summary>Regularised incomplete beta function by its continued fraction (modified Lentz). Source: [dlmf] 8.17.22.</summary>
    private static double IncompleteBeta(double x, double a, double b)
    {
        if (x <= 0 || x >= 1)
            return x <= 0 ? 0 : 1;
        if (x > (a + 1) / (a + b + 2))
            return 1 - IncompleteBeta(1 - x, b, a);
        double front = Math.Exp(LogGamma(a + b) - LogGamma(a) - LogGamma(b) + (a * Math.Log(x)) + (b * Math.Log(1 - x))) / a;
        double f = 1, c = 1, d = 0;
        for (int i = 0; i <= 2000; i++)
        {
            double m = i / 2;
            double numerator = i == 0 ? 1
                : i % 2 == 0 ? m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m)))
                : -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1));
            d = 1 / NotZero(1 + (numerator * d));
            c = NotZero(1 + (numerator / c));
            f *= c * d;
            if (Math.Abs(1 - (c * d)) < 1e-15)
                break;
        }

        return front * (f - 1);
    }

    private static double NotZero(double value) => Math.Abs(value) < 1e-300 ? 1e-300 : value;

    /// <summary>ln Γ by Stirling's series after raising the argument above 12. Source: [dlmf] 5.11.1.</summary>
    private static double LogGamma(double z)
    {
        double shift = 0;
        while (z < 12)
        {
            shift -= Math.Log(z);
            z++;
        }

        double inverse = 1 / (z * z);
        double series = (1.0 / 12) - (inverse * ((1.0 / 360) - (inverse * ((1.0 / 1260) - (inverse / 1680)))));
        return shift + ((z - 0.5) * Math.Log(z)) - z + (0.5 * Math.Log(2 * Math.PI)) + (series / z);
    }
}
