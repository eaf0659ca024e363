using OpenCvSharp;
using OpenCvSharp.Aruco;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Fiducials;

/// <summary>Finds a described sheet in a photo by its fiducials: at reduced size, then the corners at full size.</summary>
public static class SheetFinder
{
    /// <summary>Fewer fiducials than this and a sheet is not read.</summary>
    public const int LeastFiducials = 4;

    /// <summary>Misfit above this part of a fiducial's side is refused: chosen, not derived (3 % is half a millimetre on our targets).</summary>
    private const double LargestMisfit = 0.03;

    private enum Tone
    {
        Plain,
        Lifted,
        Equalised,
    }

    /// <summary>Finds the sheet.</summary>
    public static SheetSearch Find(Picture picture, IReadOnlyList<SheetFiducial> fiducials)
    {
        Point2 middle = new(fiducials.Average(f => (f.LeftMm + f.RightMm) / 2), fiducials.Average(f => (f.TopMm + f.BottomMm) / 2));
        var best = new List<Raw>();
        double longest = Math.Max(picture.WidthPx, picture.HeightPx);
        foreach ((double size, Tone tone) in new[] { (1400.0, Tone.Plain), (1400.0, Tone.Lifted), (2400.0, Tone.Plain), (2400.0, Tone.Equalised), (900.0, Tone.Lifted) })
        {
            using Mat gray = Gray(picture, Math.Min(1, size / longest));
            foreach (Raw raw in Detect(gray, picture, tone, fiducials))
            {
                if (!best.Any(b => b.Id == raw.Id && Distance(b, raw) < Side(raw)))
                    best.Add(raw);
            }

            if (best.Select(b => b.Id).Distinct().Count() >= Math.Min(6, fiducials.Count))
                break;
        }

        int distinct = best.Select(b => b.Id).Distinct().Count();
        if (distinct < LeastFiducials)
            return new(null, TooFew(picture, fiducials, distinct));
        var doubles = best.GroupBy(b => b.Id).Where(g => g.Count() > 1).ToList();
        if (doubles.Count >= 2)
            return Refuse("two-sheets", $"Fiducials {string.Join(", ", doubles.Select(d => d.Key).Order())} appear twice: two sheets are in the photo. Leave one sheet in view.");
        var seen = best.Select(b => Refine(picture, b, fiducials)).ToList();
        var fit = LensMapFit.Fit(seen, picture.WidthPx, picture.HeightPx);
        if (fit is null || fit.Value.Used.Count < LeastFiducials)
            return Refuse("fiducials-disagree", $"{distinct} fiducials were seen, but they do not fit the described sheet. Check that the target file belongs to this print, and that the sheet is flat.");
        (LensMap map, IReadOnlyList<SeenFiducial> used, double rms) = fit.Value;
        double side = used.Average(u => u.CornersPx[0].DistanceTo(u.CornersPx[1]));
        if (rms > Math.Max(LargestMisfit * side, 0.8))
            return Refuse("reprojection-too-large", $"The fiducials miss their places by {rms:0.0} px. Flatten the sheet, check that the target file belongs to it, and take the photo again.");
        var dropped = seen.Select(s => s.Id).Except(used.Select(u => u.Id)).Order().ToList();
        return new(new FoundSheet(map, used, dropped, rms, map.PixelsPerMm(middle)), null);
    }

    private static Reason TooFew(Picture picture, IReadOnlyList<SheetFiducial> fiducials, int seen)
    {
        using Mat flipped = Gray(picture, Math.Min(1, 1400.0 / Math.Max(picture.WidthPx, picture.HeightPx)));
        Cv2.Flip(flipped, flipped, FlipMode.Y);
        int mirrored = Detect(flipped, picture, Tone.Plain, fiducials).Select(r => r.Id).Distinct().Count();
        if (mirrored >= LeastFiducials && mirrored > seen)
            return new("mirrored", "The sheet appears mirrored: a mirror-image print, or a selfie camera that flips. Print the target unmirrored and use the main camera.");
        return new("too-few-fiducials", $"{seen} of {fiducials.Count} fiducials were found; {LeastFiducials} are needed. Bring the whole sheet into view, in focus, with enough room light to see its corner marks.");
    }

    private static SheetSearch Refuse(string code, string text) => new(null, new Reason(code, text));

    /// <summary>Grey at this scale: whole halvings by means, and the rest, less than a halving, by interpolation. The caller owns it.</summary>
    private static Mat Gray(Picture picture, double scale)
    {
        int halved = 1;
        while (scale * halved <= 0.5)
            halved *= 2;
        using Mat source = picture.Reduced(halved);
        var gray = new Mat();
        Cv2.CvtColor(source, gray, ColorConversionCodes.BGR2GRAY);
        Size size = new(Math.Max(1, (int)Math.Round(picture.WidthPx * scale)), Math.Max(1, (int)Math.Round(picture.HeightPx * scale)));
        if (gray.Size() != size)
            Cv2.Resize(gray, gray, size, 0, 0, InterpolationFlags.Linear);
        return gray;
    }

    private static List<Raw> Detect(Mat small, Picture picture, Tone tone, IReadOnlyList<SheetFiducial> fiducials)
    {
        if (small.Width < 16 || small.Height < 16)
            return [];
        double across = (double)picture.WidthPx / small.Width;
        double down = (double)picture.HeightPx / small.Height;
        if (tone == Tone.Lifted)
            Lift(small);
        if (tone == Tone.Equalised)
        {
            using CLAHE clahe = Cv2.CreateCLAHE(3, new Size(8, 8));
            clahe.Apply(small, small);
        }

        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict4X4_50);
        using var detector = new ArucoDetector(dictionary, new DetectorParameters(), new RefineParameters());
        detector.DetectMarkers(small, out Point2f[][] corners, out int[] ids, out _);
        var list = new List<Raw>();
        for (int i = 0; i < ids.Length; i++)
        {
            if (fiducials.All(f => f.Id != ids[i]))
                continue;
            list.Add(new Raw(ids[i], corners[i].Select(c => new Point2(((c.X + 0.5) * across) - 0.5, ((c.Y + 0.5) * down) - 0.5)).ToArray()));
        }

        return list;
    }

    /// <summary>Square-root tone curve stretched to the picture's own range: opens up photos exposed for the marks.</summary>
    private static void Lift(Mat gray)
    {
        byte[] table = new byte[256];
        for (int i = 0; i < 256; i++)
            table[i] = (byte)Math.Min(255, Math.Round(255 * Math.Pow(Math.Min(1, i / 64.0), 0.7)));
        using Mat lut = Mat.FromPixelData(1, 256, MatType.CV_8UC1, table);
        Cv2.LUT(gray, lut, gray);
    }

    /// <summary>Refines the corners at full size; only the fiducial's surroundings are turned to grey.</summary>
    private static SeenFiducial Refine(Picture picture, Raw raw, IReadOnlyList<SheetFiducial> fiducials)
    {
        SheetFiducial square = fiducials.First(f => f.Id == raw.Id);
        int window = (int)Math.Clamp(Math.Round(Side(raw) / 12), 3, 15);
        int margin = (3 * window) + 4;
        int left = Math.Clamp((int)raw.CornersPx.Min(c => c.X) - margin, 0, picture.WidthPx - 1);
        int top = Math.Clamp((int)raw.CornersPx.Min(c => c.Y) - margin, 0, picture.HeightPx - 1);
        int right = Math.Clamp((int)raw.CornersPx.Max(c => c.X) + margin, left + 1, picture.WidthPx);
        int bottom = Math.Clamp((int)raw.CornersPx.Max(c => c.Y) + margin, top + 1, picture.HeightPx);
        using Mat about = new(picture.Bgr, new Rect(left, top, right - left, bottom - top));
        using Mat gray = new();
        Cv2.CvtColor(about, gray, ColorConversionCodes.BGR2GRAY);
        Point2f[] start = raw.CornersPx.Select(c => new Point2f((float)(c.X - left), (float)(c.Y - top))).ToArray();
        Point2f[] refined = Cv2.CornerSubPix(gray, start, new Size(window, window), new Size(-1, -1), TermCriteria.Both(30, 0.005));
        var corners = new Point2[4];
        for (int i = 0; i < 4; i++)
        {
            var p = new Point2(refined[i].X + left, refined[i].Y + top);
            corners[i] = p.DistanceTo(raw.CornersPx[i]) <= window ? p : raw.CornersPx[i];
        }

        return new(raw.Id, square.CornersMm, corners);
    }

    private static double Side(Raw raw) => raw.CornersPx[0].DistanceTo(raw.CornersPx[1]);

    private static double Distance(Raw a, Raw b) => a.CornersPx[0].DistanceTo(b.CornersPx[0]);

    private sealed record Raw(int Id, Point2[] CornersPx);
}
