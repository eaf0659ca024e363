using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Two facets of one edge from their normals: included angle, edge direction, and how the two split about the beam or about a mid-plane. Exact.
/// </summary>
public sealed record FacetPair
{
    private FacetPair(UnitVector3 left, UnitVector3 right, UnitVector3 edge)
    {
        (LeftNormal, RightNormal, Edge) = (left, right, edge);
        Included = Angle.FromRadians(Math.PI) - left.AngleTo(right);
        Vector3 across = edge.AsVector().Cross(SpecularReflection.Beam.AsVector());
        UnitVector3 beamPlaneNormal = UnitVector3.From(across.X >= 0 ? across : -across);
        LeftAsRead = Tilt(left, -beamPlaneNormal);
        RightAsRead = Tilt(right, beamPlaneNormal);
        Pitch = Angle.FromRadians(Math.Asin(Math.Clamp(edge.Z, -1, 1)));
    }

    /// <summary>Outward normal of the facet that throws to the target's left, beam frame.</summary>
    public UnitVector3 LeftNormal { get; }

    /// <summary>Outward normal of the facet that throws to the target's right.</summary>
    public UnitVector3 RightNormal { get; }

    /// <summary>Direction of the edge, e ∝ n_L × n_R, pointing down.</summary>
    public UnitVector3 Edge { get; }

    /// <summary>180° − ∠(n_L, n_R): the same at any roll and pitch.</summary>
    public Angle Included { get; }

    /// <summary>Angle of the left facet to the plane that holds edge and beam; its sum with the right one is the included angle.</summary>
    public Angle LeftAsRead { get; }

    /// <summary>Angle of the right facet to the plane that holds edge and beam.</summary>
    public Angle RightAsRead { get; }

    /// <summary>Pitch of the edge: positive where its lower end is nearer the target.</summary>
    public Angle Pitch { get; }

    /// <summary>
    /// From the two normals.
    /// </summary>
    /// <exception cref="ArgumentException">The normals lie along one line: the facets are parallel and have no edge between them.</exception>
    public static FacetPair FromNormals(UnitVector3 leftInBeam, UnitVector3 rightInBeam)
    {
        Vector3 cross = leftInBeam.AsVector().Cross(rightInBeam.AsVector());
        if (!(cross.Norm > 1e-12))
            throw new ArgumentException("The two facets are parallel: there is no edge between them.", nameof(rightInBeam));
        UnitVector3 edge = UnitVector3.From(cross.Y >= 0 ? cross : -cross);
        return new(leftInBeam, rightInBeam, edge);
    }

    /// <summary>
    /// From two marks. The zero row must be truly known for the pitch to be taken from the marks' heights; where it is not, both marks are
    /// taken on the row of the bare beam and a pitch passes into the angles unseen (second order: 0.5 % of θ at 5° of pitch).
    /// </summary>
    /// <exception cref="ArgumentException">The facets are parallel.</exception>
    public static FacetPair FromMarks(Point2 leftMm, Point2 rightMm, TargetPlane target, bool zeroRowKnown)
    {
        Point2 OnRow(Point2 mark) => zeroRowKnown ? mark : new(mark.X, target.BeamAt.Y);
        return FromNormals(SpecularReflection.NormalFrom(OnRow(leftMm), target), SpecularReflection.NormalFrom(OnRow(rightMm), target));
    }

    /// <summary>
    /// Splits the included angle about a mid-plane: θ_R = ∠(n_R, m), θ_L = ∠(n_L, −m) with m the mid-plane's normal toward the target's right,
    /// taken square to this edge. The mid-plane halves the primaries where both are seen and taken as equal; without primaries the two bevels
    /// themselves are halved, which says nothing about a lopsided edge.
    /// </summary>
    public FacetSplit SplitBy(FacetPair? primaries)
    {
        Vector3 between = primaries is null
            ? RightNormal.AsVector() - LeftNormal.AsVector()
            : primaries.RightNormal.AsVector() - primaries.LeftNormal.AsVector();
        Vector3 e = Edge.AsVector();
        UnitVector3 mid = UnitVector3.From(between - (e * between.Dot(e)));
        Vector3 across = e.Cross(SpecularReflection.Beam.AsVector());
        UnitVector3 beamPlaneNormal = UnitVector3.From(across.X >= 0 ? across : -across);
        Angle roll = Tilt(mid, beamPlaneNormal);
        return new(Tilt(LeftNormal, -mid), Tilt(RightNormal, mid), roll, primaries is not null);
    }

    /// <summary>Signed angle of a normal from a plane's normal, positive toward the light (−z), both square to the edge.</summary>
    private Angle Tilt(UnitVector3 normal, UnitVector3 planeNormal)
    {
        Vector3 n = normal.AsVector();
        Vector3 m = planeNormal.AsVector();
        Vector3 cross = m.Cross(n);
        double along = cross.Dot(Edge.AsVector());
        double towardRight = m.X >= 0 ? 1 : -1;
        return Angle.FromRadians(Math.Atan2(towardRight * along, m.Dot(n)));
    }
}

/// <summary>An included angle split into sides.</summary>
/// <param name="Left">The facet that throws to the target's left, from the mid-plane.</param>
/// <param name="Right">The facet that throws to the target's right.</param>
/// <param name="Roll">Roll of the mid-plane, positive when the target's right reads more.</param>
/// <param name="FromPrimaries">True where primaries gave the mid-plane; false where the bevels were halved, which makes the sides equal by assumption.</param>
public readonly record struct FacetSplit(Angle Left, Angle Right, Angle Roll, bool FromPrimaries);
