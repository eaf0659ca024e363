using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests.Outlines;

/// <summary>A flat drawing of a blade on our own mat as a tilted camera would see it: dark steel, white paper, no shadow, height zero.</summary>
internal static class DrawnBlade
{
    private const double PxPerMm = 8;

    public static MatSheet Mat { get; } = MatLayout.For(KnownPaperSizes.A4).Sheet;

    /// <summary>Heel, edge, tip, spine, tang of the drawn blade on the mat, mm.</summary>
    public static readonly Point2 Heel = new(110, 95);

    public static readonly Point2 Tip = new(235, 115);

    public static TracedOutline Trace(
        bool blade = true, (double AtMm, double DepthMm, double WidthMm)[]? chips = null, double pull = 0, double blurPx = 0.8, bool second = false, double shiftMm = 0, Length? height = null,
        Point2? cloth = null, bool slab = false, MatSide? edge = null, double shadowMm = 0, bool words = false, MatSide? heel = null, bool checkLine = false, bool tallAbove = false, bool tallBelow = false, double spineShadowMm = 0, double fallsOff = 0, double tailMm = 0, Length? spine = null, bool? onFlank = null, double gripMm = 0, double gripSlantMm = 0, double gripTone = 35, double bevelMm = 0)
    {
        using Picture photo = Photo(blade && !slab, chips ?? [], pull, blurPx, second, shiftMm, cloth, slab, shadowMm, words, checkLine, tallAbove, tallBelow, spineShadowMm, fallsOff, tailMm, gripMm, gripSlantMm, gripTone, bevelMm);

        // With a height, and nothing to tell sides by, edge and spine are told by two searches more: tests of other things say the side.
        edge ??= height is not null && !slab ? MatSide.Top : null;
        return OutlineTracer.Trace(photo, null, Mat, height, told: new(edge, heel, spine, onFlank));
    }

    public static Picture Photo(bool blade, (double AtMm, double DepthMm, double WidthMm)[] chips, double pull, double blurPx, bool second, double shiftMm, Point2? cloth = null, bool slab = false, double shadowMm = 0, bool words = false, bool checkLine = false, bool tallAbove = false, bool tallBelow = false, double spineShadowMm = 0, double fallsOff = 0, double tailMm = 0, double gripMm = 0, double gripSlantMm = 0, double gripTone = 35, double bevelMm = 0)
    {
        int w = (int)(Mat.SizeMm.X * PxPerMm);
        int h = (int)(Mat.SizeMm.Y * PxPerMm);
        using Mat sheet = new(h, w, MatType.CV_8UC3, new Scalar(225, 228, 230));
        foreach (SheetFiducial f in Mat.Fiducials)
        {
            for (int row = 0; row < 6; row++)
            {
                for (int column = 0; column < 6; column++)
                {
                    if (!KnownFiducials.IsWhite(f.Id, row, column))
                        Fill(sheet, [new(f.LeftMm + (column * f.ModuleMm), f.TopMm + (row * f.ModuleMm)), new(f.LeftMm + ((column + 1) * f.ModuleMm), f.TopMm + (row * f.ModuleMm)), new(f.LeftMm + ((column + 1) * f.ModuleMm), f.TopMm + ((row + 1) * f.ModuleMm)), new(f.LeftMm + (column * f.ModuleMm), f.TopMm + ((row + 1) * f.ModuleMm))], new Scalar(30, 30, 30));
                }
            }
        }

        for (int i = 0; words && i < 16; i++)
        {
            // Letters' strokes, 3 mm high, 2.5 to 5.5 mm off the edge.
            double x = 140 + (3.6 * i);
            double y = 89.5 + ((x - 110) * 0.16) - (4 * Math.Sin(Math.PI * (x - 110) / 126));
            Fill(sheet, [new(x, y), new(x + 0.5, y), new(x + 0.5, y + 3), new(x, y + 3)], new Scalar(150, 150, 150));
            Fill(sheet, [new(x, y + 1), new(x + 1.6, y + 1), new(x + 1.6, y + 1.5), new(x, y + 1.5)], new Scalar(150, 150, 150));
        }

        if (checkLine)
            PrintLine(sheet);
        if (shadowMm > 0)
            Fill(sheet, [.. Outline(chips, 0, shiftMm).Select(p => p + ((Heel - Tip).Normalized() * shadowMm))], new Scalar(185, 188, 190));
        if (spineShadowMm > 0)
            Fill(sheet, Outline(chips, -spineShadowMm, shiftMm), new Scalar(180, 183, 185)); // the spine faces down the sheet
        foreach ((bool tall, double edge, double away) in new[] { (tallAbove, 80.0, -1.0), (tallBelow, 125.0, 1.0) })
        {
            // Sky light that a wall 2 mm high takes from the paper beside the slab: (1 − cos atan(h/d))/2.
            for (double d = 8; tall && d > 0; d -= 0.25)
            {
                double left = 1 - ((1 - Math.Cos(Math.Atan(2 / d))) / 2);
                double tone = 228 * Math.Pow(left, 1 / 2.2);
                Fill(sheet, [new(90, edge), new(220, edge), new(220, edge + (away * d)), new(90, edge + (away * d))], new Scalar(tone - 3, tone, tone + 2));
            }
        }

        if (blade)
            Fill(sheet, Outline(chips, 0, shiftMm), new Scalar(95, 92, 90));
        for (int s = 0; bevelMm > 0 && s < (int)Heel.DistanceTo(Tip); s++)
            Fill(sheet, Bevel(s, bevelMm), s is >= 8 and < 34 ? new Scalar(222, 226, 228) : new Scalar(160, 162, 164));
        if (gripMm > 0)
            Fill(sheet, Grip(gripMm, gripSlantMm), new Scalar(gripTone + 1, gripTone, gripTone - 1));
        if (slab)
            Fill(sheet, [new(90, 80), new(220, 80), new(220, 125), new(90, 125)], new Scalar(95, 92, 90));
        if (tailMm > 0)
            Fill(sheet, [new(60, 90), new(245, 90), new(245, 90 + tailMm), new(150, 90 + tailMm), new(150, 112), new(60, 112)], new Scalar(50, 50, 52));
        if (cloth is { } c)
            Fill(sheet, [.. Enumerable.Range(0, 90).Select(i => new Point2(c.X + (18 * Math.Cos(i * Math.PI / 45)), c.Y + (18 * Math.Sin(i * Math.PI / 45))))], new Scalar(60, 60, 62));
        if (second)
            Fill(sheet, Outline([], -45, 0), new Scalar(95, 92, 90));
        if (fallsOff > 0)
        {
            // Light that falls off down the sheet by this share for each millimetre.
            sheet.GetArray(out Vec3b[] lit);
            sheet.SetArray([.. lit.Select((v, i) => v * Math.Exp(-fallsOff * (i / w) / PxPerMm / 2.2))]);
        }

        Point2f[] from = [new(0, 0), new(w, 0), new(w, h), new(0, h)];
        float p = (float)pull;
        Point2f[] to = [new(120 + (500 * p), 90 + (200 * p)), new(1930 - (500 * p), 110 + (200 * p)), new(1960, 1390), new(90, 1370)];
        using Mat map = Cv2.GetPerspectiveTransform(from, to);
        using Mat soft = new();
        Cv2.GaussianBlur(sheet, soft, new Size(0, 0), 1.3);
        var photo = new Mat();
        Cv2.WarpPerspective(soft, photo, map, new Size(2048, 1480), InterpolationFlags.Linear, BorderTypes.Constant, new Scalar(80, 110, 120));
        Cv2.GaussianBlur(photo, photo, new Size(0, 0), blurPx);
        photo.GetArray(out Vec3b[] pixels);
        var random = new Random(5);
        byte Noisy(byte v) => (byte)Math.Clamp(v + random.Next(-3, 4), 0, 255);
        photo.SetArray([.. pixels.Select(v => new Vec3b(Noisy(v.Item0), Noisy(v.Item1), Noisy(v.Item2)))]);
        return Picture.Own(photo);
    }

    // 100 mm with ticks, from under the blade out between 0 and 10 mm beside the edge, words above it, half of them under the blade.
    private static void PrintLine(Mat sheet)
    {
        void Bar(double x, double y, double wide, double high) => Fill(sheet, [new(x, y), new(x + wide, y), new(x + wide, y + high), new(x, y + high)], new Scalar(150, 150, 150));
        Bar(120, 97.4, 100, 0.3);
        Bar(119.9, 95.5, 0.2, 4);
        Bar(219.9, 95.5, 0.2, 4);
        for (int i = 0; i < 14; i++)
        {
            double x = 124 + (2.6 * i) + (i > 6 ? 3 : 0);
            Bar(x, 94.2, 0.4, 2.3);
            Bar(x + 1.2, 94.2, 0.4, 2.3);
            Bar(x, i % 2 == 0 ? 94.2 : 95.3, 1.6, 0.4);
        }
    }

    private static List<Point2> Outline((double AtMm, double DepthMm, double WidthMm)[] chips, double downMm, double shiftMm)
    {
        Vector2 x = (Tip - Heel).Normalized();
        Vector2 outward = new(x.Y, -x.X); // the edge faces up the sheet
        double length = Heel.DistanceTo(Tip);
        var p = new List<Point2>();
        for (double s = 0; s <= length; s += 0.1)
        {
            double y = 4 * Math.Sin(Math.PI * s / length);
            foreach ((double at, double depth, double width) in chips)
                y -= Math.Max(0, depth * (1 - (2 * Math.Abs(s - at) / width)));
            p.Add(Heel + (x * s) + (outward * y));
        }

        for (double s = length; s >= 0; s -= 0.5)
            p.Add(Heel + (x * s) + (outward * (-30 * (1 - Math.Pow(s / length, 5)))));
        p.Add(Heel + (outward * -30) + (x * -40));
        p.Add(Heel + (outward * -16) + (x * -40));
        p.Add(Heel + (outward * -16));
        return [.. p.Select(q => new Point2(q.X + shiftMm, q.Y - downMm))];
    }

    // A millimetre of bevel: as bright as the paper over some centimetres, elsewhere between flank and paper.
    private static List<Point2> Bevel(double s, double wideMm)
    {
        Vector2 x = (Tip - Heel).Normalized();
        Vector2 outward = new(x.Y, -x.X);
        Point2 At(double along, double inside) => Heel + (x * along) + (outward * ((4 * Math.Sin(Math.PI * along / Heel.DistanceTo(Tip))) - inside));
        return [At(s, 0), At(s + 1, 0), At(s + 1, wideMm), At(s, wideMm)];
    }

    // As wide as the blade is at its heel, so long beyond it, its front as much aslant.
    private static List<Point2> Grip(double longMm, double slantMm)
    {
        Vector2 x = (Tip - Heel).Normalized();
        Vector2 up = new(-x.Y, x.X);
        return [Heel + (x * slantMm), Heel + (up * 30), Heel + (up * 30) + (x * -longMm), Heel + (x * -longMm)];
    }

    private static void Fill(Mat sheet, IReadOnlyList<Point2> mm, Scalar colour) =>
        Cv2.FillPoly(sheet, [mm.Select(q => new Point((int)Math.Round(((q.X * PxPerMm) - 0.5) * 16), (int)Math.Round(((q.Y * PxPerMm) - 0.5) * 16))).ToArray()], colour, LineTypes.AntiAlias, 4);
}
