using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Steel as bright as the paper lets the paper in through a gap of the rim: a bay that is wider inside than its mouth, or a long slit. A heel's
/// notch, a chip and the mat between two things open outward.
/// </summary>
internal static class SilhouetteBays
{
    /// <summary>Mouths that are closed, cells across: 10, 14, 18 and 22 mm. Chosen.</summary>
    private static readonly int[] Mouths = [25, 35, 45, 55];

    /// <summary>Area of a bay against its mouth's square. Chosen.</summary>
    private const double LeastBay = 1.5;

    /// <summary>A slit's mouth, cells. Chosen: wider than a chip.</summary>
    private const int SlitCells = 17;

    /// <summary>Least area of a slit, cells: 40 mm². Chosen: a notch before a handle is smaller.</summary>
    private const int LeastSlit = 250;

    /// <summary>Fills those of the largest thing; between two things lies mat.</summary>
    public static void Fill(Mat things)
    {
        using Mat largest = Largest(things);
        foreach (int mouth in Mouths)
            FillBays(largest, mouth);
        FillSlits(largest);
        Cv2.BitwiseOr(things, largest, things);
    }

    private static Mat Largest(Mat things)
    {
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(things, labels, stats, centres);
        int best = 0;
        for (int i = 1; i < n; i++)
        {
            if (best == 0 || stats.At<int>(i, (int)ConnectedComponentsTypes.Area) > stats.At<int>(best, (int)ConnectedComponentsTypes.Area))
                best = i;
        }

        var largest = new Mat(things.Size(), MatType.CV_8UC1, Scalar.All(0));
        if (best > 0)
            Cv2.Compare(labels, new Scalar(best), largest, CmpTypes.EQ);
        return largest;
    }

    private static void FillBays(Mat things, int mouth)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(mouth, mouth));
        using Mat closed = Closed(things, disc);
        Cv2.FindContours(closed, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        using Mat filled = new(things.Size(), MatType.CV_8UC1, Scalar.All(0));
        Cv2.DrawContours(filled, outlines, -1, Scalar.All(255), -1);
        using Mat bays = new();
        Cv2.Subtract(filled, closed, bays);
        Masks.KeepLarge(bays, (int)(LeastBay * mouth * mouth));
        if (Cv2.CountNonZero(bays) == 0)
            return;
        Cv2.Dilate(bays, bays, disc);
        Cv2.BitwiseAnd(bays, filled, bays);
        Cv2.BitwiseOr(things, bays, things);
    }

    private static void FillSlits(Mat things)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(SlitCells, SlitCells));
        using Mat slits = Closed(things, disc);
        Cv2.Subtract(slits, things, slits);
        Masks.KeepLarge(slits, LeastSlit);
        Cv2.BitwiseOr(things, slits, things);
    }

    // The picture's rim must not close anything.
    private static Mat Closed(Mat things, Mat disc)
    {
        int margin = disc.Width;
        using Mat padded = new();
        Cv2.CopyMakeBorder(things, padded, margin, margin, margin, margin, BorderTypes.Constant, Scalar.All(0));
        Cv2.MorphologyEx(padded, padded, MorphTypes.Close, disc);
        return new Mat(padded, new Rect(margin, margin, things.Width, things.Rows)).Clone();
    }
}
