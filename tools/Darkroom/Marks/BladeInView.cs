using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Cameras;

namespace Whetwright.Darkroom.Marks;

/// <summary>The blade between camera and sheet: a prism of the section's outline, lit by the room and, at its edge, by the beam.</summary>
internal sealed class BladeInView
{
    private readonly SceneLight _light;
    private readonly MarkExposure _exposure;
    private readonly SeenBlade _blade;
    private readonly Vector3 _camera;
    private readonly (Vector3 Normal, double Distance)[] _planes;
    private readonly double _left;
    private readonly double _right;
    private readonly double _top;
    private readonly double _bottom;

    public BladeInView(SceneLight light, LensCamera camera, MarkExposure exposure)
    {
        _light = light;
        _exposure = exposure;
        _blade = light.Scene.Blade!;
        _camera = light.Tracer.ToBlade(camera.CentreMm);
        List<(Vector3, double)> planes = [(new(0, 1, 0), _blade.ToMm), (new(0, -1, 0), -_blade.FromMm)];
        double spine = light.Section.Facets.Where(f => f.Name == "primary").Max(f => f.Z[^1]);
        planes.Add((new(0, 0, 1), spine));
        planes.Add((new(0, 0, -1), 0));
        foreach (Facet facet in light.Section.Facets)
        {
            if (facet.Name == "apex")
                continue;
            for (int i = 1; i < facet.X.Length; i++)
            {
                var normal = new Vector3(facet.Z[i] - facet.Z[i - 1], 0, facet.X[i - 1] - facet.X[i]);
                normal *= (facet.Side == Side.Right ? 1 : -1) / normal.Norm;
                // A hollow facet's strips are replaced by its chord: a prism must be convex to be cut by planes.
                if (facet.AngleRad[0] < facet.AngleRad[^1])
                {
                    int last = facet.X.Length - 1;
                    normal = new Vector3(facet.Z[last] - facet.Z[0], 0, facet.X[0] - facet.X[last]);
                    normal *= (facet.Side == Side.Right ? 1 : -1) / normal.Norm;
                    i = last;
                }

                planes.Add((normal, normal.Dot(new(facet.X[i], 0, facet.Z[i]))));
            }
        }

        _planes = [.. planes];
        (_left, _right, _top, _bottom) = (double.MaxValue, double.MinValue, double.MaxValue, double.MinValue);
        foreach (Point2 corner in light.Section.Outline)
        {
            for (int i = 0; i <= 20; i++)
            {
                double y = _blade.FromMm + ((_blade.ToMm - _blade.FromMm) * i / 20);
                if (camera.See(light.Tracer.ToSheet(light.Tracer.BladeToBeam(new(corner.X, y, corner.Y)))) is not Point2 at)
                    continue;
                _left = Math.Min(_left, at.X - 4);
                _right = Math.Max(_right, at.X + 4);
                _top = Math.Min(_top, at.Y - 4);
                _bottom = Math.Max(_bottom, at.Y + 4);
            }
        }
    }

    /// <summary>Whether the blade can be seen at a pixel at all.</summary>
    public bool Near(int column, int row) => column >= _left && column <= _right && row >= _top && row <= _bottom;

    /// <summary>Brightness in room light (1: white paper) and laser light (W/m² as from paper) where a ray of the sheet's space meets the blade; null where it passes.</summary>
    public (double Ambient, double LaserWatt)? See(Vector3 ray)
    {
        if (Cut(_light.Tracer.DirectionToBlade(ray), out double t, out int plane) is false)
            return null;
        Vector3 direction = _light.Tracer.DirectionToBlade(ray);
        Vector3 normal = _planes[plane].Normal;
        Vector3 at = _camera + (direction * t);
        double facing = Math.Abs(normal.Dot(direction)) / direction.Norm;
        double ambient = _blade.Albedo * (0.5 + (0.5 * facing));
        if (!_exposure.LaserOn)
            return (ambient, 0);
        Vector3 beamPoint = _light.Tracer.BladeToBeam(at);
        LaserBeam beam = _light.Scene.Beam;
        Point2 back = beam.Back(beamPoint.X, beamPoint.Y, beamPoint.Z);
        double toBeam = Math.Max(0.02, -beam.Direction(back.X, back.Y).Dot(_light.Tracer.DirectionToBeam(normal)));
        return (ambient, _blade.Scatter * toBeam * _light.WattPerM2(beam.At(back.X, back.Y)));
    }

    /// <summary>Whether the blade hides a place of the sheet's space.</summary>
    public bool Hides(Vector3 sheetMm)
    {
        Vector3 to = _light.Tracer.ToBlade(sheetMm) - _camera;
        return Cut(to, out double t, out _) && t < 1;
    }

    private bool Cut(Vector3 direction, out double enter, out int plane)
    {
        enter = 0;
        double leave = double.MaxValue;
        plane = -1;
        for (int i = 0; i < _planes.Length; i++)
        {
            double along = _planes[i].Normal.Dot(direction);
            double gap = _planes[i].Distance - _planes[i].Normal.Dot(_camera);
            if (Math.Abs(along) < 1e-12)
            {
                if (gap < 0)
                    return false;
                continue;
            }

            double t = gap / along;
            if (along < 0 && t > enter)
                (enter, plane) = (t, i);
            else if (along > 0 && t < leave)
                leave = t;
            if (enter >= leave)
                return false;
        }

        return plane >= 0;
    }
}
