using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>What the uncertainty of a blade's height is made of, mm from edge to spine.</summary>
/// <param name="ReadMm">Sheet to photo, and reading both steps.</param>
/// <param name="EdgeMm">Shadows along the edge.</param>
/// <param name="SpineMm">Shadows along the spine.</param>
/// <param name="LiftMm">Doubt about how high edge and spine float: both are moved by it.</param>
/// <param name="ThickMm">Doubt about the spine's thickness, whose rims stand higher and lower than the edge.</param>
internal sealed record HeightBudget(double ReadMm, double EdgeMm, double SpineMm, double LiftMm, double ThickMm)
{
    public static HeightBudget None { get; } = new(0, 0, 0, 0, 0);

    public double TotalMm => Math.Sqrt((ReadMm * ReadMm) + (EdgeMm * EdgeMm) + (SpineMm * SpineMm) + (LiftMm * LiftMm) + (ThickMm * ThickMm));

    /// <summary>
    /// Of a height between a place of the edge and one of the spine: seen is true + v_e·z_e + v_s·z_s, v how far outward a point appears per millimetre of its height.
    /// </summary>
    /// <param name="readMm">Sheet to photo and reading a step.</param>
    /// <param name="edgeMm">Shadows along the edge.</param>
    /// <param name="spineMm">Shadows along the spine.</param>
    /// <param name="edgeView">v at the edge.</param>
    /// <param name="spineView">v at the spine.</param>
    /// <param name="liftUMm">Standard uncertainty of the edge's height.</param>
    /// <param name="rims">How spine and edge float.</param>
    public static HeightBudget Of(double readMm, double edgeMm, double spineMm, double edgeView, double spineView, double liftUMm, SpineRims rims) => new(
        Math.Sqrt(2) * readMm,
        edgeMm,
        spineMm,
        Math.Abs(edgeView + (spineView * rims.PerEdge(spineView))) * liftUMm,
        Math.Abs(spineView) * rims.ThickUMm);

    public Derivation Explain(TracedOutline o) => Quadrature.Explain(
        "uncertainty of the blade's height",
        TotalMm,
        "u = √(u_read² + u_edge² + u_spine² + u_lift² + u_thick²)",
        ("u_read", "sheet to photo, and reading both steps", ReadMm, false),
        ("u_edge", "shadows along the edge", EdgeMm, false),
        ("u_spine", "shadows along the spine", SpineMm, false),
        ("u_lift", "how high edge and spine float over the mat", LiftMm, o.EdgeHeightFrom != EdgeHeightSource.Measured),
        ("u_thick", "thickness of the spine", ThickMm, true));
}
