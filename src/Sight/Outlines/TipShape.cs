namespace Whetwright.Sight.Outlines;

/// <summary>
/// The end of a blade in a frame that stands where its tip was supposed: u along the edge, beyond the tip positive, v square to it toward the spine, mm. Edge and spine
/// are bows that meet at the tip.
/// </summary>
/// <param name="TipMm">u of the tip.</param>
/// <param name="EdgeMm">v of the edge at u = 0.</param>
/// <param name="EdgeSlope">Its slope there.</param>
/// <param name="EdgeBend">Its curvature, 1/mm.</param>
/// <param name="AngleRad">Between the way back along −u and the spine's way back from the tip.</param>
/// <param name="SpineBend">The spine's curvature, 1/mm, positive where it bends toward the steel.</param>
/// <param name="Blur">The camera's blur against what the fiducials said.</param>
/// <param name="BevelMm">Width of the bevel.</param>
/// <param name="Lamps">Shadows' shifts.</param>
internal sealed record TipShape(
    double TipMm, double EdgeMm, double EdgeSlope, double EdgeBend, double AngleRad, double SpineBend, double Blur, double BevelMm, IReadOnlyList<TipShadow> Lamps)
{
    /// <summary>How many numbers describe the shape, its shadows apart.</summary>
    public const int Own = 7;

    /// <summary>Whether another has its steel in the same place, whatever its bevel, its shadows and the camera's blur.</summary>
    public bool SameSteel(TipShape other) => (TipMm, EdgeMm, EdgeSlope, EdgeBend, AngleRad, SpineBend) == (other.TipMm, other.EdgeMm, other.EdgeSlope, other.EdgeBend, other.AngleRad, other.SpineBend);

    /// <summary>v of the edge.</summary>
    public double EdgeAt(double u) => EdgeMm + (u * (EdgeSlope + (0.5 * EdgeBend * u)));

    /// <summary>As a row of numbers for a search.</summary>
    public double[] ToRow() => [TipMm, EdgeMm, EdgeSlope, AngleRad, SpineBend, Math.Log(Blur), Math.Log(BevelMm), .. Lamps.SelectMany(l => new[] { l.U, l.V, Math.Log(l.WidthMm) })];

    /// <summary>The same with such a row.</summary>
    public TipShape With(double[] p) => new(
        p[0], p[1], p[2], EdgeBend, Math.Clamp(p[3], 0.1, 2.6), p[4], Math.Exp(Math.Clamp(p[5], -0.5, 0.5)), Math.Exp(Math.Clamp(p[6], -3, 1.2)),
        [.. Lamps.Select((_, i) => new TipShadow(p[Own + (3 * i)], p[Own + (3 * i) + 1], Math.Exp(Math.Clamp(p[Own + (3 * i) + 2], -3, 1))))]);
}

/// <summary>A lamp's shadow: the blade's own shape, shifted and softened.</summary>
/// <param name="U">Shift along the edge, mm.</param>
/// <param name="V">Shift across it, positive toward the spine.</param>
/// <param name="WidthMm">Standard deviation of its rim's penumbra.</param>
internal readonly record struct TipShadow(double U, double V, double WidthMm);
