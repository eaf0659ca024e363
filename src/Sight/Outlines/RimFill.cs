using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Gives to the things what faint rims shut in with them: steel as bright as the paper. Whatever cannot be reached from the open paper without
/// crossing a rim is divided from it along the rims' crests (watershed). A blade is nearly convex: what is given lies within the hull of its
/// pieces, or makes them more nearly convex and has rims all around. A shadow has a rim as well, but it is darker than the paper and the steel's own rim lies between it and
/// the thing.
/// </summary>
internal static partial class RimFill
{
    /// <summary>A rim against the noise: times the median step on the mat, and at least. Chosen.</summary>
    private const double OverNoise = 3.2, Least = 0.012;

    /// <summary>A rim that goes on from a sure one is followed down to this share of the least. Chosen: noise reaches half of it.</summary>
    private const double Fading = 0.65;

    /// <summary>Slits in the things that are filled however narrow, cells: 5.2 mm. Chosen.</summary>
    private const int SlitCells = 13;

    /// <summary>A blade whose rim was seen all around: so much of its border lies on rims, and it fills so much of its hull, with a handle less. Chosen: a blade is nearly convex.</summary>
    private const double RimmedShare = 0.9, Convex = 0.85, LeastConvex = 0.6;

    /// <summary>Rims lie within this of the border that they are seen at, cells.</summary>
    private const int RimReachCells = 3;

    /// <summary>Smaller rims are specks, cells. Chosen.</summary>
    private const int SpeckCells = 60;

    /// <summary>Gaps in rims up to twice this stay shut, cells: 6.4 mm. Chosen.</summary>
    private const int GapCells = 8;

    /// <summary>What is given is at least this large, cells: 10 mm². Chosen.</summary>
    private const int LeastCells = 60;

    /// <summary>Of a shadow's border with the thing less than this has a rim fainter than so many times the least one, cells: 5 mm. Chosen.</summary>
    private const double OpenCells = 12, Open = 1.5;

    /// <summary>Between two blades lies paper: a quarter of its border's rims is not as faint as this, times the least one. Chosen.</summary>
    private const double Gentle = 4;

    /// <summary>Steel between pieces of a blade, which is nearly convex: so much of it within their hull, and no darker than this (natural logarithm). Chosen.</summary>
    private const double MostlyWithin = 0.7, Dark = 0.12;

    /// <summary>No shadow between a handle and a heel is as large, cells: 1000 mm²; where no thing is, no blade was seen yet, and it may lie anywhere on the mat. Chosen.</summary>
    private const int FlankCells = 6250;

    /// <summary>What lines give more than steps is at least this large in one piece, cells: 500 mm²; no shadow that a thing goes on into, hardly a rim between, is as large. Chosen.</summary>
    private const int LeastMoreCells = 3125;

    /// <summary>What lines give may make the things so much less convex, in the share of their hull that they fill. Chosen.</summary>
    private const double LessConvex = 0.05;

    /// <summary>Looked for so far around the things, cells: 45 mm. Chosen.</summary>
    private const int AroundCells = 112;

    /// <summary>The mat's own sides are not looked at, cells.</summary>
    private const int SideCells = 5;

    /// <summary>Levels that the crests are told apart by.</summary>
    private const int Levels = 1024;

    private const double HighestLevel = 0.25;

    /// <summary>Fills the things.</summary>
    /// <param name="things">255 on what lies on the mat; changed in place.</param>
    /// <param name="tones">Natural logarithms of the tones.</param>
    /// <param name="level">Those of the bare paper.</param>
    /// <param name="valid">255 where the photo shows the mat.</param>
    /// <param name="seen">Fiducials that were recognised, and so lie bare.</param>
    /// <param name="strokes">How much darker a cell is than what lies around it, thin strokes alone; one channel; null where they were not looked at.</param>
    public static void Fill(Mat things, Mat tones, Mat level, Mat valid, IReadOnlyList<SeenFiducial> seen, Mat? strokes = null)
    {
        Rect box = Around(things);
        using Mat off = new();
        Cv2.Subtract(new Mat(tones, box), new Mat(level, box), off);
        foreach (SeenFiducial f in seen)
            Blank(off, f.CornersMm, box);
        (Mat? bare, bool gridded) = strokes is null ? (null, true) : WithoutGrid(strokes);
        using Mat? lines = bare;
        using Mat ungridded = off.Clone();
        TakeGridOff(ungridded);
        using Mat thing = new(things, box);
        using Mat inside = new(valid, box);
        using Mat rims = FaintRims.Strength(ungridded);
        double least = Math.Max(Least, OverNoise * Median(rims, inside));
        using Mat plain = Barrier(rims, least, least);
        using Mat with = thing.Clone();
        Divide(thing, rims, plain, ungridded, lined: false);
        if (lines is null)
            return;

        // What a step leaves open a thin dark line may close.
        using Mat near = new Mat(lines, box).Clone();
        foreach (SeenFiducial f in seen)
            Blank(near, f.CornersMm, box);
        using Mat relief = FaintRims.Lines(near);
        using Mat own = gridded ? rims.Clone() : FaintRims.Strength(off);
        Cv2.Max(relief, own, relief);
        using Mat closed = Barrier(relief, least, Fading * least);
        Divide(with, relief, closed, gridded ? ungridded : off, lined: true);
        if (LinesTell(thing, with))
            with.CopyTo(thing);

        void Divide(Mat to, Mat height, Mat barrier, Mat tone, bool lined)
        {
            using Mat open = Outside(barrier, inside, to, tone);
            using Mat added = Shed(height, open, to, inside, barrier);
            Give(added, to, rims, tone, least, lined ? barrier : null, box.Size == things.Size(), inside);
        }
    }

    /// <summary>
    /// Whether what lines give stands in the place of what steps give: where it is a large piece more and the blade becomes no less convex by it. Beside a rim that has both,
    /// lines add a band of paper, and beside steel that steps have left open they may let paper in.
    /// </summary>
    internal static bool LinesTell(Mat bySteps, Mat byLines)
    {
        using Mat more = new();
        Cv2.Subtract(byLines, bySteps, more);
        Masks.KeepLarge(more, LeastMoreCells);
        return Cv2.CountNonZero(more) > 0 && Fills(byLines) > Fills(bySteps) - LessConvex;
    }

    private static Rect Around(Mat things)
    {
        Cv2.FindContours(things, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxSimple);
        if (outlines.All(o => Cv2.ContourArea(o) < FlankCells))
            return new(0, 0, things.Width, things.Rows);
        Rect[] boxes = [.. outlines.Where(o => Cv2.ContourArea(o) > 900).Select(o => Cv2.BoundingRect(o))];
        int x = Math.Max(0, boxes.Min(b => b.Left) - AroundCells);
        int y = Math.Max(0, boxes.Min(b => b.Top) - AroundCells);
        return new(x, y, Math.Min(things.Width, boxes.Max(b => b.Right) + AroundCells) - x, Math.Min(things.Rows, boxes.Max(b => b.Bottom) + AroundCells) - y);
    }

    private static void Blank(Mat off, IReadOnlyList<Point2> corners, Rect box)
    {
        const double margin = 1.5;
        int x0 = (int)((corners.Min(p => p.X) - margin) / MatField.StepMm) - box.X;
        int x1 = (int)((corners.Max(p => p.X) + margin) / MatField.StepMm) - box.X;
        int y0 = (int)((corners.Min(p => p.Y) - margin) / MatField.StepMm) - box.Y;
        int y1 = (int)((corners.Max(p => p.Y) + margin) / MatField.StepMm) - box.Y;
        Cv2.Rectangle(off, new Point(x0, y0), new Point(x1, y1), Scalar.All(0), -1);
    }

    private static double Median(Mat values, Mat inside)
    {
        values.GetArray(out float[] v);
        inside.GetArray(out byte[] on);
        float[] some = [.. v.Where((_, i) => i % 7 == 0 && on[i] != 0)];
        Array.Sort(some);
        return some.Length == 0 ? 0 : some[some.Length / 2];
    }

    private static Mat Barrier(Mat rims, double least, double fading)
    {
        using Mat sure = new();
        Cv2.Threshold(rims, sure, least, 255, ThresholdTypes.Binary);
        sure.ConvertTo(sure, MatType.CV_8UC1);
        Masks.KeepLarge(sure, SpeckCells);
        using Mat weak = new();
        Cv2.Threshold(rims, weak, fading, 255, ThresholdTypes.Binary);
        weak.ConvertTo(weak, MatType.CV_8UC1);
        using Mat labels = new();
        Cv2.ConnectedComponents(weak, labels);
        labels.GetArray(out int[] label);
        sure.GetArray(out byte[] on);
        var joined = new HashSet<int>(label.Where((_, i) => on[i] != 0));
        var barrier = new Mat(rims.Size(), MatType.CV_8UC1);
        barrier.SetArray([.. label.Select((l, i) => on[i] != 0 || (l != 0 && joined.Contains(l)) ? (byte)255 : (byte)0)]);
        return barrier;
    }

    /// <summary>
    /// The open paper: the largest place without rims; with it others as large as a flank, of the paper's tone, that reach the box's side: a thing that
    /// runs off the mat divides the paper.
    /// </summary>
    private static Mat Outside(Mat barrier, Mat inside, Mat thing, Mat off)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size((2 * GapCells) + 1, (2 * GapCells) + 1));
        using Mat thick = new();
        Cv2.Dilate(barrier, thick, disc);
        Cv2.BitwiseOr(thick, thing, thick);
        using Mat flat = new();
        Cv2.BitwiseNot(thick, flat);
        Cv2.BitwiseAnd(flat, inside, flat);
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(flat, labels, stats, centres);
        int Of(int i, ConnectedComponentsTypes what) => stats.At<int>(i, (int)what);
        int largest = Enumerable.Range(1, Math.Max(0, n - 1)).OrderByDescending(i => Of(i, ConnectedComponentsTypes.Area)).FirstOrDefault();
        bool AtSide(int i) => Of(i, ConnectedComponentsTypes.Left) <= SideCells || Of(i, ConnectedComponentsTypes.Top) <= SideCells
            || Of(i, ConnectedComponentsTypes.Left) + Of(i, ConnectedComponentsTypes.Width) >= flat.Width - SideCells || Of(i, ConnectedComponentsTypes.Top) + Of(i, ConnectedComponentsTypes.Height) >= flat.Rows - SideCells;
        var open = new Mat(flat.Size(), MatType.CV_8UC1, Scalar.All(0));
        for (int i = 1; i < n; i++)
        {
            if (i != largest && (Of(i, ConnectedComponentsTypes.Area) < FlankCells || !AtSide(i)))
                continue;
            using Mat part = new();
            Cv2.Compare(labels, new Scalar(i), part, CmpTypes.EQ);
            if (i == largest || Math.Abs(Tone(off, part)) < Dark)
                Cv2.BitwiseOr(open, part, open);
        }

        return open;
    }

    /// <summary>
    /// What belongs to the things and not to the open paper when both spread over the rims' relief, lowest first: 255 there, things left out.
    /// </summary>
    private static Mat Shed(Mat rims, Mat open, Mat thing, Mat inside, Mat barrier)
    {
        (int rows, int columns) = (rims.Rows, rims.Width);
        rims.GetArray(out float[] height);
        open.GetArray(out byte[] paper);
        thing.GetArray(out byte[] steel);
        inside.GetArray(out byte[] on);
        byte[] owner = new byte[height.Length];
        var queue = new PriorityQueue<int, int>();
        int order = 0;
        int Key(int i) => (Math.Min(Levels - 1, (int)(height[i] / HighestLevel * Levels)) << 20) | Math.Min(order++ >> 2, (1 << 20) - 1);
        using Mat closed = Enclosed(open, inside, barrier, thing);
        closed.GetArray(out byte[] within);
        for (int i = 0; i < height.Length; i++)
        {
            if (on[i] == 0)
                continue;
            owner[i] = steel[i] != 0 || within[i] != 0 ? (byte)2 : paper[i] != 0 ? (byte)1 : (byte)0;
            if (owner[i] != 0)
                queue.Enqueue(i, Key(i));
        }

        while (queue.TryDequeue(out int i, out _))
        {
            (int row, int column) = (i / columns, i % columns);
            foreach ((int r, int c) in new[] { (row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1) })
            {
                if (r < 0 || c < 0 || r >= rows || c >= columns)
                    continue;
                int j = (r * columns) + c;
                if (owner[j] != 0 || on[j] == 0)
                    continue;
                owner[j] = owner[i];
                queue.Enqueue(j, Key(j));
            }
        }

        var added = new Mat(rows, columns, MatType.CV_8UC1);
        added.SetArray([.. owner.Select((o, i) => o == 2 && steel[i] == 0 ? (byte)255 : (byte)0)]);
        return added;
    }

    // Flat places that no open paper reaches, larger than what lies between two strokes.
    private static Mat Enclosed(Mat open, Mat inside, Mat barrier, Mat thing)
    {
        var closed = new Mat();
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size((2 * GapCells) + 1, (2 * GapCells) + 1));
        using Mat reached = new();
        Cv2.Dilate(open, reached, disc);
        Cv2.BitwiseOr(reached, barrier, closed);
        Cv2.BitwiseOr(closed, thing, closed);
        Cv2.BitwiseNot(closed, closed);
        Cv2.BitwiseAnd(closed, inside, closed);
        Masks.KeepLarge(closed, SpeckCells);
        return closed;
    }

    private static void Give(Mat added, Mat thing, Mat rims, Mat off, double least, Mat? barrier, bool alone, Mat inside)
    {
        using Mat kernel = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        using Mat hull = Hull(thing);
        using Mat body = new();
        Cv2.MorphologyEx(added, body, MorphTypes.Open, kernel);
        using Mat slits = Closed(thing);
        Cv2.BitwiseAnd(slits, added, slits);
        Cv2.BitwiseOr(body, slits, body);
        using Mat labels = new();
        using Mat stats = new();
        using Mat centres = new();
        int n = Cv2.ConnectedComponentsWithStats(body, labels, stats, centres);
        for (int i = 1; i < n; i++)
        {
            if (stats.At<int>(i, (int)ConnectedComponentsTypes.Area) < LeastCells)
                continue;
            using Mat part = new();
            Cv2.Compare(labels, new Scalar(i), part, CmpTypes.EQ);
            double tone = Tone(off, part);
            float[] border = Border(part, thing, rims);
            bool open = border.Count(r => r < Open * least) > OpenCells;
            bool gentle = border.Length == 0 || border[border.Length / 4] < Gentle * least;
            int area = stats.At<int>(i, (int)ConnectedComponentsTypes.Area);
            bool flank = area > FlankCells;
            bool goesOn = area > LeastMoreCells && border.Length > 0 && border[border.Length / 4] < Open * least;
            bool takes = Within(part, hull) > MostlyWithin && (tone > -Dark ? gentle : open || flank);
            takes |= barrier is not null && (flank || goesOn) && Math.Abs(tone) < Dark && !Cut(part, inside) && (alone || (gentle && border.Length > 0)) && Rimmed(part, thing, barrier) && Rounds(part, thing, alone);
            if (takes)
                Cv2.BitwiseOr(thing, part, thing);
        }
    }

    /// <summary>Whether a part ends where the photo or the mat does: the paper beside a handle that runs off it, shut in by handle, heel and a printed line alone.</summary>
    private static bool Cut(Mat part, Mat inside)
    {
        using Mat kernel = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        using Mat off = new();
        Cv2.BitwiseNot(inside, off);
        Cv2.CopyMakeBorder(off, off, 1, 1, 1, 1, BorderTypes.Constant, Scalar.All(255));
        using Mat grown = new();
        Cv2.CopyMakeBorder(part, grown, 1, 1, 1, 1, BorderTypes.Constant, Scalar.All(0));
        Cv2.Dilate(grown, grown, kernel);
        Cv2.BitwiseAnd(grown, off, grown);
        return Cv2.CountNonZero(grown) > RimReachCells;
    }

    /// <summary>Whether rims were seen nearly all around a part, things apart.</summary>
    private static bool Rimmed(Mat part, Mat thing, Mat barrier)
    {
        using Mat reach = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size((2 * RimReachCells) + 1, (2 * RimReachCells) + 1));
        using Mat small = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        using Mat border = new();
        Cv2.MorphologyEx(part, border, MorphTypes.Gradient, small);
        using Mat rim = new();
        Cv2.BitwiseOr(barrier, thing, rim);
        Cv2.Dilate(rim, rim, reach);
        Cv2.BitwiseAnd(rim, border, rim);
        return Cv2.CountNonZero(rim) >= RimmedShare * Cv2.CountNonZero(border);
    }

    /// <summary>Whether a part is nearly convex where it is the blade by itself, or makes the things more so: the rest of a blade does.</summary>
    private static bool Rounds(Mat part, Mat thing, bool alone)
    {
        if (alone)
            return Fills(part) > Convex;
        using Mat both = new();
        Cv2.BitwiseOr(part, thing, both);
        return Fills(both) > Math.Max(Fills(thing), LeastConvex);
    }

    // How much of its hull the largest piece fills.
    private static double Fills(Mat mask)
    {
        using Mat whole = Closed(mask);
        Cv2.FindContours(whole, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxNone);
        if (outlines.MaxBy(o => Cv2.ContourArea(o)) is not { } largest)
            return 0;
        return Cv2.ContourArea(largest) / Cv2.ContourArea(Cv2.ConvexHull(largest));
    }

    private static Mat Closed(Mat thing)
    {
        using Mat disc = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(SlitCells, SlitCells));
        var closed = new Mat();
        Cv2.MorphologyEx(thing, closed, MorphTypes.Close, disc);
        return closed;
    }

    private static double Within(Mat part, Mat hull)
    {
        using Mat both = new();
        Cv2.BitwiseAnd(part, hull, both);
        return (double)Cv2.CountNonZero(both) / Cv2.CountNonZero(part);
    }

    /// <summary>The hull of the pieces that may be the blade's, thin rims around much steel among them: not of small and thin ones.</summary>
    private static Mat Hull(Mat thing)
    {
        Cv2.FindContours(thing, out Point[][] outlines, out _, RetrievalModes.External, ContourApproximationModes.ApproxSimple);
        double largest = outlines.Length == 0 ? 0 : outlines.Max(o => Cv2.ContourArea(o));
        Point[] points = [.. outlines.Where(o => Cv2.ContourArea(Cv2.ConvexHull(o)) > 0.1 * largest && Cv2.MinAreaRect(o) is var b && Math.Min(b.Size.Width, b.Size.Height) * MatField.StepMm > 7).SelectMany(o => o)];
        var hull = new Mat(thing.Size(), MatType.CV_8UC1, Scalar.All(0));
        if (points.Length > 2)
            Cv2.FillConvexPoly(hull, Cv2.ConvexHull(points), Scalar.All(255));
        return hull;
    }

    private static double Tone(Mat off, Mat part)
    {
        off.GetArray(out Vec3f[] tone);
        part.GetArray(out byte[] on);
        double[] most = [.. tone.Where((_, i) => on[i] != 0).Select(t => (double)Math.Max(t.Item0, Math.Max(t.Item1, t.Item2))).Order()];
        return most[most.Length / 2];
    }

    /// <summary>Strengths of the rims between a part and the things, in order of size.</summary>
    private static float[] Border(Mat part, Mat thing, Mat rims)
    {
        using Mat kernel = Cv2.GetStructuringElement(MorphShapes.Ellipse, new Size(3, 3));
        using Mat near = new();
        Cv2.Dilate(part, near, kernel);
        Cv2.BitwiseAnd(near, thing, near);
        near.GetArray(out byte[] border);
        rims.GetArray(out float[] rim);
        return [.. rim.Where((_, i) => border[i] != 0).Order()];
    }
}
