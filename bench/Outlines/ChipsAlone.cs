using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>Chips alone: the edge's line from the truth, off by what a found line is usually off, so that only the chips are sought.</summary>
internal static class ChipsAlone
{
    /// <summary>How far a line that is found lies off, a standard deviation, and over which length that changes, mm. Chosen.</summary>
    private const double OffMm = 0.05, EveryMm = 20;

    private const int Knots = 64;

    public static void Run(string root, IReadOnlyList<string> folders)
    {
        foreach (string folder in folders)
        {
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            foreach (string photo in new[] { "photo.jpg", "photo2.jpg" }.Where(p => File.Exists(Path.Combine(folder, p))))
                One(root, folder, photo, truth.RootElement, photo == "photo.jpg" ? truth.RootElement.GetProperty("camera") : truth.RootElement.GetProperty("second").GetProperty("camera"));
        }

        EdgeChips.Sum();
    }

    private static void One(string root, string folder, string name, JsonElement truth, JsonElement camera)
    {
        MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
        using Picture taken = Picture.Read(Path.Combine(folder, name));
        if (SheetFinder.Find(taken, OutlineView.Printed(mat)).Sheet is not { } sheet)
            return;
        using Picture? unsharpened = CameraSharpening.Undone(taken, sheet);
        Picture photo = unsharpened ?? taken;
        var edge = TrueEdge.Of(truth, camera, sheet.Map);
        PhotoSampler sampler = PhotoSampler.Around(photo, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        double blurPx = Sharpness.Of(sampler, sheet).SigmaPx;
        sampler = sampler.With(RuledInk.Around(sampler, sheet.Map, edge.OutlineMm));
        Point2[] line = Off(edge, truth.GetProperty("seed").GetInt32());
        IReadOnlyList<WeighedNotch> weighed = new ChipFinder(sampler, sheet.Map, blurPx).Weighed(line, edge.Inward, edge.PixelMm);
        EdgeChips.Judge($"{Path.GetFileName(folder)} {name[5..^4]}", weighed, line, truth, edge.At);
    }

    private static Point2[] Off(TrueEdge edge, int seed)
    {
        var random = new Random(seed);
        double[] off = [.. Enumerable.Range(0, Knots).Select(_ => OffMm * RoomDraws.StandardNormal(random.NextDouble()))];
        double[] at = [.. Enumerable.Range(0, Knots).Select(k => k * EveryMm)];
        double step = edge.StationsMm[0].DistanceTo(edge.StationsMm[1]);
        return [.. edge.StationsMm.Select((p, i) => p + (edge.Inward[i] * EdgeSections.At(at, off, i * step)))];
    }
}
