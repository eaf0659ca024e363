using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>Heel and tip much enlarged: truth green, outline yellow, edge red, heel's face blue.</summary>
internal static class EndsPicture
{
    private const double PxPerMm = 40;
    private const double HalfMm = 5;

    public static void Write(string path, Picture photo, FoundSheet sheet, List<Point2> seen, List<Point2> outline, Point2[] found, Point2[] edge, HeelFace? face)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        using Mat both = new();
        using Mat heel = Crop(photo, sheet, seen[0], outline, found, edge, face);
        using Mat tip = Crop(photo, sheet, seen[^1], outline, found, edge, face);
        Cv2.HConcat([heel, tip], both);
        Cv2.ImWrite(path, both);
    }

    private static Mat Crop(Picture photo, FoundSheet sheet, Point2 middle, List<Point2> outline, Point2[] found, Point2[] edge, HeelFace? face)
    {
        int n = (int)(2 * HalfMm * PxPerMm);
        using var mx = new Mat(n, n, MatType.CV_32FC1);
        using var my = new Mat(n, n, MatType.CV_32FC1);
        Point2 corner = new(middle.X - HalfMm, middle.Y - HalfMm);
        for (int r = 0; r < n; r++)
        {
            for (int c = 0; c < n; c++)
            {
                Point2 p = sheet.Map.ToPhoto(new(corner.X + (c / PxPerMm), corner.Y + (r / PxPerMm)));
                mx.Set(r, c, (float)p.X);
                my.Set(r, c, (float)p.Y);
            }
        }

        Mat flat = new();
        Cv2.Remap(photo.Bgr, flat, mx, my, InterpolationFlags.Nearest);
        Point At(Point2 p) => new((int)Math.Round((p.X - corner.X) * PxPerMm * 16), (int)Math.Round((p.Y - corner.Y) * PxPerMm * 16));
        void Line(IReadOnlyList<Point2> line, bool closed, Scalar colour)
        {
            for (int i = 0; i + 1 < line.Count || (closed && i < line.Count); i++)
            {
                if (line[i].DistanceTo(middle) < 3 * HalfMm || line[(i + 1) % line.Count].DistanceTo(middle) < 3 * HalfMm)
                    Cv2.Line(flat, At(line[i]), At(line[(i + 1) % line.Count]), colour, 1, LineTypes.AntiAlias, 4);
            }
        }

        Line(outline, outline[0].DistanceTo(outline[^1]) < HalfMm, new Scalar(0, 220, 0));
        Line(found, true, new Scalar(0, 220, 255));
        Line(edge, false, new Scalar(0, 0, 255));
        foreach (Point2 end in new[] { edge[0], edge[^1] })
            Cv2.Circle(flat, At(end), 5 * 16, new Scalar(0, 0, 255), 1, LineTypes.AntiAlias, 4);
        if (face is { } f && f.Line.At.DistanceTo(middle) < 12)
            Line([f.Line.At + (f.Line.Direction * -4), f.Line.At + (f.Line.Direction * 4)], false, new Scalar(255, 60, 0));
        return flat;
    }
}
