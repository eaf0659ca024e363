using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>The law of reflection, both ways, in the beam frame of docs/conventions.md.</summary>
public static class SpecularReflection
{
    /// <summary>Direction of the beam in its own frame.</summary>
    public static UnitVector3 Beam { get; } = UnitVector3.From(0, 0, 1);

    /// <summary>
    /// Direction of the reflected ray: r = d − 2(d·n)n, d the incident direction, n the facet's normal (either sign gives the same ray).
    /// Smooth surface; says nothing about scatter. Source: [hewitt] ch. 28; [siggraph] for the vector form.
    /// </summary>
    public static UnitVector3 Reflect(UnitVector3 incident, UnitVector3 normal)
    {
        Vector3 d = incident.AsVector();
        Vector3 n = normal.AsVector();
        return UnitVector3.From(d - (n * (2 * d.Dot(n))));
    }

    /// <summary>
    /// The facet's normal from incident and reflected ray: n = (r − d)/|r − d|, on the side the light comes from. Exact at any roll and pitch.
    /// Source: [hewitt] ch. 28, solved for the normal (the normal halves the angle between r and −d).
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">The ray was not turned at all: no facet threw it.</exception>
    public static UnitVector3 NormalBetween(UnitVector3 incident, UnitVector3 reflected) =>
        UnitVector3.From(reflected.AsVector() - incident.AsVector());

    /// <summary>Where the light of a facet falls on the target; null where it misses the plane.</summary>
    public static Point2? MarkOf(UnitVector3 normalInBeam, TargetPlane target) => target.Meets(Reflect(Beam, normalInBeam));

    /// <summary>The normal, beam frame, of the facet that throws its light to a place on the target.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The place is where the bare beam falls.</exception>
    public static UnitVector3 NormalFrom(Point2 markMm, TargetPlane target) => NormalBetween(Beam, target.RayTo(markMm));

    /// <summary>
    /// Outward normal of a facet at angle θ to the mid-plane, blade rolled by ρ about its edge, then the edge pitched by π about the x axis
    /// (positive: its lower end nearer the target): right (cos(θ+ρ), 0, −sin(θ+ρ)), left (−cos(θ−ρ), 0, −sin(θ−ρ)) before pitch.
    /// Derived in docs/conventions.md.
    /// </summary>
    public static UnitVector3 FacetNormal(Side target, Angle bevel, Angle roll = default, Angle pitch = default)
    {
        int sign = target == Side.Right ? 1 : -1;
        (double s, double c) = Math.SinCos(bevel.Radians + (sign * roll.Radians));
        (double sp, double cp) = Math.SinCos(pitch.Radians);
        return UnitVector3.From(sign * c, s * sp, -s * cp);
    }

    /// <summary>The edge's direction for a pitch about the x axis, downward: (0, cos π, sin π).</summary>
    public static UnitVector3 EdgeDirection(Angle pitch)
    {
        (double sp, double cp) = Math.SinCos(pitch.Radians);
        return UnitVector3.From(0, cp, sp);
    }
}
