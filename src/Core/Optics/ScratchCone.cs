using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Scratches scatter light on a cone. Along a scratch of direction s the tiny normals all stand square to s, ν(ψ) = cos ψ·n + sin ψ·(s × n),
/// so every scattered ray keeps r·s = d·s: a cone about s with half-angle acos(d·s) that holds the bare beam itself. On the target it is an arc
/// through the zero; the reading is the specular point ψ = 0. Derived in docs/conventions.md; cone of rays about an edge: [raynotes].
/// </summary>
public static class ScratchCone
{
    /// <summary>
    /// Direction of scratches in a facet: skew 0° lies square to the edge, from edge to spine; positive skew turns it toward the edge's
    /// downward direction. s = cos κ·q + sin κ·e, q square to the edge in the facet.
    /// </summary>
    public static UnitVector3 ScratchDirection(UnitVector3 normalInBeam, UnitVector3 edgeInBeam, Angle skew)
    {
        Vector3 e = edgeInBeam.AsVector();
        Vector3 q = e.Cross(normalInBeam.AsVector());
        if (q.Z < 0)
            q = -q;
        (double s, double c) = Math.SinCos(skew.Radians);
        return UnitVector3.From((UnitVector3.From(q).AsVector() * c) + (e * s));
    }

    /// <summary>Half-angle of the cone about the scratch direction: γ = acos|d·s|.</summary>
    public static Angle HalfAngle(UnitVector3 scratchInBeam) =>
        Angle.FromRadians(Math.Acos(Math.Min(1, Math.Abs(SpecularReflection.Beam.Dot(scratchInBeam)))));

    /// <summary>The ray thrown by the tiny normal turned by ψ about the scratch.</summary>
    public static UnitVector3 ScatteredRay(UnitVector3 normalInBeam, UnitVector3 scratchInBeam, Angle turn)
    {
        Vector3 n = normalInBeam.AsVector();
        Vector3 b = scratchInBeam.AsVector().Cross(n);
        (double s, double c) = Math.SinCos(turn.Radians);
        return SpecularReflection.Reflect(SpecularReflection.Beam, UnitVector3.From((n * c) + (b * s)));
    }

    /// <summary>The arc on the target for tiny normals within ± a spread, from one end to the other; places that miss the target are left out.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than two points, or a spread that is not above zero.</exception>
    public static IReadOnlyList<Point2> Arc(
        UnitVector3 normalInBeam, UnitVector3 edgeInBeam, Angle skew, TargetPlane target, Angle halfSpread, int points)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(points, 2);
        Require.Positive(halfSpread.Radians, nameof(halfSpread));
        UnitVector3 scratch = ScratchDirection(normalInBeam, edgeInBeam, skew);
        List<Point2> arc = new(points);
        for (int i = 0; i < points; i++)
        {
            Angle turn = halfSpread * ((2.0 * i / (points - 1)) - 1);
            if (target.Meets(ScatteredRay(normalInBeam, scratch, turn)) is { } place)
                arc.Add(place);
        }

        return arc;
    }
}
