using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Outlines;
using Whetwright.Sight.Pictures;

namespace Whetwright.Outlines;

/// <summary>The edge's line alone, blade, side and ends taken from the truth: what the sections across the edge are worth by themselves.</summary>
internal static class EdgeAlone
{
    public static void Run(string root, IReadOnlyList<string> folders, bool profiles, bool told)
    {
        // What each section says by itself, and what Of makes of it.
        var before = new List<double>();
        var after = new List<double>();
        var seconds = new List<double>();
        foreach (string folder in folders)
        {
            using JsonDocument truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, "truth.json")));
            foreach (string photo in new[] { "photo.jpg", "photo2.jpg" }.Where(p => File.Exists(Path.Combine(folder, p))))
            {
                JsonElement camera = photo == "photo.jpg" ? truth.RootElement.GetProperty("camera") : truth.RootElement.GetProperty("second").GetProperty("camera");
                if (One(root, folder, photo, truth.RootElement, camera, profiles, told) is not { } r)
                    continue;
                before.Add(r.Before);
                after.Add(r.After);
                seconds.Add(r.Seconds);
            }
        }

        EdgeChips.Sum();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{after.Count} photos, RMS median {Share(before, 0.5):0.000} p95 {Share(before, 0.95):0.000} worst {Share(before, 1):0.000} section by section; {Share(after, 0.5):0.000} p95 {Share(after, 0.95):0.000} worst {Share(after, 1):0.000} by one light; {seconds.Average():0.00} s each"));
    }

    private static double Share(List<double> v, double q) => v.Order().ElementAt(Math.Min(v.Count - 1, (int)(q * v.Count)));

    private static List<Point2> Points(JsonElement e) => [.. e.EnumerateArray().Select(p => new Point2(p[0].GetDouble(), p[1].GetDouble()))];

    private static (double Before, double After, double Seconds)? One(string root, string folder, string name, JsonElement truth, JsonElement camera, bool profiles, bool told)
    {
        MatSheet mat = Scene.Mat(File.Exists(Path.Combine(folder, "mat.json")) ? folder : root);
        using Picture taken = Picture.Read(Path.Combine(folder, name));
        if (SheetFinder.Find(taken, OutlineView.Printed(mat)).Sheet is not { } sheet)
            return null;
        using Picture? unsharpened = CameraSharpening.Undone(taken, sheet);
        Picture photo = unsharpened ?? taken;
        double[] place = [.. camera.GetProperty("positionMm").EnumerateArray().Select(v => v.GetDouble())];
        JsonElement height = truth.GetProperty("edgeHeight");
        (double zHeel, double zTip) = (height.GetProperty("atHeelMm").GetDouble(), height.GetProperty("atTipMm").GetDouble());
        Point2 As(Point2 p, double z) => p + ((p - new Point2(place[0], place[1])) * (z / (place[2] - z)));
        List<Point2> nominal = Points(truth.GetProperty("edgeNominalMm"));
        List<Point2> seen = [.. nominal.Select((p, i) => As(p, zHeel + ((zTip - zHeel) * i / (nominal.Count - 1))))];
        List<Point2> outline = [.. Points(truth.GetProperty("outlineMm")).Select(p => As(p, (zHeel + zTip) / 2))];
        PhotoSampler sampler = PhotoSampler.Around(photo, [new(0, 0), new(photo.WidthPx, photo.HeightPx)], 0);
        double blur = Sharpness.Of(sampler, sheet).SigmaPx;
        RefinedOutline refined = new OutlineRefiner(sampler, sheet.Map, blur).Refine(outline);
        sampler = sampler.With(RuledInk.Around(sampler, sheet.Map, refined.Points));
        Point2 middle = seen[seen.Count / 2];
        (Point2[] Line, int Heel, int Tip) Way(bool forward)
        {
            Point2[] line = OutlineView.InOrder(refined.Points, seen[0], seen[^1], forward, out int h, out int t);
            return (line, h, t);
        }

        (Point2[] Line, int Heel, int Tip) way = new[] { Way(true), Way(false) }.MinBy(w => w.Line[w.Heel..(w.Tip + 1)].Min(p => p.DistanceTo(middle)));
        SmoothEdge edge = SmoothEdge.Of(way.Line, way.Heel, way.Tip, true);
        Point2[] stations = Contour.Open([.. edge.Points()], 0.5 * refined.PixelMm);
        Vector2[] inward = OutlineView.Inward(stations, edge.Outward);
        var watch = Stopwatch.StartNew();
        MatCamera? from = MatCamera.From(sheet, photo.WidthPx, photo.HeightPx, null);
        bool lifted = truth.GetProperty("handle").GetString() != "none";
        double? spineMm = Scene.SpineMm(folder);
        KnownHeight? known = told ? new ToldHeight(Math.Round((zHeel + zTip) / 2, 1), spineMm).Of(lifted) : null;
        SpineSide? spine = known is { } h && from is not null ? new LitSpine(sampler, sheet.Map, blur, from, refined, edge, lifted, spineMm).Side(h) : null;
        var sections = new EdgeSections(sampler, sheet.Map, blur, from, known, spine);
        (double[] at, double[] outward, _) = sections.Each(stations, inward, refined.PixelMm);
        watch.Restart();
        (double[] at2, double[] outward2, _) = sections.Of(stations, inward, refined.PixelMm);
        double seconds = watch.Elapsed.TotalSeconds;
        double ds = stations[0].DistanceTo(stations[1]);
        double[] off = [.. stations.Select((p, i) => Outside(seen, p, inward[i]))];
        double[] after = [.. off.Select((v, i) => v + EdgeSections.At(at, outward, i * ds))];
        double[] light = [.. off.Select((v, i) => v + EdgeSections.At(at2, outward2, i * ds))];
        int trim = (int)(3 / ds);
        double Rms(double[] v) => Math.Sqrt(v[trim..^trim].Average(x => x * x));
        double Mean(double[] v) => v[trim..^trim].Average();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileName(folder),-14} {name,-11} path {Rms(off):0.000} ({Mean(off),6:0.000})  sections {Rms(after):0.000} ({Mean(after),6:0.000})  light {Rms(light):0.000} ({Mean(light),6:0.000})  px {refined.PixelMm:0.00} blur {blur:0.00} z {zHeel:0.0}/{zTip:0.0} {truth.GetProperty("finish").GetString(),-8} {seconds:0.00} s {Words(sections)}"));
        Point2[] moved = [.. stations.Select((p, i) => p + (inward[i] * -EdgeSections.At(at2, outward2, i * ds)))];
        var weighed = new ChipFinder(sampler, sheet.Map, blur).Weighed(moved, inward, refined.PixelMm);
        EdgeChips.Judge($"{Path.GetFileName(folder)} {name[5..^4]}", weighed, moved, truth, (p, share) => As(p, zHeel + ((zTip - zHeel) * share)));
        if (profiles)
            Profiles(sampler, sheet, stations, inward, off, light);
        return (Rms(after), Rms(light), seconds);
    }

    private static string Words(EdgeSections s) => string.Create(CultureInfo.InvariantCulture, $"cost {s.Misfits.Select(m => m.Misfit).DefaultIfEmpty(0).Average():0.0} doubt {s.DoubtMm:0.00} ")
        + (s.Light is not { } l ? "each" : string.Create(CultureInfo.InvariantCulture, $"z {l.HeelMm:0.0}/{l.TipMm:0.0} sky {l.Sky:0.00} blur {l.Blur:0.00} bevel {l.BevelMm:0.00} ") + string.Join(' ', l.Lamps.Select(m => string.Create(CultureInfo.InvariantCulture, $"[{m.Share:0.00} lean {m.Lean:0.00} {m.Along:0.00} ±{m.Spread:0.00}]"))));

    private static double Outside(List<Point2> line, Point2 p, Vector2 inward)
    {
        double best = double.PositiveInfinity;
        double signed = 0;
        for (int i = 1; i < line.Count; i++)
        {
            Vector2 d = line[i] - line[i - 1];
            double u = Math.Clamp((p - line[i - 1]).Dot(d) / Math.Max(1e-12, d.Dot(d)), 0, 1);
            Vector2 r = line[i - 1] + (d * u) - p;
            if (r.Norm < best)
                (best, signed) = (r.Norm, Math.Sign(r.Dot(inward)) * r.Norm);
        }

        return signed;
    }

    // Green light in hundredths against depth from the true edge: "|" truth, what was found beside it.
    private static void Profiles(PhotoSampler sampler, FoundSheet sheet, Point2[] line, Vector2[] inward, double[] off, double[] after)
    {
        int n = line.Length;
        Console.WriteLine("            " + string.Join(' ', Enumerable.Range(-24, 41).Select(k => k == 0 ? "  |" : k % 4 == 0 ? $"{k / 10.0,3:0.0}" : "   ")));
        double ds = line[0].DistanceTo(line[1]);
        for (int part = 1; part < 16; part++)
        {
            int at = n * part / 16;
            int half = (int)(3 / ds);
            string row = string.Create(CultureInfo.InvariantCulture, $"{at * ds,4:0} {off[at],5:0.00}{after[at],6:0.00} ");
            for (int k = -24; k <= 16; k++)
            {
                double[] v = [.. Enumerable.Range(Math.Max(0, at - half), Math.Min(2 * half, n - at)).Where((_, j) => j % 3 == 0).Select(i => (double)sampler.At(sheet.Map.ToPhoto(line[i] + (inward[i] * (off[i] + (k * 0.1))))).G).Order()];
                row += $" {100 * v[v.Length / 2],3:0}";
            }

            Console.WriteLine(row);
        }
    }
}
