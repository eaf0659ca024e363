namespace Whetwright.Darkroom.Chance;

/// <summary>Seeded random numbers (xoshiro256**, seeded by splitmix64): the same on every machine and runtime.</summary>
public sealed class Dice
{
    private ulong _a;
    private ulong _b;
    private ulong _c;
    private ulong _d;

    /// <summary>A stream of its own for every seed and purpose.</summary>
    public Dice(int seed, string purpose)
    {
        ulong state = unchecked((ulong)seed * 0x9E3779B97F4A7C15UL);
        foreach (char letter in purpose)
            state = unchecked((state ^ letter) * 0x100000001B3UL);
        _a = Split(ref state);
        _b = Split(ref state);
        _c = Split(ref state);
        _d = Split(ref state);
    }

    /// <summary>The next 64 bits.</summary>
    public ulong Bits()
    {
        unchecked
        {
            ulong result = ulong.RotateLeft(_b * 5, 7) * 9;
            ulong t = _b << 17;
            _c ^= _a;
            _d ^= _b;
            _b ^= _c;
            _a ^= _d;
            _c ^= t;
            _d = ulong.RotateLeft(_d, 45);
            return result;
        }
    }

    /// <summary>Uniform in [0, 1).</summary>
    public double Unit() => (Bits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Uniform between two values.</summary>
    public double Between(double from, double to) => from + ((to - from) * Unit());

    /// <summary>Uniform in a range.</summary>
    public double In(Span range) => Between(range.From, range.To);

    /// <summary>Uniform in the logarithm, both ends above zero.</summary>
    public double LogIn(Span range) => Math.Exp(Between(Math.Log(range.From), Math.Log(range.To)));

    /// <summary>True with a probability.</summary>
    public bool Chance(double probability) => Unit() < probability;

    /// <summary>One of several.</summary>
    public T Pick<T>(IReadOnlyList<T> of) => of[(int)(Unit() * of.Count)];

    /// <summary>Standard normal (Box and Muller), at most <paramref name="most"/> from zero.</summary>
    public double Normal(double most = 3.5)
    {
        double value;
        do
            value = Math.Sqrt(-2 * Math.Log(1 - Unit())) * Math.Cos(2 * Math.PI * Unit());
        while (Math.Abs(value) > most);
        return value;
    }

    private static ulong Split(ref ulong state)
    {
        unchecked
        {
            ulong z = state += 0x9E3779B97F4A7C15UL;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }
}

/// <summary>A range of a parameter, both ends included.</summary>
public readonly record struct Span(double From, double To);
