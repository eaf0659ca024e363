using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>What bends: the blade from jaw to edge, as a tapered cantilever.</summary>
/// <param name="FreeLengthMm">Edge to jaw, mm.</param>
/// <param name="EdgeThicknessMm">Thickness at the shoulder, mm.</param>
/// <param name="PrimaryHalfRad">Primary half-angle: the thickness grows by 2 tan β per millimetre from the edge.</param>
/// <param name="MostThicknessMm">Thickness it stops at (the spine), mm; infinite where not known.</param>
/// <param name="ContactWidthMm">Width of abrasive under load, mm; the load spreads from it at 45° to both sides.</param>
public sealed record TaperedBlade(double FreeLengthMm, double EdgeThicknessMm, double PrimaryHalfRad, double MostThicknessMm, double ContactWidthMm);

/// <summary>
/// How far a thin blade bends away under the hand, so that it grinds flatter than set. An estimate: small bending, plane sections, a rigid jaw and holder,
/// load at the edge spreading at 45°, no help from the blade to either side. Source: beam theory (Euler–Bernoulli, any text); spreading: chosen, not derived.
/// </summary>
public static class Flex
{
    /// <summary>200 000 N/mm²: steel, by and large (tables give 190 to 215; from memory).</summary>
    public const double SteelModulusNPerMm2 = 200_000;

    private const int Panels = 64;

    private static readonly (double Node, double Weight)[] Gauss =
        [(-Math.Sqrt(0.6), 5.0 / 9), (0, 8.0 / 9), (Math.Sqrt(0.6), 5.0 / 9)];

    /// <summary>
    /// φ = ∫₀ᴸ F·x/(E·I(x)) dx, I = b·t³/12, b = b₀ + 2x, t = min(t_e + 2x tan β, t_max), rad: the turn at the edge under a force F square to the blade.
    /// By Gauss's three-point rule on panels that widen with x.
    /// </summary>
    public static double TurnRad(TaperedBlade blade, double forceN, double modulusNPerMm2 = SteelModulusNPerMm2)
    {
        double sum = 0;
        double from = 0;
        for (int i = 1; i <= Panels; i++)
        {
            double part = (double)i / Panels;
            double to = blade.FreeLengthMm * part * part;
            double half = (to - from) / 2;
            foreach ((double node, double weight) in Gauss)
                sum += weight * half * Integrand(blade, from + half + (half * node));
            from = to;
        }

        return forceN * sum / modulusNPerMm2;
    }

    /// <summary>x/I(x), 1/mm³: the part of the integral that is the blade's alone.</summary>
    public static double Integrand(TaperedBlade blade, double xMm)
    {
        double thickness = Math.Min(blade.EdgeThicknessMm + (2 * xMm * Math.Tan(blade.PrimaryHalfRad)), blade.MostThicknessMm);
        double width = blade.ContactWidthMm + (2 * xMm);
        return 12 * xMm / (width * thickness * thickness * thickness);
    }

    /// <summary>φ = F·L²/(2·E·I), rad: the uniform cantilever, for comparison.</summary>
    public static double UniformTurnRad(double forceN, double lengthMm, double inertiaMm4, double modulusNPerMm2 = SteelModulusNPerMm2) =>
        forceN * lengthMm * lengthMm / (2 * modulusNPerMm2 * inertiaMm4);

    /// <summary>F = tolerance/(φ per newton), N: the hand force that still keeps the tolerance (φ is proportional to F).</summary>
    public static double ForceWithinN(TaperedBlade blade, double toleranceRad, double modulusNPerMm2 = SteelModulusNPerMm2) =>
        toleranceRad / TurnRad(blade, 1, modulusNPerMm2);

    /// <summary>Derivation of the force.</summary>
    public static Derivation Explain(TaperedBlade blade, Angle tolerance) => new(
        "hand force that keeps the tolerance",
        ForceWithinN(blade, tolerance.Radians),
        "N",
        "F = tolerance/∫₀ᴸ x/(E·I) dx, I = b·t³/12, b = b₀ + 2x, t = t_e + 2x tan β",
        "beam theory, any text; load spreading at 45° chosen, not derived; an estimate",
        [
            new("tolerance", "turn allowed", tolerance.Degrees, "deg", ForceWithinN(blade, double.DegreesToRadians(1))),
            new("L", "edge to jaw", blade.FreeLengthMm, "mm"),
            new("t_e", "thickness at the shoulder", blade.EdgeThicknessMm, "mm"),
            new("β", "primary half-angle", double.RadiansToDegrees(blade.PrimaryHalfRad), "deg"),
            new("b₀", "width of abrasive under load", blade.ContactWidthMm, "mm"),
            new("E", "modulus of steel", SteelModulusNPerMm2, "N/mm²", ForceWithinN(blade, tolerance.Radians) / SteelModulusNPerMm2, IsDefault: true),
        ],
        "fixtures.flex/1");
}
