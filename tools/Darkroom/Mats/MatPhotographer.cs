using Whetwright.Core.Quantities;
using Whetwright.Darkroom.Cameras;
using Whetwright.Darkroom.Marks;
using Whetwright.Darkroom.Sheets;

namespace Whetwright.Darkroom.Mats;

/// <summary>Casts a ray per part of a pixel on blade, mat and bench.</summary>
internal sealed class MatPhotographer(MatScene scene, MatShot shot, MatBody body, MatLight light, SteelSkin skin, SheetPrint print, LensCamera camera)
{
    private static readonly (double X, double Y)[] Parts = [(0.125, 0.375), (0.625, 0.125), (0.375, 0.875), (0.875, 0.625)];

    public Picture Draw()
    {
        int width = camera.WidthPx;
        int height = camera.HeightPx;
        Picture picture = new(width, height);
        BenchCloth bench = new(scene.Seed, 0.35);
        double unit = shot.Level / light.OpenMm / MarkExposure.PaperWhite;
        Parallel.For(0, height, row =>
        {
            var rays = new Vector3[2, width + 1];
            for (int edge = 0; edge < 2; edge++)
            {
                for (int column = 0; column <= width; column++)
                    rays[edge, column] = camera.RayThrough(column - 0.5, row + edge - 0.5);
            }

            for (int column = 0; column < width; column++)
            {
                Vector3 sum = default;
                foreach ((double fx, double fy) in Parts)
                {
                    Vector3 ray = (((rays[0, column] * (1 - fx)) + (rays[0, column + 1] * fx)) * (1 - fy)) + (((rays[1, column] * (1 - fx)) + (rays[1, column + 1] * fx)) * fy);
                    sum += See(ray, bench);
                }

                int at = ((row * width) + column) * 3;
                picture.Rgb[at] = (float)(sum.X * unit / Parts.Length * scene.RoomRgb.X);
                picture.Rgb[at + 1] = (float)(sum.Y * unit / Parts.Length * scene.RoomRgb.Y);
                picture.Rgb[at + 2] = (float)(sum.Z * unit / Parts.Length * scene.RoomRgb.Z);
            }
        });
        return picture;
    }

    private Vector3 See(Vector3 ray, BenchCloth bench)
    {
        double t = -camera.CentreMm.Z / ray.Z;
        var mat = new Point2(camera.CentreMm.X + (t * ray.X), camera.CentreMm.Y + (t * ray.Y));
        var lean = new Vector2(-ray.X / ray.Z, -ray.Y / ray.Z); // sideways per mm upward
        foreach (Lying lying in scene.About)
        {
            if (lying.Kind == "cloth" && new Point2(mat.X + (lean.X * lying.HeightMm), mat.Y + (lean.Y * lying.HeightMm)).DistanceTo(lying.AtMm) < lying.RadiusMm)
                return Grey(lying.Albedo * light.OpenMm);
        }

        if (body.Hit(mat, lean) is double h)
            return Grey(OfBody(new(mat.X + (lean.X * h), mat.Y + (lean.Y * h)), h, ray));
        double ink = print.At(mat.X, mat.Y);
        double open = light.At(mat);
        if (ink < 0)
        {
            (double r, double g, double b) = bench.At(mat.X, mat.Y);
            return new Vector3(r, g, b) * open;
        }

        double paper = ink * MarkExposure.PaperWhite;
        foreach (Lying lying in scene.About)
        {
            double off = mat.DistanceTo(lying.AtMm);
            if (lying.Kind == "coin" && off < lying.RadiusMm)
                return new Vector3(1.05, 0.95, 0.8) * (open * lying.Albedo * (off > lying.RadiusMm - 1 ? 1.25 : 0.85 + (0.15 * Math.Sin(off * 2.1))));
            if (lying.Kind == "coin" && off < lying.RadiusMm + 1.6)
                paper *= 0.65 + (0.35 * (off - lying.RadiusMm) / 1.6);
            if (lying.Kind == "pen")
                paper *= 1 - (0.8 / (1 + Math.Exp((Math.Abs(off - lying.RadiusMm) - 0.25) / 0.05)));
        }

        return Grey(paper * open);
    }

    private double OfBody(Point2 mat, double h, Vector3 ray)
    {
        Point2 b = body.Frame.ToBlade(mat);
        (double _, double high, bool isHandle) = body.Span(b);
        bool wall = h < high - 0.08;
        Vector3 normal = Normal(b, high);
        double open = light.Open(mat);
        if (isHandle)
            return scene.Handle!.Albedo * open * (wall ? 0.35 : 0.45 + (0.55 * normal.Z)) + (wall ? 0 : 0.02 * open);
        if (wall)
            return 0.16 * open;
        Vector3 down = new Vector3(ray.X, ray.Y, -ray.Z) * (1 / ray.Norm);
        var cameraUp = new Vector3(camera.CentreMm.X, camera.CentreMm.Y, -camera.CentreMm.Z);
        return skin.Shine(b, mat, h, normal, down, cameraUp);
    }

    // Upward normal of the upper surface from its neighbours; from near ones where a point is too slender for others.
    private Vector3 Normal(Point2 b, double high)
    {
        const double usual = 0.12, near = 0.02;
        double sx = Slope(b, high, new(usual, 0)) ?? Slope(b, high, new(near, 0)) ?? 0;
        double sy = Slope(b, high, new(0, usual)) ?? Slope(b, high, new(0, near)) ?? 0;
        Vector2 flat = body.Frame.Direction(-sx, -sy);
        var normal = new Vector3(flat.X, flat.Y, 1);
        return normal * (1 / normal.Norm);
    }

    // From the places so far to both sides, or the one of them that is steel; null where neither is.
    private double? Slope(Point2 b, double high, Vector2 to)
    {
        double there = High(b.X + to.X, b.Y + to.Y);
        double back = High(b.X - to.X, b.Y - to.Y);
        bool hasThere = !double.IsNaN(there);
        bool hasBack = !double.IsNaN(back);
        return hasThere && hasBack ? (there - back) / (2 * to.Norm) : hasThere ? (there - high) / to.Norm : hasBack ? (high - back) / to.Norm : null;
    }

    private double High(double x, double y)
    {
        Point2 b = new(x, y);
        return body.Depth(b) > 0 ? body.Span(b).High : double.NaN;
    }

    private static Vector3 Grey(double value) => new(value, value, value);
}
