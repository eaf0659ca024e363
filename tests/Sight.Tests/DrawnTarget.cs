using OpenCvSharp;
using OpenCvSharp.Aruco;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests;

/// <summary>An A4 target with eight fiducials, and pictures of it drawn by a homography: truth for where the sheet is.</summary>
internal static class DrawnTarget
{
    private const double PxPerMm = 4;

    public static TargetSheet Sheet { get; } = new()
    {
        Paper = "a4",
        SizeMm = new(297, 210),
        ZeroMm = new(148.5, 105),
        SpotFieldMm = new(30, 72, 267, 138),
        DistanceMm = 100,
        Fiducials =
        [
            SheetFiducial.Upright(0, 9, 9, 18), SheetFiducial.Upright(1, 120, 9, 18), SheetFiducial.Upright(2, 270, 9, 18),
            SheetFiducial.Upright(3, 270, 150, 18), SheetFiducial.Upright(4, 270, 183, 18), SheetFiducial.Upright(5, 120, 183, 18),
            SheetFiducial.Upright(6, 9, 183, 18), SheetFiducial.Upright(7, 9, 150, 18),
        ],
    };

    /// <summary>Where the corners of the sheet are put in a tilted photo of 2000 × 1500 pixels.</summary>
    public static readonly Point2f[] TiltedCornersPx = [new(210, 260), new(1720, 180), new(1840, 1330), new(150, 1240)];

    public static Picture Photo(bool mirrored = false, bool twice = false)
    {
        using Mat print = Print();
        if (mirrored)
            Cv2.Flip(print, print, FlipMode.Y);
        using Mat photo = new(1500, 2000, MatType.CV_8UC3, new Scalar(60, 60, 60));
        if (twice)
        {
            using Mat small = new();
            Cv2.Resize(print, small, new Size(960, 680), 0, 0, InterpolationFlags.Area);
            using Mat first = new(photo, new Rect(20, 40, 960, 680));
            using Mat second = new(photo, new Rect(1000, 760, 960, 680));
            small.CopyTo(first);
            small.CopyTo(second);
        }
        else
        {
            using Mat h = Homography();
            Cv2.WarpPerspective(print, photo, h, photo.Size(), InterpolationFlags.Area, BorderTypes.Constant, new Scalar(60, 60, 60));
        }

        return Picture.Decode(photo.ImEncode(".png"));
    }

    /// <summary>True place in the tilted photo of a point of the sheet.</summary>
    public static Point2 TruePx(Point2 mm)
    {
        using Mat h = Homography();
        double x = (mm.X * PxPerMm) - 0.5;
        double y = (mm.Y * PxPerMm) - 0.5;
        double w = (h.At<double>(2, 0) * x) + (h.At<double>(2, 1) * y) + h.At<double>(2, 2);
        return new(
            ((h.At<double>(0, 0) * x) + (h.At<double>(0, 1) * y) + h.At<double>(0, 2)) / w,
            ((h.At<double>(1, 0) * x) + (h.At<double>(1, 1) * y) + h.At<double>(1, 2)) / w);
    }

    private static Mat Homography()
    {
        float right = (float)((297 * PxPerMm) - 0.5);
        float bottom = (float)((210 * PxPerMm) - 0.5);
        return Cv2.GetPerspectiveTransform([new Point2f(-0.5f, -0.5f), new(right, -0.5f), new(right, bottom), new(-0.5f, bottom)], TiltedCornersPx);
    }

    private static Mat Print()
    {
        var print = new Mat((int)(210 * PxPerMm), (int)(297 * PxPerMm), MatType.CV_8UC3, new Scalar(235, 235, 235));
        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_50);
        foreach (SheetFiducial f in Sheet.Fiducials)
        {
            int side = (int)Math.Round((f.RightMm - f.LeftMm) * PxPerMm);
            using Mat marker = new();
            dictionary.GenerateImageMarker(f.Id, side, marker, 1);
            using Mat colour = new();
            Cv2.CvtColor(marker, colour, ColorConversionCodes.GRAY2BGR);
            using Mat at = new(print, new Rect((int)(f.LeftMm * PxPerMm), (int)(f.TopMm * PxPerMm), side, side));
            colour.CopyTo(at);
        }

        return print;
    }
}
