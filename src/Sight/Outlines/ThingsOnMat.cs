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
    /// <summary>Two round pieces beside each other meet at a waist this narrow against them, and each is no longer than so many times its width. Chosen.</summary>
    private const double Waist = 0.65, Round = 1.3;

    /// <summary>Whether it is two round things that touch or whose shadows do, as coins: no blade.</summary>
    public bool TwoRounds
    {
        get
        {
            RotatedRect box = Cv2.MinAreaRect(Outline.Select(p => new Point2f((float)p.X, (float)p.Y)));
            Point2f[] corner = box.Points();
            (Point2f a, Point2f b) = corner[0].DistanceTo(corner[1]) > corner[1].DistanceTo(corner[2]) ? (corner[0], corner[1]) : (corner[1], corner[2]);
            Vector2 axis = (new Point2(b.X, b.Y) - new Point2(a.X, a.Y)).Normalized();
            Vector2 across = new(-axis.Y, axis.X);
            Point2 origin = new(a.X, a.Y);
            var low = new double[(int)LengthMm + 1];
            var high = new double[low.Length];
            Array.Fill(low, double.MaxValue);
            Array.Fill(high, double.MinValue);
            foreach (Point2 p in Outline)
            {
                int i = Math.Clamp((int)(p - origin).Dot(axis), 0, low.Length - 1);
                double t = (p - origin).Dot(across);
                (low[i], high[i]) = (Math.Min(low[i], t), Math.Max(high[i], t));
            }

            double[] width = [.. high.Select((h, i) => Math.Max(0, h - low[i]))];
            int waist = Enumerable.Range(width.Length / 4, width.Length / 2).MinBy(i => width[i]);
            double before = width[..waist].Max();
            double after = width[waist..].Max();
            return width[waist] < Waist * Math.Min(before, after) && waist < Round * before && LengthMm - waist < Round * after;
        }
    }

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
