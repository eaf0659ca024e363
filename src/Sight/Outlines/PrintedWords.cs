using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The row of words beside a printed line. Letters are strokes in many directions within a few millimetres, at one height along the line; the
/// rim of a blade that runs through them has one direction, and its steel or shadow is darker than ink blurred by the photo.
/// </summary>
internal static class PrintedWords
{
    /// <summary>Words stand within this of their line, cells: 6 mm. Chosen.</summary>
    private const int FarthestCells = 15;

    /// <summary>Nearest row of words, cells. Chosen.</summary>
    private const int NearestCells = 3;

    /// <summary>Tallest row of words, cells: 4 mm. Chosen.</summary>
    private const int TallestCells = 10;

    /// <summary>Share of the gradient's energy that lies in one direction where strokes are letters, at most. Chosen: a rim has more than 0.8.</summary>
    private const double MostOneWay = 0.6;

    /// <summary>Reach over which strokes' directions are gathered, cells: 1 mm. Chosen.</summary>
    private const double Reach = 2.5;

    /// <summary>Least cells of letters in a row of the words. Chosen.</summary>
    private const int LeastLetters = 8;

    /// <summary>Widest gap between two words, cells: 8 mm; and what belongs to a letter beside its strokes. Chosen.</summary>
    private const int BetweenCells = 20, RoundCells = 4;

    /// <summary>The line with its words.</summary>
    public static PrintedLine Beside(PaperTones field, Mat fine, PrintedLine line)
    {
        var words = new List<WordRow>();
        int middle = line.RowAt((line.From + line.To) / 2);
        int top = Math.Max(0, middle - FarthestCells - 12);
        int bottom = Math.Min(field.Rows, middle + FarthestCells + 12);
        var box = new Rect(line.From, top, line.To - line.From + 1, bottom - top);
        bool[] letters = Letters(field, fine, box);
        foreach (int side in (int[])[-1, 1])
        {
            int[] count = new int[FarthestCells + 1];
            for (int c = box.Left; c < box.Right; c++)
            {
                for (int away = NearestCells; away <= FarthestCells; away++)
                {
                    int row = line.RowAt(c) + (side * away);
                    if (row >= top && row < bottom && letters[((row - top) * box.Width) + c - box.X])
                        count[away]++;
                }
            }

            int most = count.Max();
            if (most < LeastLetters)
                continue;
            (int near, int far) = (Array.IndexOf(count, most), Array.IndexOf(count, most));
            while (far - near < TallestCells - 1)
            {
                int before = near > NearestCells ? count[near - 1] : 0;
                int after = far < FarthestCells ? count[far + 1] : 0;
                if (Math.Max(before, after) < 0.3 * most)
                    break;
                (near, far) = before >= after ? (near - 1, far) : (near, far + 1);
            }

            words.Add(new(side * near, side * far, Columns(line, letters, box, side, near, far)));
        }

        return line with { Words = words };
    }

    private static bool[] Columns(PrintedLine line, bool[] letters, Rect box, int side, int near, int far)
    {
        bool[] words = new bool[box.Width];
        int last = -BetweenCells;
        for (int i = 0; i < box.Width; i++)
        {
            bool any = false;
            for (int away = near; away <= far && !any; away++)
            {
                int row = line.RowAt(i + box.X) + (side * away) - box.Y;
                any = row >= 0 && row < box.Height && letters[(row * box.Width) + i];
            }

            if (!any)
                continue;
            for (int k = Math.Max(0, i - last <= BetweenCells ? last : i - RoundCells); k <= Math.Min(box.Width - 1, i + RoundCells); k++)
                words[k] = true;
            last = i;
        }

        return words;
    }

    /// <summary>Strokes in many directions, darker than the paper around them.</summary>
    private static bool[] Letters(PaperTones field, Mat fine, Rect box)
    {
        using Mat part = new(fine, box);
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(9, 9));
        using Mat closed = new();
        Cv2.MorphologyEx(part, closed, MorphTypes.Close, disc);
        closed.GetArray(out Vec3f[] paper);
        using Mat partCopy = part.Clone();
        partCopy.GetArray(out Vec3f[] tone);
        float[] darkness = [.. paper.Zip(tone, (p, t) => (float)(PaperTones.Of(p) - PaperTones.Of(t)))];
        using Mat dark = new(box.Height, box.Width, MatType.CV_32FC1);
        dark.SetArray(darkness);
        float[] along = Energy(dark, 1, 0, 1, 0);
        float[] across = Energy(dark, 0, 1, 0, 1);
        float[] both = Energy(dark, 1, 0, 0, 1);
        bool[] letters = new bool[darkness.Length];
        for (int i = 0; i < letters.Length; i++)
        {
            double sum = along[i] + across[i];
            double difference = along[i] - across[i];
            double oneWay = Math.Sqrt((difference * difference) + (4.0 * both[i] * both[i])) / (sum + 1e-12);
            int at = (((i / box.Width) + box.Y) * field.Columns) + (i % box.Width) + box.X;
            letters[i] = darkness[i] > PaperTones.LeastDip && oneWay < MostOneWay && field.IsPaper(paper[i], at);
        }

        return letters;
    }

    private static float[] Energy(Mat dark, int dx, int dy, int dx2, int dy2)
    {
        using Mat a = new();
        using Mat b = new();
        Cv2.Scharr(dark, a, MatType.CV_32FC1, dx, dy, 1 / 32.0);
        Cv2.Scharr(dark, b, MatType.CV_32FC1, dx2, dy2, 1 / 32.0);
        Cv2.Multiply(a, b, a);
        Cv2.GaussianBlur(a, a, new Size(0, 0), Reach);
        a.GetArray(out float[] energy);
        return energy;
    }
}
