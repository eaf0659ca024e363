namespace Whetwright.Sight.Outlines;

/// <summary>
/// A step seen through a blurred camera: I(v) = (a − b·g(v))·(1 − Φ((v − u)/σ)) + c·Φ((v − u)/σ). Outside is paper under the contact shadow: a thin
/// plate at height z over paper under an even sky leaves at the distance x from its edge the share (1 + x/√(x² + z²))/2, hence g = 1 minus that;
/// inside is one tone over the few pixels that are used. u is searched, a, b, c are solved. Lamps' own shadows are left out.
/// </summary>
internal sealed class BlurredStep
{
    private const double Step = 0.25;
    private const double OutPx = 4.5;
    private const double SearchPx = 1.6;
    private const double SearchStep = 0.1;

    private readonly double _inPx;
    private readonly double _sigma;
    private readonly int _n;
    private readonly double[] _v;
    private readonly double _height;

    public BlurredStep(double sigmaPx, double heightPx)
    {
        _height = Math.Max(1, heightPx);
        _sigma = Math.Clamp(sigmaPx, 0.45, 4);
        _inPx = Math.Max(2.0, 1.8 * _sigma);
        double outPx = Math.Max(Math.Max(OutPx, 4 * _sigma), 1.5 * _height);
        _n = (int)((outPx + _inPx) / Step) + 1;
        _v = [.. Enumerable.Range(0, _n).Select(i => -outPx + (i * Step))];
    }

    /// <summary>Place of the step from the place that was guessed, its standard uncertainty, px, and its size in linear light.</summary>
    public (double OffsetPx, double UPx, double Contrast) Fit(Func<double, (float B, float G, float R)> light)
    {
        float[][] seen = [new float[_n], new float[_n], new float[_n]];
        for (int i = 0; i < _n; i++)
            (seen[0][i], seen[1][i], seen[2][i]) = light(_v[i]);
        int count = (int)(2 * SearchPx / SearchStep) + 1;
        double[] cost = new double[count];
        double[] size = new double[count];
        int best = 0;
        for (int k = 0; k < count; k++)
        {
            double u = -SearchPx + (k * SearchStep);
            (cost[k], size[k]) = Cost(seen, u);
            if (cost[k] < cost[best])
                best = k;
        }

        double offset = -SearchPx + (best * SearchStep);
        double curvature = 0;
        if (best > 0 && best < count - 1)
        {
            curvature = (cost[best - 1] - (2 * cost[best]) + cost[best + 1]) / (SearchStep * SearchStep);
            if (curvature > 0)
                offset += (cost[best - 1] - cost[best + 1]) / (2 * SearchStep * curvature);
        }

        // Samples a quarter of a pixel apart repeat each other: one in four counts.
        double variance = cost[best] / Math.Max(1, (3 * _n * Step) - 10) * (1 / Step);
        double uPx = curvature > 0 ? Math.Sqrt(2 * variance / curvature) : SearchPx;
        return (offset, Math.Clamp(uPx, 0.03, SearchPx), size[best]);
    }

    private (double Cost, double Size) Cost(float[][] seen, double u)
    {
        Span<double> a = stackalloc double[9];
        Span<double> inside = stackalloc double[_n];
        for (int i = 0; i < _n; i++)
            inside[i] = Phi((_v[i] - u) / _sigma);
        Span<double> shade = stackalloc double[_n];
        for (int i = 0; i < _n; i++)
            shade[i] = Shade((u - _v[i]) / _height);
        for (int i = 0; i < _n; i++)
        {
            double p = 1 - inside[i];
            double q = p * shade[i];
            double r = inside[i];
            a[0] += p * p;
            a[1] += p * q;
            a[2] += p * r;
            a[4] += q * q;
            a[5] += q * r;
            a[8] += r * r;
        }

        a[4] += 0.3; // a weak prior for no shadow
        var tones = new ThreeTones(a[0], a[1], a[2], a[4], a[5], a[8] + 1e-9);
        double cost = 0;
        double size = 0;
        foreach (float[] s in seen)
        {
            double b0 = 0;
            double b1 = 0;
            double b2 = 0;
            double total = 0;
            for (int i = 0; i < _n; i++)
            {
                double p = 1 - inside[i];
                b0 += p * s[i];
                b1 += p * shade[i] * s[i];
                b2 += inside[i] * s[i];
                total += s[i] * s[i];
            }

            (double x, double y, double z) = tones.Solve(b0, b1, b2);
            cost += total - (x * b0) - (y * b1) - (z * b2);
            size = Math.Max(size, Math.Abs(x - z));
        }

        return (cost, size);
    }

    /// <summary>Share of an even sky that a half plane at height 1 hides at the distance x from under its edge.</summary>
    internal static double Shade(double x) => 0.5 * (1 - (x / Math.Sqrt((x * x) + 1)));

    /// <summary>Normal distribution function, logistic approximation (Bowling and others, 2009: 1 / (1 + exp(−0.07056 x³ − 1.5976 x)), from memory, within 0.0002).</summary>
    internal static double Phi(double x) => 1 / (1 + Math.Exp(-x * (1.5976 + (0.07056 * x * x))));
}
