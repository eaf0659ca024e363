using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// Where the target's sheet stands in the beam frame (docs/conventions.md): the bare beam meets it at <see cref="BeamAt"/>, a distance
/// <see cref="Distance"/> behind the edge. Yaw turns the sheet about its own down axis (positive: its right edge farther away), then pitch about the
/// level axis (positive: its lower edge farther away), then turn about the beam (positive: its right edge lower).
/// </summary>
public sealed record TargetPlane
{
    private readonly Vector3 _acrossInBeam;
    private readonly Vector3 _downInBeam;
    private readonly Vector3 _normalInBeam;

    /// <summary>A sheet at a distance, square to the beam unless told otherwise.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Distance not above zero, or turned by 80° or more.</exception>
    public TargetPlane(Length distance, Point2 beamAt = default, Angle yaw = default, Angle pitch = default, Angle turn = default)
    {
        Distance = Length.FromMillimetres(Require.Positive(distance.Millimetres, nameof(distance)));
        BeamAt = new(Require.Finite(beamAt.X, "beamAt.X"), Require.Finite(beamAt.Y, "beamAt.Y"));
        Require.Within(yaw.Degrees, -80, 80, nameof(yaw));
        Require.Within(pitch.Degrees, -80, 80, nameof(pitch));
        (Yaw, Pitch, Turn) = (yaw, pitch, turn);
        (double sy, double cy) = Math.SinCos(yaw.Radians);
        (double sp, double cp) = Math.SinCos(pitch.Radians);
        (double st, double ct) = Math.SinCos(turn.Radians);
        Vector3 Placed(Vector3 v)
        {
            Vector3 pitched = new(v.X, (v.Y * cp) - (v.Z * sp), (v.Y * sp) + (v.Z * cp));
            return new((pitched.X * ct) - (pitched.Y * st), (pitched.X * st) + (pitched.Y * ct), pitched.Z);
        }

        _acrossInBeam = Placed(new(cy, 0, sy));
        _downInBeam = Placed(new(0, 1, 0));
        _normalInBeam = _acrossInBeam.Cross(_downInBeam);
    }

    /// <summary>From the edge to where the bare beam meets the sheet.</summary>
    public Length Distance { get; }

    /// <summary>Where the bare beam falls on the sheet, millimetres from the sheet's zero.</summary>
    public Point2 BeamAt { get; }

    /// <summary>Turn about the sheet's down axis.</summary>
    public Angle Yaw { get; }

    /// <summary>Turn about the level axis.</summary>
    public Angle Pitch { get; }

    /// <summary>Turn about the beam.</summary>
    public Angle Turn { get; }

    /// <summary>The point of space, beam frame, of a place on the sheet.</summary>
    public Vector3 PointInBeam(Point2 atMm) =>
        new Vector3(0, 0, Distance.Millimetres) + (_acrossInBeam * (atMm.X - BeamAt.X)) + (_downInBeam * (atMm.Y - BeamAt.Y));

    /// <summary>The direction, beam frame, from the edge to a place on the sheet.</summary>
    public UnitVector3 RayTo(Point2 atMm) => UnitVector3.From(PointInBeam(atMm));

    /// <summary>Where a ray from the edge meets the sheet; null where it never does (sideways, or back toward the laser).</summary>
    public Point2? Meets(UnitVector3 rayInBeam)
    {
        double toward = _normalInBeam.Dot(rayInBeam.AsVector());
        if (!(toward > 1e-12))
            return null;
        Vector3 centre = new(0, 0, Distance.Millimetres);
        Vector3 fromCentre = (rayInBeam.AsVector() * (_normalInBeam.Dot(centre) / toward)) - centre;
        return new(BeamAt.X + _acrossInBeam.Dot(fromCentre), BeamAt.Y + _downInBeam.Dot(fromCentre));
    }
}
