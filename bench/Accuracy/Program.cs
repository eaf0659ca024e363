using System.Globalization;
using System.Text.Json;
using Whetwright.Accuracy;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
string folder = args[0];
var target = TargetFile.Read(Path.Combine(folder, "target.json"));
foreach (string dir in Directory.GetDirectories(folder).Order(StringComparer.Ordinal))
{
    foreach (string name in args[1..])
    {
        string path = Path.Combine(dir, name);
        if (!File.Exists(path))
            continue;
        var input = JsonDocument.Parse(File.ReadAllText(Path.Combine(dir, "input.json"))).RootElement;
        var watch = System.Diagnostics.Stopwatch.StartNew();
        using var picture = Picture.Read(path);
        double decode = watch.Elapsed.TotalMilliseconds;
        var search = SheetFinder.Find(picture, target);
        double found = watch.Elapsed.TotalMilliseconds;
        Console.WriteLine($"== {dir[^10..]} {name} {search.Reason?.Code} n={search.Sheet?.Fiducials.Count} rms={search.Sheet?.ReprojectionPx:0.00}px {search.Sheet?.PixelsPerMm:0.00}px/mm k1={search.Sheet?.Map.K1:0.000} {search.Sheet?.Map.K2:0.000}");
        if (search.Sheet is null)
            continue;
        var field = SheetField.From(picture, search.Sheet.Map, target);
        double drawn = watch.Elapsed.TotalMilliseconds;
        var colour = input.GetProperty("laser_colour").GetString() == "red" ? LaserColour.Red : LaserColour.Green;
        var light = LaserLight.From(field, colour, null);
        double lit = watch.Elapsed.TotalMilliseconds;
        var blobs = MarkBlobs.In(light);
        double blobbed = watch.Elapsed.TotalMilliseconds;
        var truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(dir, "truth.json"))).RootElement;
        if (name.Contains("turned"))
            truth = truth.GetProperty("turned");
        double L = truth.GetProperty("L_true_mm").GetDouble();
        var shapes = blobs.Select(b => MarkShapes.Measure(light, b, target.ZeroMm, L)).OfType<MarkShape>().OrderBy(s => s.CentreXMm).ToList();
        Console.WriteLine($"  decode {decode:0} find {found - decode:0} draw {drawn - found:0} light {lit - drawn:0} blobs {blobbed - lit:0} shapes {watch.Elapsed.TotalMilliseconds - blobbed:0} noise {light.NoiseSd:0.00000} room {light.RoomLevel:0.000}");
        foreach (var s in shapes)
            Console.WriteLine($"    x {s.CentreXMm,7:0.00} y {s.CentreYMm,7:0.00} {s.RoughDeg,5:0.0}° peak {s.Blob.Peak:0.000} saddle {s.Blob.Saddle:0.000} flux {s.Flux,7:0.00} clip {s.Clipped:0.00} sdY {s.AlongSdMm:0.0} sdX {s.AcrossSdMm:0.0} snr {s.SignalToNoise:0} rim {s.AtRim}");
        foreach (var spot in truth.GetProperty("spots").EnumerateArray())
        {
            if (spot.GetProperty("facet").GetString() == "apex" || !(spot.TryGetProperty("ideal_mm", out var im) || spot.TryGetProperty("centroid_mm", out im)))
                continue;
            Console.WriteLine($"      truth {spot.GetProperty("side")} {spot.GetProperty("facet")} {im[0].GetDouble():0.00} {im[1].GetDouble():0.00}");
        }
    }
}
