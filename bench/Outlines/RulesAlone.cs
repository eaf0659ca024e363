using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>Where the mat's ruled lines end, laid against where the true edge appears: what they are worth by themselves.</summary>
internal static class RulesAlone
{
    /// <summary>How far a whole edge is moved, mm, and in which steps.</summary>
    private const double MostMm = 1.5, StepMm = EdgeProfile.StepMm;

    public static void Run(string root, IReadOnlyList<string> folders)
    {
        var off = new List<(double Mm, double UMm)>();
        foreach (string folder in folders)
        {
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            if (One(root, folder, truth.RootElement) is { } found)
                off.Add(found);
        }

        double[] sizes = [.. off.Select(o => Math.Abs(o.Mm)).Order()];
        if (sizes.Length > 0)
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{sizes.Length} photos, whole edge off: median {sizes[sizes.Length / 2]:0.000} p95 {sizes[(int)(0.95 * sizes.Length)]:0.000} worst {sizes[^1]:0.000}; within 2 u {off.Count(o => Math.Abs(o.Mm) < 2 * o.UMm)}"));
    }

    private static (double Mm, double UMm)? One(string root, string folder, JsonElement truth)
    {
        MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
        using Picture taken = Picture.Read(Path.Combine(folder, "photo.jpg"));
        if (SheetFinder.Find(taken, OutlineView.Printed(mat)).Sheet is not { } sheet)
            return null;
        PhotoSampler sampler = PhotoSampler.Around(taken, [new(0, 0), new(taken.WidthPx, taken.HeightPx)], 0);
        JsonElement height = truth.GetProperty("edgeHeight");
        var edge = TrueEdge.Of(truth, truth.GetProperty("camera"), sheet.Map);
        (double pixelMm, Point2[] stations, Vector2[] inward) = (edge.PixelMm, edge.StationsMm, edge.Inward);
        double blurMm = Sharpness.Of(sampler, sheet).SigmaPx * pixelMm;
        string name = Path.GetFileName(folder);
        if (RuledLines.Find(sampler, sheet.Map, stations, inward) is not { } ruled)
        {
            Console.WriteLine($"{name,-14} no lines");
            return null;
        }

        IReadOnlyList<RuledEnd> ends = RuledEnd.Of(ruled, stations, inward);
        if (ends.Count == 0)
            return null;
        double[] everywhere = RuledEnd.Everywhere(ends);
        double[][] costs = [.. ends.Select(e => e.Costs(everywhere, pixelMm, blurMm))];
        double[] shifts = [.. Enumerable.Range(0, (int)(2 * MostMm / StepMm) + 1).Select(k => (k * StepMm) - MostMm)];
        double[] all = [.. shifts.Select(v => costs.Sum(c => c[(int)Math.Round((v - EdgeProfile.FromMm) / StepMm)]))];
        double[] odds = [.. all.Select(c => Math.Exp(-0.5 * (c - all.Min())))];
        double mean = shifts.Zip(odds, (v, w) => v * w).Sum() / odds.Sum();
        double u = Math.Sqrt((shifts.Zip(odds, (v, w) => (v - mean) * (v - mean) * w).Sum() / odds.Sum()) + (StepMm * StepMm / 12));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-14} {ruled.Lines.Count,3} lines {ruled.Profile.Sum() * RuledLines.LateralMm:0.0000} mm of ink {ends.Count,3} ends  {mean,6:0.000} ± {u:0.000}  px {pixelMm:0.00} blur {blurMm:0.00} z {height.GetProperty("atHeelMm").GetDouble():0.0}/{height.GetProperty("atTipMm").GetDouble():0.0} {truth.GetProperty("finish").GetString()}"));
        return (mean, u);
    }
}
