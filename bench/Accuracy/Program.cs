using System.Globalization;
using Whetwright.Accuracy;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Marks;
using Whetwright.Sight.Reading;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
const string usage = """
    accuracy --folder DIR [--mode lit|dark|turned|turneddark] [--distance-u 0.01] [--tell-beam] [--verbose] [--only NAME] [--worst N] [--pictures DIR]
    accuracy --profile PHOTO --folder DIR --laser red|green --y MM --from MM --to MM
    accuracy --speed PHOTO --folder DIR
    Reads every scene of a folder in the shared form (target.json, NAME/photo.jpg, NAME/input.json, NAME/truth.json) and prints the must-hold
    figures with the perfect-spot bound beside them. Without --distance-u the scene's own nominal distance is told, taken as good to 1 %; with it
    the true distance with a seeded error of that size.
    """;
string? Option(string name)
{
    int at = Array.IndexOf(args, name);
    return at >= 0 && at + 1 < args.Length ? args[at + 1] : null;
}

double Number(string name) => double.Parse(Option(name) ?? throw new FormatException(usage), CultureInfo.InvariantCulture);

if (Option("--folder") is not { } folder)
{
    Console.Error.WriteLine(usage);
    return 2;
}

TargetSheet target = TargetFile.Read(Path.Combine(folder, "target.json"));
if (Option("--profile") is { } photo)
{
    Profile.Print(photo, target, Option("--laser") == "red" ? LaserColour.Red : LaserColour.Green, Number("--y"), Number("--from"), Number("--to"));
    return 0;
}

if (Option("--speed") is { } timed)
{
    Speed.Print(timed, target);
    return 0;
}

Mode mode = Enum.Parse<Mode>(Option("--mode") ?? "lit", ignoreCase: true);
double? distanceU = Option("--distance-u") is null ? null : Number("--distance-u");
bool verbose = args.Contains("--verbose");
var trials = new List<Trial>();
foreach (string dir in Directory.GetDirectories(folder).Order(StringComparer.Ordinal))
{
    if (!File.Exists(Path.Combine(dir, "truth.json")) || (Option("--only") is { } only && Path.GetFileName(dir) != only))
        continue;
    Scene scene = Scene.Read(dir);
    if ((mode is Mode.Dark or Mode.TurnedDark && scene.Photo("photo_dark.jpg") is null) || (mode is Mode.Turned or Mode.TurnedDark && scene.Photo("photo_turned.jpg") is null))
        continue;
    Trial t = Trial.Run(scene, target, mode, distanceU, args.Contains("--tell-beam"));
    trials.Add(t);
    if (args.Contains("--csv"))
        Console.WriteLine(Csv(t));
    if (Option("--pictures") is { } pictures && (args.Contains("--only") || (t.Error is null ? !t.MayRefuse : Math.Abs(t.Error.Value) > Math.Abs(t.BoundError ?? 0) + 0.3 || t.ShouldRefuse)))
    {
        Directory.CreateDirectory(pictures);
        LightPicture.Write(t, target, Path.Combine(pictures, $"{t.Scene.Name}.png"));
    }

    if (verbose)
        Show(t, target);
}

int worst = Option("--worst") is null ? 8 : (int)Number("--worst");
foreach (Trial t in trials.OrderByDescending(t => t.Error is null ? (t.MayRefuse ? -1 : 10) : Math.Abs(t.Error.Value) - Math.Abs(t.BoundError ?? 0)).Take(worst))
    Console.WriteLine(Line(t));
Table.Print(trials, target.ZeroMm, mode is Mode.Turned or Mode.TurnedDark);
return 0;

static string Line(Trial t) =>
    $"{t.Scene.Name} {t.Scene.Beam}: error {t.Error:0.00} u {t.U:0.00} bound {t.BoundError:0.00}  left {t.AsReadError(Side.Left):0.00} right {t.AsReadError(Side.Right):0.00} odds {string.Join("/", t.Reading.Mounts.Select(m => m.EdgeOdds.ToString("0.00", CultureInfo.InvariantCulture)))} {string.Join(" ", t.Reading.Reasons.Select(r => r.Code).Where(c => c is not ("defaults-used" or "roll-not-known" or "steep-bevel")))} | may refuse {t.MayRefuse}, {Table.Visibility(t)}";

static string Csv(Trial t)
{
    var edges = t.Reading.Mounts.SelectMany(m => m.Observations).Where(o => o.Role == MarkRole.Edge && o.Mount == 0).ToList();
    double Part(string source) => edges.SelectMany(o => o.Common).Where(c => c.Source == source).Sum(c => c.DegPerU);
    double row = Math.Sqrt(edges.SelectMany(o => o.Common).Where(c => c.Source.StartsWith("where the row", StringComparison.Ordinal)).GroupBy(c => c.Source, StringComparer.Ordinal).Sum(g => Math.Pow(g.Sum(c => c.DegPerU), 2)));
    double noise = Math.Sqrt(edges.SelectMany(o => o.Noise).Where(n => n.Source == "mark").Sum(n => n.UncertaintyDeg * n.UncertaintyDeg));
    bool line = edges.Any(o => o.Noise.Any(n => n.Source.StartsWith("line", StringComparison.Ordinal)));
    return $"csv,{t.Scene.Name},{t.Scene.Beam},{(line ? "line" : "dot")},{t.Error:0.000},{t.U:0.000},{t.BoundError:0.000},{t.AsReadError(Side.Left):0.000},{t.AsReadU(Side.Left):0.000},{t.AsReadError(Side.Right):0.000},{t.AsReadU(Side.Right):0.000},{Part("distance"):0.000},{row:0.000},{noise:0.000},{t.Reading.Mounts[0].EdgeOdds:0.000},{Widest(t):0.00},{t.Reading.Marks.Where(m => m.Role == SeenRole.Edge).Select(m => m.Shape?.Clipped ?? 0).DefaultIfEmpty(0).Max():0.00}";
}

static double Widest(Trial t) => t.Reading.Marks.Where(m => m is { Role: SeenRole.Edge, Shape: not null, AsRead: not null })
    .Select(m => m.Shape!.AcrossSdMm * double.RadiansToDegrees(Math.Pow(Math.Cos(2 * m.AsRead!.Value.Value.Radians), 2) / (2 * t.ToldMm))).DefaultIfEmpty(0).Max();

static void Show(Trial t, TargetSheet target)
{
    Console.WriteLine(Line(t));
    foreach (Reason reason in t.Reading.Reasons.Where(r => r.Code is not ("defaults-used" or "roll-not-known" or "steep-bevel")))
        Console.WriteLine($"     {reason.Code}: {reason.Text}");
    foreach (SeenMark k in t.Reading.Marks)
        Console.WriteLine($"     {k.Mount} {k.Role} {k.Target} {k.AsRead?.Value} ± {k.AsRead?.StandardUncertainty} x {k.TargetMm.X:0.00} y {k.TargetMm.Y:0.00} middle {k.Shape?.CentreXMm:0.00} {k.Shape?.CentreYMm:0.00} snr {k.Shape?.SignalToNoise:0} sdY {k.Shape?.AlongSdMm:0.0} sdX {k.Shape?.AcrossSdMm:0.0} flux {k.Shape?.Flux:0.0} uY {(k.Shape is null ? 0 : MarkRoles.AlongUMm(k.Shape)):0.00} clip {k.Shape?.Clipped:0.00} rim {k.Shape?.AtRim} wide {k.Shape?.AcrossDeg(t.ToldMm):0.00} saddle {k.Shape?.Blob.Saddle / k.Shape?.Blob.Peak:0.00}");
    foreach (ReadingObservation o in t.Reading.Mounts.SelectMany(m => m.Observations).Where(o => o.Role == MarkRole.Edge))
        Console.WriteLine($"     {o.Target} {string.Join(" ", o.Noise.Select(n => $"{n.Source}:{n.UncertaintyDeg:0.000}").Concat(o.Common.Select(n => $"{n.Source}:{n.DegPerU:0.000}")))}");
    foreach (var spot in t.Scene.Truth.GetProperty("spots").EnumerateArray())
    {
        if (spot.GetProperty("facet").GetString() != "apex" && (spot.TryGetProperty("ideal_mm", out var at) || spot.TryGetProperty("centroid_mm", out at)) && at.ValueKind == System.Text.Json.JsonValueKind.Array)
            Console.WriteLine($"        truth {spot.GetProperty("side")} {spot.GetProperty("facet")} {at[0].GetDouble():0.00} {at[1].GetDouble():0.00} power {(spot.TryGetProperty("power_on_card", out var p) ? p.ToString() : "")}");
    }

    _ = target;
}
