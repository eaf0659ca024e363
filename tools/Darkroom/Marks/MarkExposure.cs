using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>Which photograph of a scene.</summary>
public enum PhotoKind
{
    /// <summary>Room light and laser.</summary>
    Lit,

    /// <summary>Dark room, exposed for the marks.</summary>
    Dark,

    /// <summary>As lit, laser off.</summary>
    Off,
}

/// <summary>What the exposure makes of light: sensor value 1 is full.</summary>
/// <param name="PerWatt">Sensor value per W/m² of laser light on the sheet.</param>
/// <param name="AmbientWatt">Room light, in the laser's W/m² that would look as bright.</param>
/// <param name="Gain">Amplification; the full well holds this much less light.</param>
/// <param name="LaserOn">Whether the laser shines.</param>
public sealed record MarkExposure(double PerWatt, double AmbientWatt, double Gain, bool LaserOn)
{
    public const double PaperWhite = 0.85;

    /// <summary>W/m² of laser light that fill the sensor.</summary>
    public double SaturatingWatt => 1 / PerWatt;

    /// <summary>Exposure as a phone would choose it, or as one sets it by hand in the dark.</summary>
    public static MarkExposure Of(SceneLight light, PhotoKind kind)
    {
        Shot shot = light.Scene.Shot;
        Dice dice = new(light.Scene.Seed, "exposure");
        double meter = dice.Between(0, 1.6) * Math.Clamp(1 - (Math.Log10(shot.AmbientLux) / 2), 0, 1);
        double markLevel = dice.Between(0.5, 1.6);
        double darkLevel = dice.LogIn(new(0.006, 0.03));
        double ambient = shot.AmbientLux / 1000;
        if (kind == PhotoKind.Dark)
        {
            double weaker = Math.Min(light.Of(Side.Right, "bevel").Map.Measure().Peak, light.Of(Side.Left, "bevel").Map.Measure().Peak);
            double perWatt = Math.Min(4000, markLevel / Math.Max(1e-6, light.WattPerM2(weaker)));
            return new(perWatt, darkLevel / perWatt, Math.Max(1, perWatt / PaperWhite / 10), true);
        }

        double level = Math.Min(0.97, 0.49 * Math.Pow(2, shot.Ev)) / (1 + meter);
        double k = level / ambient;
        return new(k, ambient, Math.Max(1, k / PaperWhite / 10), kind == PhotoKind.Lit);
    }
}
