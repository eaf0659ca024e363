using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Steel that mirrors from dark to bright passes the paper's own tone on the way and leaves a band across the blade that looks like paper. Such a
/// band has steel on both sides along the blade's axis; a heel's notch, the tip and the mat outside have not.
/// </summary>
internal static class SilhouetteGaps
{
    /// <summary>Widest band, mm. Chosen.</summary>
    private const double WidestMm = 50;

    /// <summary>Smaller gaps may be a heel's notch before a handle, mm². Chosen.</summary>
    private const double LeastMm2 = 100;

    public static void Close(Mat things, double stepMm)
    {
        using Mat steel = new(things.Size(), MatType.CV_8UC1, Scalar.All(0));
        if (Steel(things, steel, stepMm) is not { } deg)
            return;
        var centre = new Point2f(things.Width / 2f, things.Rows / 2f);
        int side = (int)Math.Ceiling(Math.Sqrt(((double)things.Width * things.Width) + ((double)things.Rows * things.Rows)));
        using Mat turn = Cv2.GetRotationMatrix2D(centre, deg, 1);
        turn.Set(0, 2, turn.At<double>(0, 2) + ((side - things.Width) / 2.0));
        turn.Set(1, 2, turn.At<double>(1, 2) + ((side - things.Rows) / 2.0));
        using Mat turned = new();
        Cv2.WarpAffine(steel, turned, turn, new Size(side, side), InterpolationFlags.Nearest);
        using Mat line = Cv2.GetStructuringElement(MorphShapes.Rect, new Size((2 * (int)(WidestMm / stepMm / 2)) + 1, 1));
        using Mat closed = new();
        Cv2.MorphologyEx(turned, closed, MorphTypes.Close, line);
        using Mat gaps = new();
        using Mat back = new();
        Cv2.Subtract(closed, turned, gaps);
        Cv2.WarpAffine(gaps, back, turn, things.Size(), InterpolationFlags.Nearest | InterpolationFlags.WarpInverseMap);
        using Mat small = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        Cv2.MorphologyEx(back, back, MorphTypes.Open, small);
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(back, labels, stats, centres);
        for (int i = 1; i < n; i++)
        {
            if (stats.At<int>(i, (int)ConnectedComponentsTypes.Area) * stepMm * stepMm < LeastMm2)
                continue;
            using Mat gap = new();
            Cv2.Compare(labels, new Scalar(i), gap, CmpTypes.EQ);
            Cv2.BitwiseOr(things, gap, things);
        }
    }

    /// <summary>
    /// Draws what may be pieces of the blade: not coins (round and small), not printing (thin). Gives the long side of the longest, degrees; null
    /// where nothing is longer than 25 mm.
    /// </summary>
    private static double? Steel(Mat things, Mat steel, double stepMm)
    {
        Cv2.FindContours(things, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        double longest = 25 / stepMm;
        double? deg = null;
        double largest = outlines.Length == 0 ? 0 : outlines.Max(o => Cv2.ContourArea(o));
        foreach (Point[] outline in outlines)
        {
            RotatedRect box = Cv2.MinAreaRect(outline);
            (double w, double h) = (box.Size.Width, box.Size.Height);
            double area = Cv2.ContourArea(outline);
            bool round = Math.Max(w, h) < 1.4 * Math.Min(w, h) && Math.Max(w, h) * stepMm < 34;
            if (area < 0.04 * largest || Math.Min(w, h) * stepMm < 7 || round)
                continue;
            Cv2.DrawContours(steel, [outline], -1, Scalar.All(255), -1);
            if (Math.Max(w, h) > longest)
                (longest, deg) = (Math.Max(w, h), w >= h ? box.Angle : box.Angle + 90);
        }

        return deg;
    }
}
