using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The photo drawn onto the mat's millimetres at low resolution, the paper told from what lies on it. Paper is what can be reached across
/// gentle changes of tone: soft shadows are crossed, steps are not; thin printed lines are closed first.
/// </summary>
internal sealed class MatField : IDisposable
{
    /// <summary>Grid step, mm. Chosen: a chip's width and a thin bevel span two steps.</summary>
    public const double StepMm = 0.4;

    /// <summary>Gradient of the tone, per grid step, that stops the flood: about a step of 3 %. Chosen: weaker ones are shadows' rims.</summary>
    public const double LeastBarrier = 0.011;

    /// <summary>Gradient that no rim of a faint shadow has. Chosen.</summary>
    private const double StrongBarrier = 0.025;

    /// <summary>Tone within this of the paper around it (natural logarithm) may be paper. Chosen.</summary>
    private const double LikePaper = 0.06;

    private MatField(int columns, int rows, Mat tones, Mat valid, Mat paper, Mat things, double noise)
    {
        (Columns, Rows, Tones, Valid, Paper, Things, Noise) = (columns, rows, tones, valid, paper, things, noise);
    }

    public int Columns { get; }

    public int Rows { get; }

    /// <summary>Natural logarithm of the code plus <see cref="Foot"/>, three channels.</summary>
    public Mat Tones { get; }

    /// <summary>255 where the photo shows the mat.</summary>
    public Mat Valid { get; }

    public Mat Paper { get; }

    /// <summary>255 on what lies on the mat.</summary>
    public Mat Things { get; }

    /// <summary>Median of the tone's gradient on the mat, per grid step.</summary>
    public double Noise { get; }

    /// <summary>Added to codes before the logarithm, so that black is not endless.</summary>
    public const float Foot = 12;

    public static MatField From(Picture picture, LensMap map, Point2 sizeMm, IReadOnlyList<SeenFiducial> seen, IReadOnlyList<SheetFiducial> printed)
    {
        using Mat drawn = new();
        (Mat tones, Mat valid) = Drawn(picture, map, sizeMm, drawn);
        using Mat strokes = Strokes(drawn, tones);
        using Mat kernel3 = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        using Mat? level = PaperTone.Level(tones, valid);
        if (level is not null)
            Printing.PaintOver(tones, level, valid);

        // Lines ruled over the whole mat stop no flood.
        using Mat plain = tones.Clone();
        if (level is not null)
        {
            Cv2.Subtract(plain, level, plain);
            RimFill.TakeGridOff(plain);
            Cv2.Add(plain, level, plain);
        }

        using Mat gradient = Gradient(plain);
        double noise = Median(gradient, valid);
        double threshold = Math.Max(LeastBarrier, 3.5 * noise);
        using Mat barrier = new();
        Cv2.Threshold(gradient, barrier, threshold, 255, ThresholdTypes.Binary);
        barrier.ConvertTo(barrier, MatType.CV_8UC1);
        foreach (SeenFiducial f in seen)
            Square(barrier, f.CornersMm, 0.5, 255);
        Masks.KeepLarge(barrier, 12); // fewer cells are noise, not outlines
        Mat paper = Flood(barrier, valid);
        Reclaim(paper, plain, valid, gradient);
        if (level is not null)
            PaperTone.Claim(paper, plain, valid, gradient, level);
        var things = new Mat();
        Cv2.BitwiseNot(paper, things);
        Cv2.BitwiseAnd(things, valid, things);

        // Those that were not seen too: a handle that lies over one joins it.
        foreach (SheetFiducial f in printed)
            Square(things, f.CornersMm, 1.5, 0);
        var round = RoundThings.TakeOff(things);
        FillEnclosed(things);
        if (level is not null)
            RimFill.Fill(things, tones, level, valid, seen, strokes);
        SilhouetteBays.Fill(things);
        SilhouetteGaps.Close(things, StepMm);
        RoundThings.PutBack(things, round);
        Cv2.MorphologyEx(things, things, MorphTypes.Open, kernel3);
        CutThreads(things);
        return new(tones.Width, tones.Rows, tones, valid, paper, things, noise);
    }

    /// <summary>The lines printed on the mat, with their words, and the bare paper's tone.</summary>
    public static (IReadOnlyList<PrintedLine> Lines, Mat? Level) Print(Picture picture, LensMap map, Point2 sizeMm)
    {
        using Mat fine = new();
        (Mat tones, Mat valid) = Drawn(picture, map, sizeMm, fine);
        using (tones)
        using (valid)
        {
            Mat? level = PaperTone.Level(tones, valid);
            if (level is null)
                return ([], null);
            fine.ConvertTo(fine, MatType.CV_32FC3, 1, Foot);
            Cv2.Log(fine, fine);
            return (PrintedLines.Find(tones, fine, level, valid), level);
        }
    }

    public static Point2 ToMat(double column, double row) => new((column + 0.5) * StepMm, (row + 0.5) * StepMm);

    public void Dispose()
    {
        Tones.Dispose();
        Valid.Dispose();
        Paper.Dispose();
        Things.Dispose();
    }

    /// <summary>The photo on the grid as it is, and the logarithm of its tones with thin strokes softened.</summary>
    private static (Mat Tones, Mat Valid) Drawn(Picture picture, LensMap map, Point2 sizeMm, Mat drawn)
    {
        int columns = (int)(sizeMm.X / StepMm);
        int rows = (int)(sizeMm.Y / StepMm);
        var valid = new Mat(rows, columns, MatType.CV_8UC1, Scalar.All(0));
        Draw(picture, map, columns, rows, drawn, valid);
        using Mat kernel3 = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        using Mat closed = new();
        Cv2.MorphologyEx(drawn, closed, MorphTypes.Close, kernel3);
        Cv2.MedianBlur(closed, closed, 3);
        var tones = new Mat();
        closed.ConvertTo(tones, MatType.CV_32FC3, 1, Foot);
        Cv2.Log(tones, tones);
        return (tones, valid);
    }

    /// <summary>How much darker than what lies around it a cell is, thin strokes alone: what closing took off; mean of the channels.</summary>
    private static Mat Strokes(Mat drawn, Mat tones)
    {
        using Mat own = new();
        drawn.ConvertTo(own, MatType.CV_32FC3, 1, Foot);
        Cv2.Log(own, own);
        Cv2.Subtract(tones, own, own);
        var strokes = new Mat();
        Cv2.Transform(own, strokes, Mat.FromPixelData(1, 3, MatType.CV_32FC1, new[] { 1 / 3f, 1 / 3f, 1 / 3f }));
        return strokes;
    }

    private static void Draw(Picture picture, LensMap map, int columns, int rows, Mat drawn, Mat valid)
    {
        double pxPerMm = map.PixelsPerMm(new(columns * StepMm / 2, rows * StepMm / 2));
        double scale = Math.Min(1, 1.6 / (pxPerMm * StepMm));
        using Mat reduced = new();
        if (scale < 0.9)
            Cv2.Resize(picture.Bgr, reduced, new Size(), scale, scale, InterpolationFlags.Area);
        else
            scale = 1;
        Mat source = scale < 1 ? reduced : picture.Bgr;
        using var mx = new Mat(rows, columns, MatType.CV_32FC1);
        using var my = new Mat(rows, columns, MatType.CV_32FC1);
        float[] ix = new float[rows * columns];
        float[] iy = new float[rows * columns];
        byte[] iv = new byte[rows * columns];
        for (int r = 0; r < rows; r++)
        {
            for (int c = 0; c < columns; c++)
            {
                Point2 p = map.ToPhoto(ToMat(c, r));
                int at = (r * columns) + c;
                ix[at] = (float)(((p.X + 0.5) * scale) - 0.5);
                iy[at] = (float)(((p.Y + 0.5) * scale) - 0.5);
                bool inside = p.X > 1.5 && p.Y > 1.5 && p.X < picture.WidthPx - 2.5 && p.Y < picture.HeightPx - 2.5;
                bool rim = r < 3 || c < 3 || r >= rows - 3 || c >= columns - 3;
                iv[at] = inside && !rim ? (byte)255 : (byte)0;
            }
        }

        mx.SetArray(ix);
        my.SetArray(iy);
        valid.SetArray(iv);
        Cv2.Remap(source, drawn, mx, my, InterpolationFlags.Linear, BorderTypes.Replicate);
    }

    /// <summary>The steepest of the three channels' gradients after a blur of one step.</summary>
    private static Mat Gradient(Mat tones)
    {
        using Mat soft = new();
        Cv2.GaussianBlur(tones, soft, new Size(0, 0), 1.0);
        Mat[] planes = Cv2.Split(soft);
        var best = new Mat(tones.Size(), MatType.CV_32FC1, Scalar.All(0));
        foreach (Mat plane in planes)
        {
            using Mat dx = new();
            using Mat dy = new();
            using Mat magnitude = new();
            Cv2.Scharr(plane, dx, MatType.CV_32FC1, 1, 0, 1 / 32.0);
            Cv2.Scharr(plane, dy, MatType.CV_32FC1, 0, 1, 1 / 32.0);
            Cv2.Magnitude(dx, dy, magnitude);
            Cv2.Max(best, magnitude, best);
            plane.Dispose();
        }

        return best;
    }

    private static double Median(Mat gradient, Mat valid)
    {
        gradient.GetArray(out float[] ig);
        valid.GetArray(out byte[] iv);
        var values = new List<float>();
        for (int i = 0; i < ig.Length; i += 7)
        {
            if (iv[i] != 0)
                values.Add(ig[i]);
        }

        values.Sort();
        return values.Count == 0 ? 0 : values[values.Count / 2];
    }

    private static void Square(Mat mask, IReadOnlyList<Point2> cornersMm, double marginMm, byte value)
    {
        double x0 = cornersMm.Min(p => p.X) - marginMm;
        double x1 = cornersMm.Max(p => p.X) + marginMm;
        double y0 = cornersMm.Min(p => p.Y) - marginMm;
        double y1 = cornersMm.Max(p => p.Y) + marginMm;
        var from = new Point((int)(x0 / StepMm), (int)(y0 / StepMm));
        var to = new Point((int)(x1 / StepMm), (int)(y1 / StepMm));
        Cv2.Rectangle(mask, from, to, Scalar.All(value), -1);
    }

    /// <summary>
    /// What a rim shuts in belongs to the thing, also where steel as bright as the paper leaves gaps of up to 10 mm in the rim: holes of the rim
    /// closed that wide, grown back to it.
    /// </summary>
    private static void FillEnclosed(Mat things)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(25, 25));
        using Mat closed = new();
        Cv2.MorphologyEx(things, closed, MorphTypes.Close, disc);
        Cv2.FindContours(closed, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        using Mat filled = new(things.Size(), MatType.CV_8UC1, Scalar.All(0));
        Cv2.DrawContours(filled, outlines, -1, Scalar.All(255), -1);
        using Mat holes = new();
        Cv2.BitwiseNot(closed, holes);
        Cv2.BitwiseAnd(holes, filled, holes);
        Cv2.Dilate(holes, holes, disc);
        Cv2.BitwiseAnd(holes, filled, holes);
        Cv2.BitwiseOr(things, holes, things);
    }

    /// <summary>
    /// Takes off what is thinner than some 3.5 mm and reaches far: printed lines that touch a thing. Points such as a tip are given back up to 8 mm.
    /// </summary>
    private static void CutThreads(Mat things)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(9, 9));
        using Mat grow = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(5, 5));
        using Mat body = new();
        Cv2.MorphologyEx(things, body, MorphTypes.Open, disc);
        for (int i = 0; i < 10; i++)
        {
            Cv2.Dilate(body, body, grow);
            Cv2.BitwiseAnd(body, things, body);
        }

        body.CopyTo(things);
    }

    /// <summary>
    /// Gives back to the paper what the flood missed behind the faint rim of a shadow: places of the paper's own tone that lie open to it. What is
    /// shut in by places of another tone, gaps up to a few millimetres closed, stays with the thing.
    /// </summary>
    private static void Reclaim(Mat paper, Mat tones, Mat valid, Mat gradient)
    {
        using Mat weight = new();
        paper.ConvertTo(weight, MatType.CV_32FC1, 1 / 255.0);
        using Mat level = Spread(tones, weight);
        using Mat away = new();
        Cv2.Absdiff(tones, level, away);
        Mat[] planes = Cv2.Split(away);
        using Mat largest = new();
        Cv2.Max(planes[0], planes[1], largest);
        Cv2.Max(largest, planes[2], largest);
        foreach (Mat plane in planes)
            plane.Dispose();
        using Mat other = new();
        Cv2.Threshold(largest, other, LikePaper, 255, ThresholdTypes.Binary);
        other.ConvertTo(other, MatType.CV_8UC1);
        using Mat steep = new();
        Cv2.Threshold(gradient, steep, StrongBarrier, 255, ThresholdTypes.Binary);
        steep.ConvertTo(steep, MatType.CV_8UC1);
        Cv2.BitwiseOr(other, steep, other);
        using Mat notPaper = new();
        Cv2.BitwiseNot(paper, notPaper);
        Cv2.BitwiseAnd(other, notPaper, other);
        Cv2.BitwiseAnd(other, valid, other);
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(15, 15));
        Cv2.MorphologyEx(other, other, MorphTypes.Close, disc);

        // Holes in what is closed belong to the thing.
        Cv2.FindContours(other, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        using Mat kept = new(paper.Size(), MatType.CV_8UC1, Scalar.All(0));
        Cv2.DrawContours(kept, outlines, -1, Scalar.All(255), -1);
        using Mat small = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(5, 5));
        Cv2.Dilate(kept, kept, small);
        using Mat open = new();
        Cv2.BitwiseNot(kept, open);
        Cv2.BitwiseAnd(open, valid, open);
        Cv2.BitwiseOr(paper, open, paper);
    }

    /// <summary>The paper's tone carried over what lies on it: blurs of growing reach, each filling what the finer one does not know.</summary>
    private static Mat Spread(Mat tones, Mat weight)
    {
        Mat level = new(tones.Size(), MatType.CV_32FC3, Scalar.All(0));
        using Mat tiny = new();
        using Mat tinyWeight = new();
        using Mat weight3 = new();
        Cv2.Merge([weight, weight, weight], weight3);
        using Mat weighted = new();
        Cv2.Multiply(tones, weight3, weighted);
        const double reduce = 0.2;
        Cv2.Resize(weighted, tiny, new Size(), reduce, reduce, InterpolationFlags.Area);
        Cv2.Resize(weight3, tinyWeight, new Size(), reduce, reduce, InterpolationFlags.Area);
        using Mat total = new(tiny.Size(), MatType.CV_32FC3, Scalar.All(0));
        using Mat known = new(tiny.Size(), MatType.CV_32FC3, Scalar.All(1e-12));
        double share = 1;
        foreach (double sigma in new[] { 2.0, 6, 18, 50 })
        {
            using Mat a = new();
            using Mat b = new();
            Cv2.GaussianBlur(tiny, a, new Size(0, 0), sigma);
            Cv2.GaussianBlur(tinyWeight, b, new Size(0, 0), sigma);
            Cv2.ScaleAdd(a, share, total, total);
            Cv2.ScaleAdd(b, share, known, known);
            share *= 0.003;
        }

        Cv2.Divide(total, known, total);
        Cv2.Resize(total, level, tones.Size(), 0, 0, InterpolationFlags.Linear);
        return level;
    }

    private static Mat Flood(Mat barrier, Mat valid)
    {
        const int reach = 3; // gaps in a barrier up to 2 × reach cells stay shut
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size((2 * reach) + 1, (2 * reach) + 1));
        using Mat thick = new();
        Cv2.Dilate(barrier, thick, disc);
        using Mat flat = new();
        Cv2.BitwiseNot(thick, flat);
        Cv2.BitwiseAnd(flat, valid, flat);
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(flat, labels, stats, centres);
        int largest = 0;
        for (int i = 1; i < n; i++)
        {
            if (largest == 0 || stats.At<int>(i, (int)ConnectedComponentsTypes.Area) > stats.At<int>(largest, (int)ConnectedComponentsTypes.Area))
                largest = i;
        }

        var paper = new Mat(barrier.Size(), MatType.CV_8UC1, Scalar.All(0));
        labels.GetArray(out int[] il);
        paper.SetArray([.. il.Select(l => largest > 0 && l == largest ? (byte)255 : (byte)0)]);
        Cv2.Dilate(paper, paper, disc);
        using Mat free = new();
        Cv2.BitwiseNot(barrier, free);
        Cv2.BitwiseAnd(paper, free, paper);
        Cv2.BitwiseAnd(paper, valid, paper);
        return paper;
    }
}
