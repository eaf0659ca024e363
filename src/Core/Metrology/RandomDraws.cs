namespace Whetwright.Core.Metrology;

/// <summary>Seeded random numbers of unit scale: xoshiro256** ([vigna]) started by splitmix64, the same on every platform and runtime.</summary>
public sealed class RandomDraws
{
    private readonly ulong[] _state = new ulong[4];
    private double? _spare;

    /// <summary>A sequence that a seed fixes.</summary>
    public RandomDraws(int seed)
    {
        ulong z = unchecked((ulong)seed);
        for (int i = 0; i < 4; i++)
        {
            z = unchecked(z + 0x9E3779B97F4A7C15UL);
            ulong mixed = unchecked((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL);
            mixed = unchecked((mixed ^ (mixed >> 27)) * 0x94D049BB133111EBUL);
            _state[i] = mixed ^ (mixed >> 31);
        }
    }

    /// <summary>Uniform over 0 (included) to 1 (not).</summary>
    public double Uniform()
    {
        ulong result = unchecked(ulong.RotateLeft(_state[1] * 5, 7) * 9);
        ulong shifted = _state[1] << 17;
        _state[2] ^= _state[0];
        _state[3] ^= _state[1];
        _state[1] ^= _state[2];
        _state[0] ^= _state[3];
        _state[2] ^= shifted;
        _state[3] = ulong.RotateLeft(_state[3], 45);
        return (result >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>Normal, mean 0, standard deviation 1 (polar method of Marsaglia).</summary>
    public double Normal()
    {
        if (_spare is { } spare)
        {
            _spare = null;
            return spare;
        }

        double u, v, s;
        do
        {
            u = (2 * Uniform()) - 1;
            v = (2 * Uniform()) - 1;
            s = (u * u) + (v * v);
        }
        while (s is >= 1 or 0);
        double scale = Math.Sqrt(-2 * Math.Log(s) / s);
        _spare = v * scale;
        return u * scale;
    }

    /// <summary>A distribution with mean 0 and standard uncertainty 1 (for Student's t: scale 1, so its standard deviation is larger).</summary>
    public double Standard(InputDistribution distribution, double degreesOfFreedom = double.PositiveInfinity) => distribution switch
    {
        InputDistribution.Rectangular => Math.Sqrt(3) * ((2 * Uniform()) - 1),
        InputDistribution.Triangular => Math.Sqrt(6) * (Uniform() + Uniform() - 1),
        InputDistribution.StudentT => T(degreesOfFreedom),
        _ => Normal(),
    };

    /// <summary>Student's t by Bailey's polar method; any degrees of freedom above zero.</summary>
    private double T(double degreesOfFreedom)
    {
        if (!(degreesOfFreedom > 0))
            throw new ArgumentOutOfRangeException(nameof(degreesOfFreedom), degreesOfFreedom, "Must be above zero.");
        if (double.IsPositiveInfinity(degreesOfFreedom))
            return Normal();
        double u, v, w;
        do
        {
            u = (2 * Uniform()) - 1;
            v = (2 * Uniform()) - 1;
            w = (u * u) + (v * v);
        }
        while (w is > 1 or 0);
        return u * Math.Sqrt(degreesOfFreedom * (Math.Pow(w, -2 / degreesOfFreedom) - 1) / w);
    }
}
