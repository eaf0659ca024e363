using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;

namespace Whetwright.Sight.Outlines;

/// <summary>One thing that lies on the mat, roughly.</summary>
/// <param name="Outline">Closed, mat millimetres.</param>
/// <param name="AreaMm2">Its area.</param>
/// <param name="LengthMm">Of the smallest rectangle around it.</param>
/// <param name="WidthMm">Likewise.</param>
/// <param name="Cut">Whether it runs out of the photo or off the mat.</param>
internal sealed record ThingOnMat(IReadOnlyList<Point2> Outline, double AreaMm2, double LengthMm, double WidthMm, bool Cut)
{
    /// <summary>Things of at least 150 mm², largest first; printed squares that were not recognised are left out.</summary>
    public static IReadOnlyList<ThingOnMat> Find(MatField field, IReadOnlyList<SheetFiducial> fiducials)
    {
        Cv2.FindContours(field.Things, out Point[][] contours, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        var things = new List<ThingOnMat>();
        using Mat rim = new();
        using Mat kernel = Cv2.GetStructuringElement(MorphShapes.Rect, new Size(7, 7));
        Cv2.Erode(field.Valid, rim, kernel);
        rim.GetArray(out byte[] inner);
        foreach (Point[] c in contours)
        {
            double area = Cv2.ContourArea(c) * MatField.StepMm * MatField.StepMm;
            if (area < 150)
                continue;
            List<Point2> outline = [.. c.Select(p => MatField.ToMat(p.X, p.Y))];
            RotatedRect box = Cv2.MinAreaRect(c);
            double length = Math.Max(box.Size.Width, box.Size.Height) * MatField.StepMm;
            double width = Math.Min(box.Size.Width, box.Size.Height) * MatField.StepMm;
            if (fiducials.Any(f => outline.All(p => p.X > f.LeftMm - 3 && p.X < f.RightMm + 3 && p.Y > f.TopMm - 3 && p.Y < f.BottomMm + 3)))
                continue;
            bool cut = c.Any(p => inner[(p.Y * field.Columns) + p.X] == 0);
            things.Add(new(outline, area, length, width, cut));
        }

        return [.. things.OrderByDescending(t => t.AreaMm2)];
    }
}
