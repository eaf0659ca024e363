using System.Globalization;
using Whetwright.Accuracy;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Pictures;
using Whetwright.Sight.Reading;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
string folder = args[0];
string mode = args.Length > 1 ? args[1] : "lit";
double distanceU = args.Length > 2 && mode != "profile" ? double.Parse(args[2], CultureInfo.InvariantCulture) : 0.01;
bool verbose = args.Contains("-v");
var target = TargetFile.Read(Path.Combine(folder, "target.json"));
if (mode == "profile")
{
    Profile.Print(args[2], target, args[3] == "red" ? LaserColour.Red : LaserColour.Green, double.Parse(args[4], CultureInfo.InvariantCulture), double.Parse(args[5], CultureInfo.InvariantCulture), double.Parse(args[6], CultureInfo.InvariantCulture));
    return;
}

var random = new Random(5);
foreach (string dir in Directory.GetDirectories(folder).Order(StringComparer.Ordinal))
{
    Scene scene = Scene.Read(dir);
    if (mode == "turnedonly" && scene.Turned is null)
        continue;
    using Picture lit = Picture.Read(scene.Photo(mode == "turnedonly" ? "photo_turned.jpg" : "photo.jpg")!);
    if (mode == "turnedonly")
        scene = scene with { Truth = scene.Turned!.Value };
    using Picture? dark = mode.Contains("dark") && scene.Photo("photo_dark.jpg") is { } d ? Picture.Read(d) : null;
    if (mode.Contains("dark") && dark is null)
        continue;
    var request = new PhotoReadRequest
    {
        First = new(lit, dark),
        Target = target,
        Distance = MeasuredLength.FromMillimetres(scene.NominalMm, scene.NominalMm * distanceU),
        Laser = scene.Laser == "red" ? LaserColour.Red : LaserColour.Green,
    };
    var setUp = BeamSetUp.From(request);
    var watch = System.Diagnostics.Stopwatch.StartNew();
    MountReading m = MountReader.Read(0, request.First, request, setUp, TipDirection.Up);
    var edges = m.Observations.Where(o => o.Role == MarkRole.Edge).ToDictionary(o => o.Target);
    double Of(Side s) => edges.TryGetValue(s, out var o) ? o.AsRead.Degrees : double.NaN;
    double included = Of(Side.Left) + Of(Side.Right);
    var bound = Bound.Of(scene.Truth, target.ZeroMm, scene.NominalMm);
    var boundTrue = Bound.Of(scene.Truth, target.ZeroMm, scene.TrueMm);
    PhotoReading reading = PhotoReader.Read(request);
    Console.WriteLine($"   {reading.Outcome} {reading.Included?.Value} ± {reading.Included?.StandardUncertainty}  sides {string.Join(" ", reading.Combined?.Sides.Select(s => $"{s.Target} asRead {s.AsRead?.Value}±{s.AsRead?.StandardUncertainty} edge {s.Edge?.Value}±{s.Edge?.StandardUncertainty} prim {s.Primary?.Value} range {s.Range?.Shoulder}-{s.Range?.Apex} clarity {s.Clarity:0.00}") ?? [])} roll {reading.Combined?.Roll} {reading.Combined?.RollKnown} {string.Join(" ", reading.Reasons.Select(r => r.Code))}");
    Console.WriteLine($"{scene.Name} {scene.Beam} incl {included:0.00} err {included - scene.Included:0.00} bound {bound.Included - scene.Included:0.00} true-L {boundTrue.Included - scene.Included:0.00}  L {Of(Side.Left) - scene.AsRead("L"):0.00} R {Of(Side.Right) - scene.AsRead("R"):0.00} odds {m.EdgeOdds:0.00} {string.Join(" ", m.Reasons.Select(r => r.Code))} may {scene.MayRefuse} {watch.ElapsedMilliseconds} ms");
    if (verbose)
    {
        foreach (var k in m.Marks.Where(k => k.AsRead is not null || verbose && k.Shape!.SignalToNoise > 20))
            Console.WriteLine($"     {k.Role} {k.Target} {k.AsRead?.Value} x {k.TargetMm.X:0.00} y {k.TargetMm.Y:0.00} yc {k.Shape?.CentreYMm:0.00} snr {k.Shape?.SignalToNoise:0} sdY {k.Shape?.AlongSdMm:0.0} flux {k.Shape?.Flux:0.0}");
        foreach (var o in m.Observations.Where(o => o.Role == MarkRole.Edge))
            Console.WriteLine($"     {o.Target} " + string.Join(" ", o.Noise.Select(n => $"{n.Source}:{n.UncertaintyDeg:0.000}").Concat(o.Common.Select(n => $"{n.Source}:{n.DegPerU:0.000}"))));
        foreach (var spot in scene.Truth.GetProperty("spots").EnumerateArray())
        {
            if (spot.GetProperty("facet").GetString() == "apex" || !(spot.TryGetProperty("ideal_mm", out var im) || spot.TryGetProperty("centroid_mm", out im)))
                continue;
            Console.WriteLine($"        truth {spot.GetProperty("side")} {spot.GetProperty("facet")} {im[0].GetDouble():0.00} {im[1].GetDouble():0.00}");
        }
    }
}
