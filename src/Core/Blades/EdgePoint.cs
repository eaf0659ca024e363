using Whetwright.Core.Quantities;

namespace Whetwright.Core.Blades;

/// <summary>One station of an edge, in the blade frame (docs/conventions.md).</summary>
/// <param name="SMm">Arc length from the heel, mm.</param>
/// <param name="XMm">Toward the tip, mm.</param>
/// <param name="YMm">Outward, from spine to edge, mm.</param>
/// <param name="TangentX">First component of the unit tangent, heel to tip.</param>
/// <param name="TangentY">Second component of the unit tangent; negative where the edge falls back toward the tip.</param>
/// <param name="CurvaturePerMm">Positive where the edge bulges outward (belly), negative in a recurve, 1/mm.</param>
public readonly record struct EdgePoint(double SMm, double XMm, double YMm, double TangentX, double TangentY, double CurvaturePerMm)
{
    /// <summary>First component of the outward unit normal.</summary>
    public double NormalX => -TangentY;

    /// <summary>Second component of the outward unit normal.</summary>
    public double NormalY => TangentX;

    /// <summary>The place.</summary>
    public Point2 Place => new(XMm, YMm);

    /// <summary>How far the tangent has turned back from x: zero on the straight, positive where the edge falls toward the tip.</summary>
    public Angle Fall => Angle.FromRadians(Math.Atan2(-TangentY, TangentX));

    /// <summary>
    /// Support distance p = (E − J)·n, mm: from the pivot's foot J to the tangent line at this station, positive where the
    /// foot lies on the steel's side. It is all that a fixture needs to know of the edge. Source: derived in docs/conventions.md.
    /// </summary>
    public double SupportDistanceMm(Point2 foot) => ((XMm - foot.X) * NormalX) + ((YMm - foot.Y) * NormalY);
}
