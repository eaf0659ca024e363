using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>What the uncertainty of a blade's length is made of, mm from heel to tip.</summary>
/// <param name="ReadMm">Sheet to photo, at both ends.</param>
/// <param name="HeelMm">Where the edge begins.</param>
/// <param name="TipMm">Where it ends.</param>
/// <param name="LiftMm">Doubt about how high heel and tip float: the higher, the longer a blade appears.</param>
internal sealed record LengthBudget(double ReadMm, double HeelMm, double TipMm, double LiftMm)
{
    public static LengthBudget None { get; } = new(0, 0, 0, 0);

    public double TotalMm => Math.Sqrt((ReadMm * ReadMm) + (HeelMm * HeelMm) + (TipMm * TipMm) + (LiftMm * LiftMm));

    /// <summary>Of a length between two places of the mat: seen is true + (v_t − v_h)·z along the chord, v the shift by parallax per millimetre of height.</summary>
    /// <param name="mapMm">Sheet to photo.</param>
    /// <param name="heelMm">Standard uncertainty of the heel's place along the edge.</param>
    /// <param name="tipMm">The same of the tip's.</param>
    /// <param name="stretch">v_t − v_h along the chord.</param>
    /// <param name="liftUMm">Standard uncertainty of the edge's height.</param>
    public static LengthBudget Of(double mapMm, double heelMm, double tipMm, double stretch, double liftUMm) => new(Math.Sqrt(2) * mapMm, heelMm, tipMm, Math.Abs(stretch) * liftUMm);

    public Derivation Explain(TracedOutline o) => Quadrature.Explain(
        "uncertainty of the blade's length",
        TotalMm,
        "u = √(u_read² + u_heel² + u_tip² + u_lift²)",
        ("u_read", "sheet to photo, at both ends", ReadMm, false),
        ("u_heel", "where the edge begins at the heel", HeelMm, false),
        ("u_tip", "where it ends at the tip", TipMm, false),
        ("u_lift", "how high heel and tip float over the mat", LiftMm, o.EdgeHeightFrom != EdgeHeightSource.Measured));
}
