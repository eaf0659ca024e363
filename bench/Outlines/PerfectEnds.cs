using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>
/// What a length is worth whose ends are picked perfectly in the photo: the true heel and tip as they appear there, laid on the mat by the program's own sheet and camera,
/// at their true heights and at those that follow from what is told. No tracing of them can be nearer, but by luck.
/// </summary>
internal static class PerfectEnds
{
    public static void Run(string root, IReadOnlyList<string> folders)
    {
        var byTrue = new List<double>();
        var byTold = new List<double>();
        foreach (string folder in folders)
        {
            using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            JsonElement truth = document.RootElement;
            using JsonDocument input = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "input.json")));
            MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
            using Picture photo = Picture.Read(Path.Combine(folder, "photo.jpg"));
            if (SheetFinder.Find(photo, OutlineView.Printed(mat)).Sheet is not { } sheet || MatCamera.From(sheet, photo.WidthPx, photo.HeightPx, Scene.Focal(input)) is not { } camera)
                continue;
            JsonElement height = truth.GetProperty("edgeHeight");
            (double zHeel, double zTip) = (height.GetProperty("atHeelMm").GetDouble(), height.GetProperty("atTipMm").GetDouble());
            bool lifted = truth.GetProperty("handle").GetString() != "none";
            KnownHeight? told = new ToldHeight(Math.Round((zHeel + zTip) / 2, 1), Scene.SpineMm(folder)).Of(lifted);
            Point2 Seen(string name) => sheet.Map.ToSheet(new(truth.GetProperty("photo").GetProperty(name)[0].GetDouble(), truth.GetProperty("photo").GetProperty(name)[1].GetDouble()));
            (Point2 heel, Point2 tip) = (Seen("heelPx"), Seen("tipPx"));
            double Off(double atHeel, double atTip) => camera.Correct(heel, atHeel).DistanceTo(camera.Correct(tip, atTip)) - truth.GetProperty("lengthMm").GetDouble();
            byTrue.Add(Off(zHeel, zTip));
            byTold.Add(told is { } known ? Off(known.HeelMm, known.TipMm) : double.NaN);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileName(folder),-14} length off, ends perfect: heights true {byTrue[^1],6:0.000}, told {byTold[^1],6:0.000}"));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{byTrue.Count} photos, |length| off with perfect ends: heights true {Words(byTrue)}; told {Words(byTold)}"));
    }

    private static string Words(List<double> off)
    {
        double[] sizes = [.. off.Where(v => !double.IsNaN(v)).Select(Math.Abs).Order()];
        return sizes.Length == 0 ? "none" : string.Create(CultureInfo.InvariantCulture, $"median {sizes[sizes.Length / 2]:0.000} p95 {sizes[Math.Min(sizes.Length - 1, (int)(0.95 * sizes.Length))]:0.000} worst {sizes[^1]:0.000}");
    }
}
