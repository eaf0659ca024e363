namespace Whetwright.Sight.Outlines;

/// <summary>
/// Rooms drawn evenly from what is likely beforehand, one or two lamps and a sky, so that a search begins near each light that may explain a photo. No chance in it: Halton's
/// sequence (J. H. Halton, Numerische Mathematik 2, 1960, 84–90), a prime for each number.
/// </summary>
internal static class RoomDraws
{
    /// <summary>The sequence's first numbers hang together for the larger primes. Chosen.</summary>
    private const int Skipped = 20;

    /// <summary>A few rooms' lights.</summary>
    /// <param name="count">How many.</param>
    /// <param name="usual">Heights and blur.</param>
    /// <param name="bothSides">Whether lamps may shade the spine's side and all the light is told; else only what shades the edge's side.</param>
    public static IEnumerable<EdgeLight> Of(int count, EdgeLight usual, bool bothSides) =>
        Enumerable.Range(Skipped + 1, count).Select(i => One(i, usual, bothSides));

    // Spreads of every number: chosen from what lamps and blades are like, as the prior is, a little wider.
    private static EdgeLight One(int i, EdgeLight usual, bool bothSides)
    {
        double Normal(int prime) => StandardNormal(Halton(i, prime));
        double Lean(int prime) => bothSides ? 0.6 * Normal(prime) : 0.02 + Math.Abs(0.55 * Normal(prime));
        EdgeLamp Lamp(double most, int share, int lean, int along, int spread) => new(0.1 + (most * Halton(i, share)), Lean(lean), 0.5 * Normal(along), 0.14 * Math.Exp(0.6 * Normal(spread)));
        EdgeLamp[] lamps = Halton(i, 2) < 0.5 ? [Lamp(0.35, 3, 5, 7, 11), Lamp(0.35, 13, 17, 19, 23)] : [Lamp(0.5, 3, 5, 7, 11)];
        double left = 1 - lamps.Sum(l => l.Share);
        double least = bothSides ? 0.8 : 0.4;
        return usual with { BevelMm = Math.Clamp(0.55 * Math.Exp(0.5 * Normal(31)), 0.15, 2.2), Sky = left * (least + ((1 - least) * Halton(i, 29))), Lamps = lamps };
    }

    /// <summary>The i-th number's digits to a base, mirrored at the point.</summary>
    internal static double Halton(int i, int prime)
    {
        double digit = 1;
        double sum = 0;
        for (; i > 0; i /= prime)
        {
            digit /= prime;
            sum += digit * (i % prime);
        }

        return sum;
    }

    /// <summary>The standard normal number below which a share lies, within 0.02, cut off at one in a hundred: Tukey's lambda with λ = 0.135 (from memory).</summary>
    internal static double StandardNormal(double share)
    {
        double p = Math.Clamp(share, 0.01, 0.99);
        return (Math.Pow(p, 0.135) - Math.Pow(1 - p, 0.135)) / 0.1975;
    }
}
