namespace Whetwright.Core.Metrology;

/// <summary>Tail probabilities that gauge studies and intervals need.</summary>
public static class Distributions
{
    /// <summary>Chance that an F-distributed value with (n₁, n₂) degrees of freedom is at least f: I_x(n₂/2, n₁/2) with x = n₂/(n₂ + n₁ f).</summary>
    /// <remarks>Source: [dlmf] 8.17, [abramowitz] 26.6.2.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Degrees of freedom not above zero, or f is NaN.</exception>
    public static double FUpperTail(double f, double numeratorDegrees, double denominatorDegrees)
    {
        if (!(numeratorDegrees > 0))
            throw new ArgumentOutOfRangeException(nameof(numeratorDegrees), numeratorDegrees, "Must be above zero.");
        if (!(denominatorDegrees > 0))
            throw new ArgumentOutOfRangeException(nameof(denominatorDegrees), denominatorDegrees, "Must be above zero.");
        if (double.IsNaN(f))
            throw new ArgumentOutOfRangeException(nameof(f), f, "Must be a number.");
        if (f <= 0)
            return 1;
        return double.IsPositiveInfinity(f)
            ? 0
            : RegularizedIncompleteBeta(denominatorDegrees / (denominatorDegrees + (numeratorDegrees * f)), denominatorDegrees / 2, numeratorDegrees / 2);
    }

    /// <summary>I_x(a, b), the regularised incomplete beta function, 0 ≤ x ≤ 1, a and b above zero, to about 1e-13.</summary>
    /// <remarks>Continued fraction, evaluated by Lentz's method. Source: [dlmf] 8.17.22.</remarks>
    public static double RegularizedIncompleteBeta(double x, double a, double b)
    {
        if (!(x >= 0 && x <= 1))
            throw new ArgumentOutOfRangeException(nameof(x), x, "Must lie from 0 to 1.");
        if (x is 0 or 1)
            return x;
        if (x > (a + 1) / (a + b + 2))
            return 1 - RegularizedIncompleteBeta(1 - x, b, a);

        const double tiny = 1e-300;
        double front = Math.Exp((a * Math.Log(x)) + (b * Math.Log(1 - x)) + LogGamma(a + b) - LogGamma(a) - LogGamma(b)) / a;
        double c = 1;
        double d = 1 - ((a + b) * x / (a + 1));
        d = 1 / (Math.Abs(d) < tiny ? tiny : d);
        double fraction = d;
        for (int m = 1; m <= 5000; m++)
        {
            double even = m * (b - m) * x / ((a + (2 * m) - 1) * (a + (2 * m)));
            double odd = -(a + m) * (a + b + m) * x / ((a + (2 * m)) * (a + (2 * m) + 1));
            double change = 1;
            foreach (double term in (ReadOnlySpan<double>)[even, odd])
            {
                d = 1 + (term * d);
                d = 1 / (Math.Abs(d) < tiny ? tiny : d);
                c = 1 + (term / c);
                c = Math.Abs(c) < tiny ? tiny : c;
                change = c * d;
                fraction *= change;
            }

            if (Math.Abs(change - 1) < 1e-15)
                break;
        }

        return front * fraction;
    }

    /// <summary>ln Γ(z) for z above zero, to about 1e-14 relative, by the Lanczos approximation with g = 7, n = 9.</summary>
    /// <remarks>Source: C. Lanczos, SIAM J. Numer. Anal. B 1, 1964; coefficients from P. Godfrey's table (memory).</remarks>
    public static double LogGamma(double z)
    {
        if (!(z > 0))
            throw new ArgumentOutOfRangeException(nameof(z), z, "Must be above zero.");
        ReadOnlySpan<double> coefficients =
        [
            0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
            12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
        ];
        if (z < 0.5)
            return Math.Log(Math.PI / Math.Sin(Math.PI * z)) - LogGamma(1 - z);
        double shifted = z - 1;
        double sum = coefficients[0];
        for (int at = 1; at < coefficients.Length; at++)
            sum += coefficients[at] / (shifted + at);
        double t = shifted + 7.5;
        return (0.5 * Math.Log(2 * Math.PI)) + ((shifted + 0.5) * Math.Log(t)) - t + Math.Log(sum);
    }
}
