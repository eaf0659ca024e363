namespace Whetwright.Core.Fixtures;

/// <summary>
/// The hollow a wheel of radius R leaves in a facet of width w (chord from apex to shoulder). The angle is smallest at the apex and grows
/// toward the shoulder, because the facet is an arc. Lengths mm, angles rad. Source: circle geometry; sagitta checked against [sagitta].
/// </summary>
public static class HollowGrind
{
    /// <summary>α_shoulder = α + 2 asin(w/2R): the tangent's turn over a chord. NaN where w &gt; 2R.</summary>
    public static double ShoulderAngleRad(double apexAngleRad, double widthMm, double wheelRadiusMm) =>
        apexAngleRad + (2 * Math.Asin(widthMm / (2 * wheelRadiusMm)));

    /// <summary>α_chord = α + asin(w/2R): the mean angle a straight edge laid on the facet would show.</summary>
    public static double ChordAngleRad(double apexAngleRad, double widthMm, double wheelRadiusMm) =>
        apexAngleRad + Math.Asin(widthMm / (2 * wheelRadiusMm));

    /// <summary>s = R − √(R² − w²/4), mm, in the form w²/4/(R + √(R² − w²/4)) that keeps its digits: depth of the hollow.</summary>
    public static double SagittaMm(double widthMm, double wheelRadiusMm)
    {
        double quarter = widthMm * widthMm / 4;
        return quarter / (wheelRadiusMm + Math.Sqrt((wheelRadiusMm * wheelRadiusMm) - quarter));
    }

    /// <summary>R = s/2 + w²/(8s), mm: the inverse.</summary>
    public static double RadiusMm(double widthMm, double sagittaMm) => (sagittaMm / 2) + (widthMm * widthMm / (8 * sagittaMm));
}
