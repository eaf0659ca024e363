using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Cameras;
using Whetwright.Darkroom.Chance;
using Whetwright.Darkroom.Sheets;

namespace Whetwright.Darkroom.Marks;

/// <summary>What the lens would draw without blur: sheet with its print and light, blade before it, bench behind it.</summary>
internal sealed class MarkPhotographer(SceneLight light, SheetPrint print, LensCamera camera, MarkExposure exposure)
{
    private const int Half = 2; // samples per pixel and direction

    private readonly Shot _shot = light.Scene.Shot;
    private readonly BladeInView? _blade = light.Scene.Blade is null ? null : new BladeInView(light, camera, exposure);
    private readonly Distractor[] _distractors = [.. light.Scene.Distractors];

    /// <summary>Sensor values before blur and noise; not clipped.</summary>
    public Picture Draw()
    {
        int width = camera.WidthPx;
        int height = camera.HeightPx;
        Picture picture = new(width, height);
        BenchCloth bench = new(light.Scene.Seed, _shot.BenchBrightness);
        Parallel.For(0, height, row =>
        {
            var rays = new Vector3[2, width + 1];
            for (int edge = 0; edge < 2; edge++)
            {
                for (int column = 0; column <= width; column++)
                    rays[edge, column] = camera.RayThrough(column - 0.5, row + edge - 0.5);
            }

            Span<double> sum = stackalloc double[3];
            for (int column = 0; column < width; column++)
            {
                sum.Clear();
                for (int part = 0; part < Half * Half; part++)
                {
                    double fx = ((part % Half) + 0.5) / Half;
                    double fy = ((part / Half) + 0.5) / Half;
                    Vector3 ray = (((rays[0, column] * (1 - fx)) + (rays[0, column + 1] * fx)) * (1 - fy)) + (((rays[1, column] * (1 - fx)) + (rays[1, column + 1] * fx)) * fy);
                    See(ray, column, row, bench, sum);
                }

                int at = ((row * width) + column) * 3;
                for (int channel = 0; channel < 3; channel++)
                    picture.Rgb[at + channel] = (float)(sum[channel] / (Half * Half));
            }
        });
        return picture;
    }

    private void See(Vector3 ray, int column, int row, BenchCloth bench, Span<double> sum)
    {
        if (_blade is not null && _blade.Near(column, row) && _blade.See(ray) is (double ambient, double laser))
        {
            Add(sum, ambient * exposure.PerWatt * exposure.AmbientWatt, laser * exposure.PerWatt, 1, 1, 1);
            return;
        }

        double t = -camera.CentreMm.Z / ray.Z;
        double x = camera.CentreMm.X + (t * ray.X);
        double y = camera.CentreMm.Y + (t * ray.Y);
        double shade = Math.Max(0.05, 1 + (_shot.Gradient.X * ((x / print.WidthMm) - 0.5)) + (_shot.Gradient.Y * ((y / print.HeightMm) - 0.5)));
        double ink = ray.Z > 0 ? print.At(x, y) : -1;
        if (ink < 0)
        {
            (double r, double g, double b) = bench.At(x, y);
            double glow = exposure.LaserOn ? 0.0004 * exposure.AmbientWatt : 0;
            Add(sum, shade * exposure.PerWatt * exposure.AmbientWatt, glow * exposure.PerWatt, r, g, b);
            return;
        }

        double watt = exposure.LaserOn ? light.WattPerM2(light.Total.At(x, y)) : 0;
        (double inkR, double inkG, double inkB) = (ink, ink, ink);
        foreach (Distractor distractor in _distractors)
        {
            switch (distractor)
            {
                case Distractor.Shadow shadow:
                    double off = (Math.Abs(x - shadow.AtMm + (shadow.Slant * (y - (print.HeightMm / 2)))) - (shadow.WidthMm / 2)) / shadow.SoftMm;
                    shade *= 1 - (shadow.Depth / (1 + Math.Exp(4 * off)));
                    break;
                case Distractor.Glint glint when exposure.LaserOn:
                    (double sn, double cs) = Math.SinCos(glint.TurnRad);
                    double along = (((x - glint.AtMm.X) * cs) + ((y - glint.AtMm.Y) * sn)) / glint.LengthMm;
                    double across = (((y - glint.AtMm.Y) * cs) - ((x - glint.AtMm.X) * sn)) / glint.WidthMm;
                    watt += glint.WattPerM2 * Math.Exp(-2 * ((along * along) + (across * across)));
                    break;
                case Distractor.Pen pen:
                    double cover = PenCover(pen, x, y);
                    inkR *= 1 - (cover * (1 - pen.Red));
                    inkG *= 1 - (cover * (1 - pen.Green));
                    inkB *= 1 - (cover * (1 - pen.Blue));
                    break;
            }
        }

        Add(sum, shade * exposure.PerWatt * exposure.AmbientWatt, watt * exposure.PerWatt, inkR, inkG, inkB);
    }

    private void Add(Span<double> sum, double ambient, double laser, double red, double green, double blue)
    {
        sum[0] += ((ambient * _shot.AmbientRgb.X) + (laser * _shot.LaserRgb.X)) * red;
        sum[1] += ((ambient * _shot.AmbientRgb.Y) + (laser * _shot.LaserRgb.Y)) * green;
        sum[2] += ((ambient * _shot.AmbientRgb.Z) + (laser * _shot.LaserRgb.Z)) * blue;
    }

    private static double PenCover(Distractor.Pen pen, double x, double y)
    {
        double nearest = double.MaxValue;
        for (int i = 1; i < pen.PointsMm.Count; i++)
        {
            Point2 from = pen.PointsMm[i - 1];
            Vector2 way = pen.PointsMm[i] - from;
            double t = Math.Clamp((((x - from.X) * way.X) + ((y - from.Y) * way.Y)) / Math.Max(1e-9, way.Dot(way)), 0, 1);
            double dx = x - from.X - (t * way.X);
            double dy = y - from.Y - (t * way.Y);
            nearest = Math.Min(nearest, (dx * dx) + (dy * dy));
        }

        return 1 / (1 + Math.Exp((Math.Sqrt(nearest) - (pen.WidthMm / 2)) / 0.05));
    }
}
