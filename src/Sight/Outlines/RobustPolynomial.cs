namespace Whetwright.Sight.Outlines;

/// <summary>y(x) as a polynomial in x scaled to −1 … 1, least squares with Tukey's weights so that chips and corners do not pull.</summary>
internal sealed class RobustPolynomial
{
    private readonly double[] _c;
    private readonly double _middle;
    private readonly double _half;

    private RobustPolynomial(double[] c, double middle, double half) => (_c, _middle, _half) = (c, middle, half);

    public double At(double x)
    {
        double t = (x - _middle) / _half;
        double y = 0;
        for (int k = _c.Length - 1; k >= 0; k--)
            y = (y * t) + _c[k];
        return y;
    }

    public double Slope(double x)
    {
        double t = (x - _middle) / _half;
        double y = 0;
        for (int k = _c.Length - 1; k >= 1; k--)
            y = (y * t) + (k * _c[k]);
        return y / _half;
    }

    /// <summary>Fits; residuals beyond about four times <paramref name="scale"/> lose their say.</summary>
    public static RobustPolynomial Fit(ReadOnlySpan<double> x, ReadOnlySpan<double> y, int degree, double scale, ReadOnlySpan<double> weights = default)
    {
        int n = x.Length;
        double low = double.MaxValue;
        double high = double.MinValue;
        foreach (double v in x)
            (low, high) = (Math.Min(low, v), Math.Max(high, v));
        double middle = (low + high) / 2;
        double half = Math.Max(1e-6, (high - low) / 2);
        int terms = Math.Min(degree + 1, Math.Max(1, n));
        double[] c = new double[terms];
        double[] w = new double[n];
        Array.Fill(w, 1);
        double[] r = new double[n];
        double now = double.PositiveInfinity;
        Span<double> power = stackalloc double[terms];
        for (int pass = 0; pass < 8; pass++)
        {
            double[,] a = new double[terms, terms];
            double[] b = new double[terms];
            for (int i = 0; i < n; i++)
            {
                double weight = w[i] * (weights.IsEmpty ? 1 : weights[i]);
                if (weight <= 0)
                    continue;
                double t = (x[i] - middle) / half;
                power[0] = 1;
                for (int k = 1; k < terms; k++)
                    power[k] = power[k - 1] * t;
                for (int k = 0; k < terms; k++)
                {
                    b[k] += weight * power[k] * y[i];
                    for (int m = 0; m < terms; m++)
                        a[k, m] += weight * power[k] * power[m];
                }
            }

            for (int k = 0; k < terms; k++)
                a[k, k] += 1e-9 * n;
            double[,]? inverse = LeastSquares.Invert(a);
            if (inverse is null)
                break;
            for (int k = 0; k < terms; k++)
            {
                c[k] = 0;
                for (int m = 0; m < terms; m++)
                    c[k] += inverse[k, m] * b[m];
            }

            var fit = new RobustPolynomial(c, middle, half);
            for (int i = 0; i < n; i++)
                r[i] = Math.Abs(y[i] - fit.At(x[i]));
            double median = r.Order().ElementAt(n / 2);
            now = Math.Min(now, Math.Max(scale, 1.5 * median));
            double cut = 4 * now;
            for (int i = 0; i < n; i++)
            {
                double q = r[i] / cut;
                w[i] = q >= 1 ? 0 : (1 - (q * q)) * (1 - (q * q));
            }
        }

        return new(c, middle, half);
    }
}
