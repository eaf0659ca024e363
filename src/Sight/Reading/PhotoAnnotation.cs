using System.Globalization;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Reading;

/// <summary>The photo with what was read drawn on it: the sheet's grid, the fiducials used, every mark with its name and angle.</summary>
public static class PhotoAnnotation
{
    private const double GridMm = 10;

    /// <summary>Draws and returns a PNG. Names are written beside the marks, so nothing is told by colour alone.</summary>
    /// <param name="photo">The photo that was read.</param>
    /// <param name="target">The printed target.</param>
    /// <param name="mount">What was read in it.</param>
    public static byte[] ToPng(Picture photo, TargetSheet target, MountReading mount)
    {
        using Mat canvas = photo.Bgr.Clone();
        int thin = Math.Max(1, photo.WidthPx / 1600);
        if (mount.Sheet is { } sheet)
        {
            Grid(canvas, target, sheet.Map, thin);
            foreach (SeenFiducial f in sheet.Fiducials)
                Polygon(canvas, [.. f.CornersPx], new Scalar(255, 160, 0), thin + 1);
        }

        foreach (SeenMark mark in mount.Marks)
            Mark(canvas, mark, thin);
        return canvas.ImEncode(".png");
    }

    private static void Grid(Mat canvas, TargetSheet target, LensMap map, int thin)
    {
        SheetRectangle field = target.SpotFieldMm;
        Point2 zero = target.ZeroMm;
        for (double x = zero.X + (GridMm * Math.Ceiling((field.LeftMm - zero.X) / GridMm)); x <= field.RightMm; x += GridMm)
            Line(canvas, map, new(x, field.TopMm), new(x, field.BottomMm), Math.Abs(x - zero.X) < 0.01 ? new Scalar(0, 200, 255) : new Scalar(150, 150, 150), thin);
        for (double y = zero.Y + (GridMm * Math.Ceiling((field.TopMm - zero.Y) / GridMm)); y <= field.BottomMm; y += GridMm)
            Line(canvas, map, new(field.LeftMm, y), new(field.RightMm, y), Math.Abs(y - zero.Y) < 0.01 ? new Scalar(0, 200, 255) : new Scalar(150, 150, 150), thin);
    }

    private static void Line(Mat canvas, LensMap map, Point2 from, Point2 to, Scalar colour, int thin)
    {
        const int parts = 12;
        Point previous = At(map.ToPhoto(from));
        for (int i = 1; i <= parts; i++)
        {
            Point next = At(map.ToPhoto(new(from.X + ((to.X - from.X) * i / parts), from.Y + ((to.Y - from.Y) * i / parts))));
            Cv2.Line(canvas, previous, next, colour, thin, LineTypes.AntiAlias);
            previous = next;
        }
    }

    private static void Mark(Mat canvas, SeenMark mark, int thin)
    {
        Point at = At(mark.PhotoPx);
        int size = 12 * thin;
        Scalar colour = mark.Role switch
        {
            SeenRole.Edge => new Scalar(255, 255, 0),
            SeenRole.Micro => new Scalar(255, 120, 255),
            SeenRole.Primary => new Scalar(0, 220, 255),
            _ => new Scalar(200, 200, 200),
        };
        Cv2.DrawMarker(canvas, at, new Scalar(0, 0, 0), MarkerTypes.Cross, 2 * size, thin + 3);
        Cv2.DrawMarker(canvas, at, colour, MarkerTypes.Cross, 2 * size, thin + 1);
        string name = mark.Role.ToString().ToLowerInvariant();
        string text = mark.AsRead is { } a
            ? string.Create(CultureInfo.InvariantCulture, $"{name} {a.Value.Degrees:0.00} deg +- {2 * a.StandardUncertainty.Degrees:0.00}")
            : name;
        Point where = new(at.X + size, at.Y - size);
        Cv2.PutText(canvas, text, where, HersheyFonts.HersheySimplex, 0.55 * thin, new Scalar(0, 0, 0), (2 * thin) + 2, LineTypes.AntiAlias);
        Cv2.PutText(canvas, text, where, HersheyFonts.HersheySimplex, 0.55 * thin, colour, thin, LineTypes.AntiAlias);
    }

    private static void Polygon(Mat canvas, Point2[] corners, Scalar colour, int thickness)
    {
        for (int i = 0; i < corners.Length; i++)
            Cv2.Line(canvas, At(corners[i]), At(corners[(i + 1) % corners.Length]), colour, thickness, LineTypes.AntiAlias);
    }

    private static Point At(Point2 p) => new((int)Math.Round(Math.Clamp(p.X, -1e5, 1e5)), (int)Math.Round(Math.Clamp(p.Y, -1e5, 1e5)));
}
