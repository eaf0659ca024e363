using System.Globalization;
using System.Text.Json;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>A scene drawn flat on the mat's millimetres: truth (green), what was traced (red, outline yellow), what was taken for things (blue).</summary>
internal static class Show
{
    private const double PxPerMm = 3;

    public static void Write(string path, Picture photo, MatSheet mat, TracedOutline traced, JsonElement truth)
    {
        IReadOnlyList<SheetFiducial> fiducials = OutlineView.Printed(mat);
        if (SheetFinder.Find(photo, fiducials).Sheet is not { } sheet)
            return;
        int w = (int)(mat.SizeMm.X * PxPerMm);
        int h = (int)(mat.SizeMm.Y * PxPerMm);
        using var mx = new Mat(h, w, MatType.CV_32FC1);
        using var my = new Mat(h, w, MatType.CV_32FC1);
        for (int r = 0; r < h; r++)
        {
            for (int c = 0; c < w; c++)
            {
                Point2 p = sheet.Map.ToPhoto(new(c / PxPerMm, r / PxPerMm));
                mx.Set(r, c, (float)p.X);
                my.Set(r, c, (float)p.Y);
            }
        }

        using Mat flat = new();
        Cv2.Remap(photo.Bgr, flat, mx, my, InterpolationFlags.Linear);
        using Picture? bare = PrintRemoval.Of(photo, sheet.Map, new(mat.SizeMm.X, mat.SizeMm.Y));
        using MatField field = MatField.From(bare ?? photo, sheet.Map, new(mat.SizeMm.X, mat.SizeMm.Y), sheet.Fiducials, fiducials);
        foreach (ThingOnMat thing in ThingOnMat.Find(field, fiducials))
            Line(flat, thing.Outline, true, new Scalar(255, 100, 0));
        Line(flat, [.. truth.GetProperty("seenEdgeMm").EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))], false, new Scalar(0, 220, 0));
        if (traced.Outcome == TraceOutcome.Traced)
        {
            Line(flat, traced.OutlineAsSeenMm, true, new Scalar(0, 220, 255));
            Line(flat, traced.EdgeAsSeenMm, false, new Scalar(0, 0, 255));
            Cv2.Circle(flat, At(traced.EdgeAsSeenMm[0]), 6 * 16, new Scalar(0, 0, 255), 1, LineTypes.AntiAlias, 4);
        }
        else
        {
            Cv2.PutText(flat, string.Join(' ', traced.Reasons.Select(r => r.Code)), new Point(200, 60), HersheyFonts.HersheySimplex, 1, new Scalar(0, 0, 255), 2);
        }

        Cv2.ImWrite(path, flat);
        if (traced.Outcome == TraceOutcome.Traced)
        {
            List<Point2> seen = [.. truth.GetProperty("seenEdgeMm").EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))];
            EndsPicture.Write(Path.ChangeExtension(path, ".ends.png"), photo, sheet, seen, seen, [.. traced.OutlineAsSeenMm], [.. traced.EdgeAsSeenMm], null);
        }

        Console.Error.WriteLine(Path.GetFileNameWithoutExtension(path) + " " + Cues(bare ?? photo, sheet, field, fiducials, truth));
    }

    /// <summary>The cues alone, nothing traced.</summary>
    public static string Cues(Picture photo, MatSheet mat, JsonElement truth)
    {
        IReadOnlyList<SheetFiducial> fiducials = OutlineView.Printed(mat);
        if (SheetFinder.Find(photo, fiducials).Sheet is not { } sheet)
            return "no sheet";
        using Picture? bare = PrintRemoval.Of(photo, sheet.Map, new(mat.SizeMm.X, mat.SizeMm.Y));
        using MatField field = MatField.From(bare ?? photo, sheet.Map, new(mat.SizeMm.X, mat.SizeMm.Y), sheet.Fiducials, fiducials);
        return Cues(bare ?? photo, sheet, field, fiducials, truth);
    }

    /// <summary>What spoke for which side, positive for the true edge.</summary>
    private static string Cues(Picture photo, FoundSheet sheet, MatField field, IReadOnlyList<SheetFiducial> fiducials, JsonElement truth)
    {
        if (ThingOnMat.Find(field, fiducials) is not [var thing, ..])
            return "nothing";
        PhotoSampler sampler = PhotoSampler.Around(photo, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        RefinedOutline outline = new OutlineRefiner(sampler, sheet.Map, Sharpness.Of(sampler, sheet).SigmaPx).Refine(thing.Outline);
        Point2[] coarse = Contour.Smooth(Contour.Resample(outline.Points, EdgeSide.OutlineStepMm), 1.0);
        BladeLie lie = BladeLie.Of(coarse);
        if (OutlineView.SideOf(outline, coarse, lie, high: false) is not { } low || OutlineView.SideOf(outline, coarse, lie, high: true) is not { } high)
            return "no sides";
        double blurMm = Sharpness.Of(sampler, sheet).SigmaPx * outline.PixelMm;
        if (MatCamera.From(sheet, photo.WidthPx, photo.HeightPx, null) is not { } camera)
            return "no camera";
        SideOdds odds = SideChoice.Judge(lie, low.Edge, high.Edge, sampler, sheet.Map, outline.PixelMm, camera, blurMm);
        JsonElement middle = truth.GetProperty("seenEdgeMm")[truth.GetProperty("seenEdgeMm").GetArrayLength() / 2];
        Point2 at = new(middle[0].GetDouble(), middle[1].GetDouble());
        bool isHigh = high.Edge.Points().Min(p => p.DistanceTo(at)) < low.Edge.Points().Min(p => p.DistanceTo(at));
        EndOdds ends = OutlineView.Ends(lie, low.Edge, high.Edge, default, sampler, sheet.Map, outline.PixelMm, camera, blurMm);
        JsonElement[] seen = [.. truth.GetProperty("seenEdgeMm").EnumerateArray()];
        double ahead = (new Point2(seen[^1][0].GetDouble(), seen[^1][1].GetDouble()) - new Point2(seen[0][0].GetDouble(), seen[0][1].GetDouble())).Dot(lie.Axis) > 0 ? 1 : -1;
        string corners = string.Join(' ', new[] { false, true }.SelectMany(h => new[] { false, true }.Select(f => string.Create(CultureInfo.InvariantCulture, $"{lie.SweepMm(h, f):0.00}"))));
        return string.Create(CultureInfo.InvariantCulture, $"tip {(ahead > 0 ? "far" : "NEAR")} ends {ends.TipFar * ahead:0.00} sides {ends.EdgeHigh * (isHigh ? 1 : -1):0.00} corners {corners} fades {EndChoice.HaloFades(low.Edge, sampler, sheet.Map):0.00}/{EndChoice.HaloFades(high.Edge, sampler, sheet.Map):0.00} true {(isHigh ? "high" : "low")} handle {lie.BladeFromMm:0} of {lie.EndMm:0} wide {lie.HandleWidthMm:0.0} drop {lie.DropMm.Low:0.0}/{lie.DropMm.High:0.0} departs {lie.Departs.Low:0.00}/{lie.Departs.High:0.00} tip {lie.TipShare:0.00} taper {lie.Taper:0.00} over {lie.Overreach(false):0.0}/{lie.Overreach(true):0.0} rim {RimSeen.LongestMissing(coarse, sampler, sheet.Map, _ => false):0}/{RimSeen.LongestMissing(coarse, sampler, sheet.Map, _ => false, lie):0} odds {odds.Total * (isHigh ? 1 : -1):0.00} ({odds})");
    }

    private static void Line(Mat canvas, IReadOnlyList<Point2> line, bool closed, Scalar colour)
    {
        for (int i = 0; i + 1 < line.Count || (closed && i < line.Count); i++)
            Cv2.Line(canvas, At(line[i]), At(line[(i + 1) % line.Count]), colour, 1, LineTypes.AntiAlias, 4);
    }

    private static Point At(Point2 p) => new((int)Math.Round(p.X * PxPerMm * 16), (int)Math.Round(p.Y * PxPerMm * 16));
}
