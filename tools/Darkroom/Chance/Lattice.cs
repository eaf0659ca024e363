namespace Whetwright.Darkroom.Chance;

/// <summary>
/// Evenly spread points of the unit cube in up to six dimensions: the additive recurrence with the powers of the root of x^(d+1) = x + 1,
/// turned by a random shift per scene (Roberts' generalised golden ratio, from memory).
/// </summary>
public sealed class Lattice
{
    private readonly double[] _step;
    private readonly double[] _shift;

    public Lattice(int dimensions, Dice dice)
    {
        double root = 1.5;
        for (int i = 0; i < 60; i++)
            root = Math.Pow(1 + root, 1.0 / (dimensions + 1));
        _step = new double[dimensions];
        _shift = new double[dimensions];
        for (int i = 0; i < dimensions; i++)
        {
            _step[i] = Math.Pow(1 / root, i + 1) % 1;
            _shift[i] = dice.Unit();
        }
    }

    /// <summary>Coordinate of a point.</summary>
    public double At(int point, int dimension)
    {
        double value = _shift[dimension] + (_step[dimension] * (point + 1));
        return value - Math.Floor(value);
    }

    /// <summary>Standard normal quantile (Acklam's rational approximation, relative error 1e-9, from memory).</summary>
    public static double NormalQuantile(double p)
    {
        p = Math.Clamp(p, 1e-9, 1 - 1e-9);
        if (p < 0.02425)
            return Tail(Math.Sqrt(-2 * Math.Log(p)));
        if (p > 1 - 0.02425)
            return -Tail(Math.Sqrt(-2 * Math.Log(1 - p)));
        double q = p - 0.5;
        double r = q * q;
        return (((((((((-3.969683028665376e+01 * r) + 2.209460984245205e+02) * r) - 2.759285104469687e+02) * r) + 1.383577518672690e+02) * r
            - 3.066479806614716e+01) * r) + 2.506628277459239e+00) * q
            / ((((((((((-5.447609879822406e+01 * r) + 1.615858368580409e+02) * r) - 1.556989798598866e+02) * r) + 6.680131188771972e+01) * r)
            - 1.328068155288572e+01) * r) + 1);
    }

    private static double Tail(double q) =>
        ((((((((((-7.784894002430293e-03 * q) - 3.223964580411365e-01) * q) - 2.400758277161838e+00) * q) - 2.549732539343734e+00) * q)
        + 4.374664141464968e+00) * q) + 2.938163982698783e+00)
        / ((((((((7.784695709041462e-03 * q) + 3.224671290700398e-01) * q) + 2.445134137142996e+00) * q) + 3.754408661907416e+00) * q) + 1);
}
