using System.Globalization;
using Whetwright.Outlines;

CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
if (args.Length == 0 || !Directory.Exists(args[0]))
{
    Console.Error.WriteLine("Give a folder of scenes: mat.json, and in each sub-folder photo.jpg, input.json and truth.json. With --show FOLDER one tracing each, drawn there.");
    return 2;
}

int show = Array.IndexOf(args, "--show");
string? pictures = show >= 0 && show + 1 < args.Length ? args[show + 1] : null;
if (show >= 0)
    args = [.. args.Where((_, i) => i != show && i != show + 1)];
var scenes = Directory.GetDirectories(args[0]).Where(d => File.Exists(Path.Combine(d, "truth.json"))).Order(StringComparer.Ordinal).Where(d => args.Length < 2 || d.Contains(args[1], StringComparison.Ordinal)).ToList();
var rows = new List<Row>();
Console.WriteLine(Row.Header);
foreach (string folder in scenes)
{
    foreach (Row row in Scene.Run(args[0], folder, pictures))
    {
        Console.WriteLine(row.ToString());
        rows.Add(row);
    }
}

Console.WriteLine();
foreach (var group in rows.GroupBy(r => r.How, StringComparer.Ordinal))
    Console.WriteLine(Row.Summary(group.Key, [.. group]));
return 0;
