namespace Whetwright.Sight.Pictures;

/// <summary>The sRGB transfer curve between the code that a file holds and the light it stands for, both 0 to 1 (IEC 61966-2-1).</summary>
internal static class SrgbCurve
{
    /// <summary>Light of a code.</summary>
    public static double ToLight(double code) => code <= 0.04045 ? code / 12.92 : Math.Pow((code + 0.055) / 1.055, 2.4);

    /// <summary>Code of a light.</summary>
    public static double ToCode(double light) => light <= 0.0031308 ? 12.92 * light : (1.055 * Math.Pow(light, 1 / 2.4)) - 0.055;
}
