using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Marks;

/// <summary>What one facet throws on the sheet.</summary>
/// <param name="Facet">The facet.</param>
/// <param name="Map">Its light on the sheet.</param>
/// <param name="PowerFraction">Share of the beam's power that it throws, wherever to.</param>
/// <param name="IdealMm">Where the smooth facet of mean angle would throw the middle of its light; null where that misses the sheet's plane.</param>
public sealed record FacetLight(Facet Facet, LightMap Map, double PowerFraction, Point2? IdealMm);

/// <summary>Follows light from the beam over the facets to the sheet, by evenly spread samples: rays, not formulas for marks.</summary>
public sealed class LightTracer
{
    private const double RougherShare = 0.1;
    private const double RougherSamples = 0.45; // more samples than its share, each weaker: smooth tails

    private readonly MarkScene _scene;
    private readonly MountPose _pose;
    private readonly Turn _blade;
    private readonly Turn _sheet;
    private readonly Vector3 _axisMeets;
    private readonly Vector3 _edge;

    public LightTracer(MarkScene scene, MountPose pose)
    {
        _scene = scene;
        _pose = pose;
        _blade = Turn.ZXY(pose.TwistDeg, pose.PitchDeg, pose.RollDeg);
        _sheet = Turn.ZXY(pose.SheetRotDeg, pose.SheetPitchDeg, pose.SheetYawDeg);
        _axisMeets = new(0, 0, pose.TrueMm);
        _edge = new(pose.OffsetMm, 0, 0);
    }

    /// <summary>A point of the beam frame in the sheet's space (x right, y down, z into the sheet).</summary>
    public Vector3 ToSheet(Vector3 beamMm)
    {
        Vector3 local = _sheet.Undo(beamMm - _axisMeets);
        Point2 zero = _scene.Target.ZeroMm;
        return new(local.X + zero.X + _pose.ZeroOffsetMm.X, local.Y + zero.Y + _pose.ZeroOffsetMm.Y, local.Z);
    }

    /// <summary>A direction of the sheet's space in the blade's frame.</summary>
    public Vector3 DirectionToBlade(Vector3 sheet) => _blade.Undo(_sheet.Apply(sheet));

    /// <summary>A point of the sheet's space in the blade's frame.</summary>
    public Vector3 ToBlade(Vector3 sheetMm)
    {
        Point2 zero = _scene.Target.ZeroMm;
        var local = new Vector3(sheetMm.X - zero.X - _pose.ZeroOffsetMm.X, sheetMm.Y - zero.Y - _pose.ZeroOffsetMm.Y, sheetMm.Z);
        return _blade.Undo(_sheet.Apply(local) + _axisMeets - _edge);
    }

    /// <summary>A point of the blade's frame in the beam frame.</summary>
    public Vector3 BladeToBeam(Vector3 bladeMm) => _blade.Apply(bladeMm) + _edge;

    /// <summary>A direction of the blade's frame in the beam frame.</summary>
    public Vector3 DirectionToBeam(Vector3 blade) => _blade.Apply(blade);

    /// <summary>Where a ray of the beam frame meets the sheet, sheet mm; null where it runs away.</summary>
    public Point2? Meet(Vector3 fromMm, Vector3 direction)
    {
        double toward = direction.Dot(_sheet.Z);
        if (toward <= 1e-3)
            return null;
        Vector3 at = ToSheet(fromMm + (direction * ((_axisMeets - fromMm).Dot(_sheet.Z) / toward)));
        return new(at.X, at.Y);
    }

    /// <summary>The light of one facet.</summary>
    public FacetLight Trace(Facet facet, int samples, Dice dice)
    {
        LightMap map = new(_scene.Target.SizeMm.X, _scene.Target.SizeMm.Y);
        LaserBeam beam = _scene.Beam;
        int sign = facet.Side == Side.Right ? 1 : -1;
        double halfY = beam.HalfBoxMm.Y * 1.05 / Math.Cos(double.DegreesToRadians(_pose.TwistDeg));
        if (!InReach(facet, beam, out double fromShare, out double toShare))
            return new(facet, map, 0, Ideal(facet, 0, 0.5));
        Lattice lattice = new(5, dice);
        double cell = facet.WidthMm * (toShare - fromShare) * 2 * halfY / samples;
        double thrown = 0;
        double meanX = 0;
        double meanShare = 0;
        double smooth = 0;
        for (int i = 0; i < samples; i++)
        {
            double share = fromShare + ((toShare - fromShare) * lattice.At(i, 0));
            (double x, double z, double angle) = facet.At(share);
            double y = ((2 * lattice.At(i, 1)) - 1) * halfY;
            if (InNick(y, z))
                continue;
            Vector3 point = BladeToBeam(new(x, y, z));
            Point2 back = beam.Back(point.X, point.Y, point.Z);
            double density = beam.At(back.X, back.Y);
            if (density < 1e-9)
                continue;
            Vector3 d = beam.Direction(back.X, back.Y);
            (double sin, double cos) = Math.SinCos(angle);
            var across = new Vector3(sign * sin, 0, cos); // within the facet, away from the edge
            var normal = new Vector3(sign * cos, 0, -sin);
            double facing = -d.Dot(DirectionToBeam(normal));
            double power = density * cell * facet.Reflect;
            if (facing > 0)
            {
                smooth += power * facing;
                meanX += power * facing * point.X;
                meanShare += power * facing * share;
            }

            (double sk, double ck) = Math.SinCos(facet.SkewRad);
            Vector3 scratch = (across * ck) + new Vector3(0, sign * sk, 0);
            Vector3 cross = new Vector3(0, ck, 0) - (across * (sign * sk));
            bool rougher = lattice.At(i, 4) < RougherSamples;
            double wide = rougher ? 2.2 : 0.78; // a tenth of the surface is rougher; the variance stays about one
            power *= rougher ? RougherShare / RougherSamples : (1 - RougherShare) / (1 - RougherSamples);
            double slopeAcross = facet.SlopeAcross * wide * Lattice.NormalQuantile(lattice.At(i, 2));
            double slopeAlong = facet.SlopeAlong * wide * Lattice.NormalQuantile(lattice.At(i, 3));
            Vector3 micro = DirectionToBeam(normal + (cross * slopeAcross) + (scratch * slopeAlong));
            double toMicro = d.Dot(micro);
            if (toMicro >= 0)
                continue;
            power *= -toMicro; // the micro-facet's own area over the facet's is 1/(m·n); m·n is 1 before m is made a unit vector
            thrown += power;
            Vector3 r = d - (micro * (2 * toMicro / micro.Dot(micro)));
            if (Meet(point, r) is Point2 hit)
                map.Add(hit.X, hit.Y, power);
        }

        map.Spread(_scene.PaperSpreadMm, 0.45 * thrown / samples);
        return new(facet, map, thrown, smooth > 0 ? Ideal(facet, meanX / smooth, meanShare / smooth) : Ideal(facet, 0, 0.5));
    }

    /// <summary>The light that passes the blade.</summary>
    public LightMap TraceBare(EdgeSection section, out double fraction)
    {
        LightMap map = new(_scene.Target.SizeMm.X, _scene.Target.SizeMm.Y);
        LaserBeam beam = _scene.Beam;
        (double left, double right) = ShadowMm(section);
        double tan = Math.Tan(double.DegreesToRadians(_pose.TwistDeg));
        const int across = 240;
        const int along = 320;
        Vector2 half = beam.HalfBoxMm * 1.1;
        double cell = 4 * half.X * half.Y / (across * along);
        fraction = 0;
        for (int i = 0; i < across * along; i++)
        {
            double x = (((i % across) + 0.5) / across * 2 * half.X) - half.X;
            double y = (((i / across) + 0.5) / along * 2 * half.Y) - half.Y;
            double from = x + (y * tan);
            if (from > left && from < right)
                continue;
            double power = beam.At(x, y) * cell;
            fraction += power;
            if (Meet(new(x, y, 0), beam.Direction(x, y)) is Point2 hit)
                map.Add(hit.X, hit.Y, power);
        }

        map.Spread(_scene.PaperSpreadMm);
        return map;
    }

    /// <summary>Where the blade's shadow begins and ends across the beam, at the height of the beam's axis.</summary>
    public (double LeftMm, double RightMm) ShadowMm(EdgeSection section)
    {
        IEnumerable<double> xs = section.Outline.Select(p => BladeToBeam(new(p.X, 0, p.Y)).X);
        return (xs.Min(), xs.Max());
    }

    private Point2? Ideal(Facet facet, double beamX, double share)
    {
        (double x, double z, _) = facet.At(share);
        double angle = facet.AngleRad.Length > 2 ? (facet.AngleRad[0] + facet.AngleRad[^1]) / 2 : facet.AngleRad[0];
        int sign = facet.Side == Side.Right ? 1 : -1;
        Vector3 normal = DirectionToBeam(new(sign * Math.Cos(angle), 0, -Math.Sin(angle)));
        Vector3 at = BladeToBeam(new(x, 0, z));
        Vector3 d = new(0, 0, 1);
        _ = beamX;
        double facing = d.Dot(normal);
        return facing >= 0 ? null : Meet(at, d - (normal * (2 * facing)));
    }

    private bool InNick(double y, double z)
    {
        foreach (Nick nick in _scene.Nicks)
        {
            double depth = nick.DepthMm * (1 - (Math.Abs(y - nick.AtMm) / nick.HalfWidthMm));
            if (z < depth)
                return true;
        }

        return false;
    }

    private bool InReach(Facet facet, LaserBeam beam, out double fromShare, out double toShare)
    {
        const int parts = 200;
        double drift = Math.Abs(Math.Tan(double.DegreesToRadians(_pose.TwistDeg))) * beam.HalfBoxMm.Y * 1.1;
        double reach = (beam.HalfBoxMm.X * 1.05) + drift;
        fromShare = 2;
        toShare = -1;
        for (int i = 0; i <= parts; i++)
        {
            double share = (double)i / parts;
            (double x, double z, _) = facet.At(share);
            if (Math.Abs(BladeToBeam(new(x, 0, z)).X) > reach)
                continue;
            fromShare = Math.Min(fromShare, share - (1.0 / parts));
            toShare = Math.Max(toShare, share + (1.0 / parts));
        }

        fromShare = Math.Max(0, fromShare);
        toShare = Math.Min(1, toShare);
        return toShare > fromShare;
    }
}
