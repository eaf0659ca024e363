namespace Whetwright.Core.Metrology.Charts;

/// <summary>Factors of control charts for samples of n normal values, computed. Source: [montgomery] Appendix VI for what they are.</summary>
public static class ControlConstants
{
    /// <summary>c4: mean of the sample standard deviation over σ, √(2/(n−1))·Γ(n/2)/Γ((n−1)/2).</summary>
    public static double C4(int n) => Math.Sqrt(2.0 / (Size(n) - 1)) * Math.Exp(Distributions.LogGamma(n / 2.0) - Distributions.LogGamma((n - 1) / 2.0));

    /// <summary>d2: mean of the range over σ, ∫ 1 − Φⁿ − (1 − Φ)ⁿ dx (L. H. C. Tippett, 1925, citation from memory).</summary>
    public static double D2(int n)
    {
        _ = Size(n);
        return Simpson(x =>
        {
            double p = Distributions.NormalLowerTail(x);
            return 1 - Math.Pow(p, n) - Math.Pow(1 - p, n);
        });
    }

    /// <summary>d3: standard deviation of the range over σ, from E[R²] = 2∬_{y&lt;x} 1 − Φ(x)ⁿ − (1 − Φ(y))ⁿ + (Φ(x) − Φ(y))ⁿ dy dx.</summary>
    public static double D3OfRange(int n)
    {
        double mean = D2(n);
        double square = 2 * Simpson(x =>
        {
            double above = Distributions.NormalLowerTail(x);
            double top = 1 - Math.Pow(above, n);
            return Simpson(y =>
            {
                double below = Distributions.NormalLowerTail(y);
                return top - Math.Pow(1 - below, n) + Math.Pow(above - below, n);
            }, x, 120);
        }, Far, 120);
        return Math.Sqrt(square - (mean * mean));
    }

    /// <summary>A2: limits of means from the mean range, 3/(d2·√n).</summary>
    public static double A2(int n) => 3 / (D2(n) * Math.Sqrt(n));

    /// <summary>A3: limits of means from the mean standard deviation, 3/(c4·√n).</summary>
    public static double A3(int n) => 3 / (C4(n) * Math.Sqrt(n));

    /// <summary>B3 and B4: limits of standard deviations over their mean, 1 ∓ 3·√(1 − c4²)/c4, not below zero.</summary>
    public static (double B3, double B4) B(int n)
    {
        double c4 = C4(n), width = 3 * Math.Sqrt(1 - (c4 * c4)) / c4;
        return (Math.Max(0, 1 - width), 1 + width);
    }

    /// <summary>D3 and D4: limits of ranges over their mean, 1 ∓ 3·d3/d2, not below zero.</summary>
    public static (double D3, double D4) D(int n)
    {
        double width = 3 * D3OfRange(n) / D2(n);
        return (Math.Max(0, 1 - width), 1 + width);
    }

    private const double Far = 9;

    private static int Size(int n) => n is >= 2 and <= 100 ? n : throw new ArgumentOutOfRangeException(nameof(n), n, "Must be from 2 to 100.");

    private static double Simpson(Func<double, double> f, double to = Far, int parts = 600)
    {
        if (to <= -Far)
            return 0;
        double h = (to + Far) / parts, sum = f(-Far) + f(to);
        for (int i = 1; i < parts; i++)
            sum += f(-Far + (i * h)) * (i % 2 == 1 ? 4 : 2);
        return sum * h / 3;
    }
}
