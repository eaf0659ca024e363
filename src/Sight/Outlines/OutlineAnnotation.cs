using System.Globalization;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>The photo with what was traced drawn on it: the mat's millimetres, the fiducials used, outline, edge, heel, tip and chips.</summary>
public static class OutlineAnnotation
{
    private const double GridMm = 10;
    private static readonly Scalar EdgeColour = new(0, 220, 255);
    private static readonly Scalar OutlineColour = new(255, 200, 0);
    private static readonly Scalar ChipColour = new(255, 120, 255);

    /// <summary>Draws and returns a PNG. Names are written beside the places, so nothing is told by colour alone; a refusal draws what was found.</summary>
    /// <param name="photo">The photo that was traced (the first of two).</param>
    /// <param name="mat">The printed mat.</param>
    /// <param name="traced">What was traced in it.</param>
    public static byte[] ToPng(Picture photo, MatSheet mat, TracedOutline traced)
    {
        ArgumentNullException.ThrowIfNull(photo);
        ArgumentNullException.ThrowIfNull(mat);
        ArgumentNullException.ThrowIfNull(traced);
        using Mat canvas = photo.Bgr.Clone();
        int thin = Math.Max(1, photo.WidthPx / 2000);
        FoundSheet? sheet = traced.Sheet ?? SheetFinder.Find(photo, OutlineView.Printed(mat)).Sheet;
        if (sheet is not null)
        {
            Grid(canvas, mat, sheet.Map, thin);
            foreach (SeenFiducial f in sheet.Fiducials)
                Polyline(canvas, [.. f.CornersPx], closed: true, new Scalar(255, 160, 0), thin + 1);
            if (traced.Outcome == TraceOutcome.Traced)
                Blade(canvas, traced, sheet.Map, thin);
        }

        string line = traced.Outcome == TraceOutcome.Traced
            ? string.Create(CultureInfo.InvariantCulture, $"edge {traced.LengthMm:0.0} mm, height {traced.HeightMm:0.0} mm, +- {2 * traced.UMm:0.00} mm")
            : "refused: " + string.Join(", ", traced.Reasons.Select(r => r.Code));
        Text(canvas, line, new(20 * thin, canvas.Height - (20 * thin)), new Scalar(255, 255, 255), 2 * thin);
        return canvas.ImEncode(".png");
    }

    private static void Blade(Mat canvas, TracedOutline traced, LensMap map, int thin)
    {
        Polyline(canvas, [.. traced.OutlineAsSeenMm.Select(map.ToPhoto)], closed: true, OutlineColour, thin);
        Point2[] edge = [.. traced.EdgeAsSeenMm.Select(map.ToPhoto)];
        Polyline(canvas, edge, closed: false, EdgeColour, thin);
        Named(canvas, edge[0], "heel", EdgeColour, thin);
        Named(canvas, edge[^1], "tip", EdgeColour, thin);
        for (int i = 0; i < traced.Chips.Count; i++)
        {
            TracedChip chip = traced.Chips[i];
            string name = string.Create(CultureInfo.InvariantCulture, $"chip {chip.DepthMm:0.0} +- {2 * chip.DepthUMm:0.0} x {chip.WidthMm:0.0} mm");
            Named(canvas, map.ToPhoto(traced.ChipsAsSeenMm[i]), name, ChipColour, thin);
        }
    }

    private static void Grid(Mat canvas, MatSheet mat, LensMap map, int thin)
    {
        var grey = new Scalar(190, 190, 190);
        for (double x = GridMm; x < mat.SizeMm.X; x += GridMm)
            Line(canvas, map, new(x, 0), new(x, mat.SizeMm.Y), grey, x % 50 == 0 ? thin + 1 : thin);
        for (double y = GridMm; y < mat.SizeMm.Y; y += GridMm)
            Line(canvas, map, new(0, y), new(mat.SizeMm.X, y), grey, y % 50 == 0 ? thin + 1 : thin);
    }

    private static void Line(Mat canvas, LensMap map, Point2 from, Point2 to, Scalar colour, int thickness)
    {
        const int parts = 16;
        Polyline(canvas, [.. Enumerable.Range(0, parts + 1).Select(i => map.ToPhoto(from + ((to - from) * ((double)i / parts))))], closed: false, colour, thickness);
    }

    private static void Named(Mat canvas, Point2 at, string name, Scalar colour, int thin)
    {
        Cv2.Circle(canvas, At(at), 7 * thin, new Scalar(0, 0, 0), thin + 2, LineTypes.AntiAlias);
        Cv2.Circle(canvas, At(at), 7 * thin, colour, thin, LineTypes.AntiAlias);
        Text(canvas, name, new Point(at.X + (9 * thin), at.Y - (9 * thin)), colour, thin);
    }

    private static void Text(Mat canvas, string text, Point at, Scalar colour, int thin)
    {
        Cv2.PutText(canvas, text, at, HersheyFonts.HersheySimplex, 0.55 * thin, new Scalar(0, 0, 0), (2 * thin) + 2, LineTypes.AntiAlias);
        Cv2.PutText(canvas, text, at, HersheyFonts.HersheySimplex, 0.55 * thin, colour, thin, LineTypes.AntiAlias);
    }

    private static void Polyline(Mat canvas, Point2[] line, bool closed, Scalar colour, int thickness)
    {
        for (int i = 0; i + 1 < line.Length || (closed && i < line.Length); i++)
            Cv2.Line(canvas, Sixteenths(line[i]), Sixteenths(line[(i + 1) % line.Length]), colour, thickness, LineTypes.AntiAlias, 4);
    }

    private static Point At(Point2 p) => new((int)Math.Round(Math.Clamp(p.X, -1e5, 1e5)), (int)Math.Round(Math.Clamp(p.Y, -1e5, 1e5)));

    private static Point Sixteenths(Point2 p) => new((int)Math.Round(16 * Math.Clamp(p.X, -1e5, 1e5)), (int)Math.Round(16 * Math.Clamp(p.Y, -1e5, 1e5)));
}
