using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>The end of a chisel or plane iron: an edge across a bar, square or skew, bevelled from the back.</summary>
/// <param name="Width">Width of the bar.</param>
/// <param name="Skew">How far the edge is turned from square across the bar; zero for a square end. From −75° to 75°.</param>
public sealed record CuttingEnd(Length Width, Angle Skew)
{
    /// <summary>Length of the edge, w/cos σ. Plane trigonometry.</summary>
    public Length EdgeLength => Length.FromMillimetres(Require.Positive(Width.Millimetres, nameof(Width)) / Math.Cos(Checked(Skew).Radians));

    /// <summary>The bevel's slope as seen along the bar, tan β′ = tan β·cos σ, from the bevel β square to the edge. Derived: the slope's part along the bar.</summary>
    public Angle AlongTheBar(Angle bevel) => Angle.FromRadians(Math.Atan(Math.Tan(bevel.Radians) * Math.Cos(Checked(Skew).Radians)));

    /// <summary>The bevel square to the edge from its slope along the bar: <see cref="AlongTheBar"/>, turned round.</summary>
    public Angle SquareToTheEdge(Angle alongTheBar) => Angle.FromRadians(Math.Atan(Math.Tan(alongTheBar.Radians) / Math.Cos(Checked(Skew).Radians)));

    /// <summary>The edge as a curve in the plane of the back: straight, heel the trailing corner.</summary>
    public EdgeCurve ToEdge() => EdgeCurve.FromPolyline([new(0, 0), new(EdgeLength.Millimetres, 0)]);

    private static Angle Checked(Angle skew) =>
        skew.Abs().Degrees <= 75 ? skew : throw new ArgumentOutOfRangeException(nameof(skew), skew, "Must lie from −75° to 75°.");
}
