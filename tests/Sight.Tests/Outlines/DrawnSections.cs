using Whetwright.Sight.Outlines;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>Sections across an edge drawn sample by sample: sharp steps, the sky's share and lamps' shadows, summed under a Gaussian blur.</summary>
internal static class DrawnSections
{
    public const double BlurMm = 0.22;
    public const double Sky = 0.5;
    public const double HeelMm = 1.8;
    public const double TipMm = 0.5;
    public const double BevelMm = 0.6;

    public static double HeightAt(double share, double heelMm = HeelMm, double tipMm = TipMm) => heelMm + ((tipMm - heelMm) * share);

    // The true edge wanders about the line of stations.
    public static double True(double share) => 0.15 + (0.1 * Math.Sin(5 * share));

    public static double SkyHidden(double outside, double z) => 0.5 * (1 - (outside / Math.Sqrt((outside * outside) + (z * z))));

    public static List<EdgeProfile> Drawn(double share, double lean, Func<int, double> bevel, Func<int, double> flank, double shoulder = 0, double spread = 0, double behind = 0, double? level = null, double[]? moved = null, Func<int, double, double, double>? steel = null, double heelMm = HeelMm, double tipMm = TipMm, double turnRad = 0)
    {
        var sections = new List<EdgeProfile>();
        var random = new Random(20260101);
        double Shown(int i, double x, double light) => x > 0 && steel is not null ? steel(i, x, light) : light;
        for (int i = 0; i < 24; i++)
        {
            double along = i / 23.0;
            double z = level ?? HeightAt(along, heelMm, tipMm);
            double[] light = new double[EdgeProfile.Count];
            for (int k = 0; k < light.Length; k++)
                light[k] = Math.Min(1, Blurred(EdgeProfile.FromMm + (k * EdgeProfile.StepMm) - True(along) - (behind * z) + (moved?[i] ?? 0), x => Shown(i, x, Sharp(x, z, share, lean * z, bevel(i), flank(i), shoulder, spread * z))) + (0.003 * (random.NextDouble() - 0.5)));
            sections.Add(new(3 + (2 * i), along, turnRad, 0, [light, light, light]));
        }

        return sections;
    }

    public static double[,] Noise(int size)
    {
        var random = new Random(20260102);
        double[,] noise = new double[size, size];
        for (int i = 0; i < size * size; i++)
            noise[i / size, i % size] = random.NextDouble();
        return noise;
    }

    public static double At(double[,] noise, double x, double y)
    {
        int size = noise.GetLength(0);
        (int i, int k) = ((int)x, (int)y);
        (double u, double v) = (x - i, y - k);
        double Of(int a, int b) => noise[a % size, b % size];
        return ((1 - v) * (((1 - u) * Of(i, k)) + (u * Of(i + 1, k)))) + (v * (((1 - u) * Of(i, k + 1)) + (u * Of(i + 1, k + 1))));
    }

    private static double Sharp(double x, double z, double share, double rim, double bevel, double flank, double shoulder, double half)
    {
        const double paper = 0.55;
        return Math.Abs(x - BevelMm) < 0.06 && shoulder > 0 ? shoulder : x > BevelMm ? flank : x > 0 ? bevel : paper * (1 - (Sky * SkyHidden(-x, z)) - (share * KeptOff(x + rim, half)));
    }

    // How much of a lamp is hidden this far behind its shadow's middle, the lamp evenly bright across.
    private static double KeptOff(double behindMm, double half) => half > 0 ? Math.Clamp(0.5 + (behindMm / (2 * half)), 0, 1) : behindMm > 0 ? 1 : 0;

    private static double Blurred(double x, Func<double, double> sharp)
    {
        double sum = 0;
        double weight = 0;
        for (double t = -4; t <= 4; t += 0.05)
        {
            double w = Math.Exp(-t * t / 2);
            sum += w * sharp(x + (t * BlurMm));
            weight += w;
        }

        return sum / weight;
    }
}
