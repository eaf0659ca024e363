using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>What the uncertainty of a traced edge is made of, mm across the edge.</summary>
/// <param name="MapMm">Sheet to photo.</param>
/// <param name="StepMm">Reading the step of tone, after smoothing.</param>
/// <param name="ShadowMm">Shadows along the edge, which make it look further out.</param>
/// <param name="HeightMm">Doubt about the edge's height.</param>
/// <param name="CameraMm">Doubt about where the camera stood.</param>
internal sealed record OutlineBudget(double MapMm, double StepMm, double ShadowMm, double HeightMm, double CameraMm)
{
    /// <summary>What the model of shadows leaves where it is sure of itself. Chosen, from photographs of known truth.</summary>
    private const double ShadowUMm = 0.15;

    /// <summary>Standard uncertainty that shadows leave, given how far the edge may lie from where it was found as far as they tell.</summary>
    public static double Shadow(double doubtMm) => Math.Sqrt((ShadowUMm * ShadowUMm) + (doubtMm * doubtMm));

    /// <summary>Spread of an edge's height along a blade about the told middle: chosen; heel and tip seldom float equally.</summary>
    public const double ToldHeightUMm = 0.4;

    /// <summary>Usual height of an edge, and its spread, when nobody tells it: half a spine to a handle's. Chosen.</summary>
    public const double UsualHeightMm = 1.2;

    /// <summary>How high the edge floats at the tip of a blade that lies on a mat: half the steel's thickness there. Chosen.</summary>
    public const double TipHeightMm = 0.75;

    public static OutlineBudget None { get; } = new(0, 0, 0, 0, 0);

    public double TotalMm => Math.Sqrt((MapMm * MapMm) + (StepMm * StepMm) + (ShadowMm * ShadowMm) + (HeightMm * HeightMm) + (CameraMm * CameraMm));

    /// <summary>The explanations of a traced outline.</summary>
    public static IReadOnlyList<Derivation> Explain(TracedOutline o)
    {
        OutlineBudget b = o.Budget;
        return
        [
            Quadrature.Explain(
                "uncertainty of the edge's place",
                b.TotalMm,
                "u = √(u_map² + u_step² + u_shadow² + u_height² + u_camera²)",
                ("u_map", "sheet to photo", b.MapMm, false),
                ("u_step", "reading the step", b.StepMm, false),
                ("u_shadow", "shadows along the edge", b.ShadowMm, false),
                ("u_height", "height of the edge over the mat", b.HeightMm, o.EdgeHeightFrom != EdgeHeightSource.Measured),
                ("u_camera", "place of the camera", b.CameraMm, false)),
            new(
                "parallax of the edge",
                o.ParallaxMm,
                "mm",
                "shift = r·z/(H − z), r from the point under the camera",
                "derived: similar triangles",
                [
                    new("z", "height of the edge over the mat", o.EdgeHeightMm, "mm", o.EdgeHeightMm > 0 ? o.ParallaxMm / o.EdgeHeightMm : null, IsDefault: o.EdgeHeightFrom == EdgeHeightSource.Unknown),
                    new("H", "height of the camera over the mat", o.CameraHeightMm, "mm", o.CameraHeightMm > 0 ? -o.ParallaxMm / o.CameraHeightMm : null),
                ],
                "sight.outline/1"),
            o.LengthBudget.Explain(o),
            o.HeightBudget.Explain(o),
        ];
    }
}
