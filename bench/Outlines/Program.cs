using System.Globalization;
using Whetwright.Outlines;

CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
if (args.Length == 0 || !Directory.Exists(args[0]))
{
    Console.Error.WriteLine("Give a folder of scenes: mat.json, and in each sub-folder photo.jpg, input.json and truth.json. With --show FOLDER one tracing each, drawn there; with --edge the line of the edge alone, blade and ends taken from the truth (--profiles: light across it; --told: its height told); with --two from two photos only; with --ends heel and tip alone, with --cues what tells ends and sides, nothing traced, with --chips chips alone, their edge's line from the truth, with --spine the spine alone, side from the truth; with --perfect-ends what a length is worth whose ends are picked perfectly, nothing traced; --without-spine: only the edge's height is told, not how thick the spine is (--keep FOLDER: what was found is kept there for the next run).");
    return 2;
}

int show = Array.IndexOf(args, "--show");
string? pictures = show >= 0 && show + 1 < args.Length ? args[show + 1] : null;
if (show >= 0)
    args = [.. args.Where((_, i) => i != show && i != show + 1)];
int keep = Array.IndexOf(args, "--keep");
string? kept = keep >= 0 && keep + 1 < args.Length ? args[keep + 1] : null;
if (keep >= 0)
    args = [.. args.Where((_, i) => i != keep && i != keep + 1)];
bool ends = args.Contains("--ends");
bool spine = args.Contains("--spine");
bool perfect = args.Contains("--perfect-ends");
args = [.. args.Where(a => a is not ("--ends" or "--spine" or "--perfect-ends"))];
Scene.WithoutSpine = args.Contains("--without-spine");
args = [.. args.Where(a => a != "--without-spine")];
bool two = args.Contains("--two");
args = [.. args.Where(a => a != "--two")];
bool edge = args.Contains("--edge");
args = edge ? [.. args.Where(a => a != "--edge")] : args;
var scenes = Directory.GetDirectories(args[0]).Where(d => File.Exists(Path.Combine(d, "truth.json"))).Order(StringComparer.Ordinal).Where(d => args.Length < 2 || args[1].StartsWith('-') || args[1].Split(',').Any(a => d.Contains(a, StringComparison.Ordinal))).ToList();
if (args.Contains("--cues"))
{
    foreach (string folder in scenes)
        Console.WriteLine(Scene.Cues(args[0], folder));
    return 0;
}

if (ends)
{
    EndsAlone.Run(args[0], scenes, kept, pictures);
    return 0;
}

if (perfect)
{
    PerfectEnds.Run(args[0], scenes);
    return 0;
}

if (spine)
{
    SpineAlone.Run(args[0], scenes, kept);
    return 0;
}

if (args.Contains("--rules"))
{
    RulesAlone.Run(args[0], scenes);
    return 0;
}

if (args.Contains("--chips"))
{
    ChipsAlone.Run(args[0], scenes);
    return 0;
}

if (edge)
{
    EdgeAlone.Run(args[0], scenes, args.Contains("--profiles"), args.Contains("--told"));
    return 0;
}

var rows = new List<Row>();
Console.WriteLine(Row.Header);
foreach (string folder in scenes)
{
    foreach (Row row in Scene.Run(args[0], folder, pictures, two))
    {
        Console.WriteLine(row.ToString());
        rows.Add(row);
    }
}

Console.WriteLine();
foreach (var group in rows.GroupBy(r => r.How, StringComparer.Ordinal))
    Console.WriteLine(Row.Summary(group.Key, [.. group]));
return 0;
