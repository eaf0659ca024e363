using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// What is printed on the mat's plain field, check lines and words: thin, darker than the paper and paper on all sides. A blade's rim, shadow
/// and chips have steel on one side and so are none of it.
/// </summary>
internal static class Printing
{
    /// <summary>Widest stroke, grid cells. Chosen: 3.6 mm, what a closing of letters needs.</summary>
    private const int StrokeCells = 9;

    /// <summary>Least darkness against the paper beside it, natural logarithm. Chosen.</summary>
    private const double Darker = 0.02;

    /// <summary>Paper beside print lies within this of the bare paper's tone, darker (a soft shadow) and brighter. Chosen.</summary>
    private const double InShade = 0.14, Brighter = 0.045;

    /// <summary>
    /// Most of the ring around a mark that is no paper. Chosen: a piece of a blade's rim before steel as bright as the paper goes on at its ends.
    /// </summary>
    private const double MostOther = 0.005;

    /// <summary>Largest letter, highest line of words, largest round thing as bright as the paper, cells: 8, 5 and 34 mm. Chosen.</summary>
    private const int LetterCells = 20, LineCells = 12, RoundCells = 85;

    /// <summary>Paints printing over with the paper beside it.</summary>
    /// <param name="tones">Natural logarithms of the tones; changed in place.</param>
    /// <param name="level">Tones of the bare paper.</param>
    /// <param name="valid">Where the photo shows the mat.</param>
    public static void PaintOver(Mat tones, Mat level, Mat valid)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(StrokeCells, StrokeCells));
        using Mat beside = new();
        Cv2.MorphologyEx(tones, beside, MorphTypes.Close, disc);
        using Mat dark = new();
        Cv2.Subtract(beside, tones, dark);
        using Mat marks = Largest(dark, Darker);
        Cv2.BitwiseAnd(marks, valid, marks);
        using Mat off = new();
        Cv2.Subtract(tones, level, off);
        using Mat paper = LikePaper(off);
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(marks, labels, stats, centres);
        using Mat print = new(tones.Size(), MatType.CV_8UC1, Scalar.All(0));
        using Mat inner = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(5, 5));
        using Mat outer = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(11, 11));
        for (int i = 1; i < n; i++)
        {
            if (stats.At<int>(i, (int)ConnectedComponentsTypes.Area) < 4 || !LooksPrinted(stats.At<int>(i, (int)ConnectedComponentsTypes.Width), stats.At<int>(i, (int)ConnectedComponentsTypes.Height)))
                continue;
            const int margin = 8;
            int x = Math.Max(0, stats.At<int>(i, (int)ConnectedComponentsTypes.Left) - margin);
            int y = Math.Max(0, stats.At<int>(i, (int)ConnectedComponentsTypes.Top) - margin);
            var box = new Rect(x, y,
                Math.Min(tones.Width - x, stats.At<int>(i, (int)ConnectedComponentsTypes.Width) + (2 * margin)),
                Math.Min(tones.Rows - y, stats.At<int>(i, (int)ConnectedComponentsTypes.Height) + (2 * margin)));
            using Mat part = new(labels, box);
            using Mat mark = new();
            Cv2.Compare(part, new Scalar(i), mark, CmpTypes.EQ);
            if (!OnPaper(mark, new Mat(marks, box), new Mat(paper, box), inner, outer))
                continue;
            using Mat grown = new();
            Cv2.Dilate(mark, grown, inner);
            using Mat into = new(print, box);
            Cv2.BitwiseOr(into, grown, into);
        }

        beside.CopyTo(tones, print);
    }

    // A letter, a line or words along one of the mat's sides, or the rim of something round: no piece of a blade's rim that lies askew.
    private static bool LooksPrinted(int wide, int high) =>
        Math.Max(wide, high) <= LetterCells || Math.Min(wide, high) <= LineCells || (Math.Abs(wide - high) <= LineCells && wide <= RoundCells);

    private static bool OnPaper(Mat mark, Mat marks, Mat paper, Mat inner, Mat outer)
    {
        using (marks)
        using (paper)
        using (Mat near = new())
        using (Mat ring = new())
        {
            Cv2.Dilate(mark, near, inner);
            Cv2.Dilate(mark, ring, outer);
            Cv2.Subtract(ring, near, ring);
            Cv2.Subtract(ring, marks, ring);
            int all = Cv2.CountNonZero(ring);
            Cv2.BitwiseAnd(ring, paper, ring);
            return all > 0 && all - Cv2.CountNonZero(ring) <= MostOther * all;
        }
    }

    private static Mat Largest(Mat dark, double least)
    {
        Mat[] planes = Cv2.Split(dark);
        using Mat most = new();
        Cv2.Max(planes[0], planes[1], most);
        Cv2.Max(most, planes[2], most);
        foreach (Mat plane in planes)
            plane.Dispose();
        var mask = new Mat();
        Cv2.Threshold(most, mask, least, 255, ThresholdTypes.Binary);
        mask.ConvertTo(mask, MatType.CV_8UC1);
        return mask;
    }

    private static Mat LikePaper(Mat off)
    {
        var paper = new Mat();
        Cv2.InRange(off, Scalar.All(-InShade), Scalar.All(Brighter), paper);
        return paper;
    }
}
