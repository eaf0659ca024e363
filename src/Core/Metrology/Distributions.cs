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

    /// <summary>Chance that a standard normal value is at most z: the power series up to |z| = 3, beyond it the continued fraction of the tail.</summary>
    /// <remarks>Source: [abramowitz] 26.2.11 and 26.2.14.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">z is NaN.</exception>
    public static double NormalLowerTail(double z)
    {
        if (double.IsNaN(z))
            throw new ArgumentOutOfRangeException(nameof(z), z, "Must be a number.");
        double a = Math.Abs(z);
        if (a > 38)
            return z > 0 ? 1 : 0;
        double density = Math.Exp(-0.5 * z * z) / Math.Sqrt(2 * Math.PI);
        if (a < 3)
        {
            double term = z, sum = z;
            for (int k = 3; Math.Abs(term) > 1e-17 * Math.Abs(sum); k += 2)
            {
                term *= z * z / k;
                sum += term;
            }

            return 0.5 + (density * sum);
        }

        double fraction = 0;
        for (int k = 60; k >= 1; k--)
            fraction = k / (a + fraction);
        double tail = density / (a + fraction);
        return z > 0 ? 1 - tail : tail;
    }

    /// <summary>Value that a standard normal stays below with this chance, by halving.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Share not between 0 and 1.</exception>
    public static double NormalQuantile(double share)
    {
        if (!(share is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "Must lie between 0 and 1.");
        double low = -39, high = 39;
        for (int i = 0; i < 100; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = NormalLowerTail(middle) < share ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }

    /// <summary>P(a, x), the regularised lower incomplete gamma function: series below a + 1, continued fraction above.</summary>
    /// <remarks>Source: [dlmf] 8.11.4 and 8.9.2.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">a not above zero, or x below zero or NaN.</exception>
    public static double RegularizedIncompleteGamma(double a, double x)
    {
        if (!(a > 0))
            throw new ArgumentOutOfRangeException(nameof(a), a, "Must be above zero.");
        if (!(x >= 0))
            throw new ArgumentOutOfRangeException(nameof(x), x, "Must be zero or more.");
        if (x == 0)
            return 0;
        double front = Math.Exp((a * Math.Log(x)) - x - LogGamma(a));
        if (x < a + 1)
        {
            double term = 1 / a, sum = term;
            for (int k = 1; k < 100_000 && term > 1e-17 * sum; k++)
            {
                term *= x / (a + k);
                sum += term;
            }

            return front * sum;
        }

        const double tiny = 1e-300;
        double b = x + 1 - a, c = 1 / tiny, d = 1 / b, fraction = d;
        for (int k = 1; k < 100_000; k++)
        {
            double an = -k * (k - a);
            b += 2;
            d = (an * d) + b;
            d = 1 / (Math.Abs(d) < tiny ? tiny : d);
            c = b + (an / c);
            c = Math.Abs(c) < tiny ? tiny : c;
            fraction *= c * d;
            if (Math.Abs((c * d) - 1) < 1e-15)
                break;
        }

        return 1 - (front * fraction);
    }

    /// <summary>Value that χ² with so many degrees of freedom stays below with this chance, by halving.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Share not between 0 and 1, degrees of freedom not above zero.</exception>
    public static double ChiSquareQuantile(double share, double degreesOfFreedom)
    {
        if (!(share is > 0 and < 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "Must lie between 0 and 1.");
        if (!(degreesOfFreedom > 0))
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "Must be above zero.");
        double high = degreesOfFreedom + 10;
        while (RegularizedIncompleteGamma(degreesOfFreedom / 2, high / 2) < share)
            high *= 2;
        double low = 0;
        for (int i = 0; i < 80; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = RegularizedIncompleteGamma(degreesOfFreedom / 2, middle / 2) < share ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
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
