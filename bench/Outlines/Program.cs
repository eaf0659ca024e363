using System.Globalization;
using Whetwright.Outlines;

CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
if (args.Length == 0 || !Directory.Exists(args[0]))
{
    Console.Error.WriteLine("Give a folder of scenes: mat.json, and in each sub-folder photo.jpg, input.json and truth.json.");
    return 2;
}

var scenes = Directory.GetDirectories(args[0]).Where(d => File.Exists(Path.Combine(d, "truth.json"))).Order(StringComparer.Ordinal).Where(d => args.Length < 2 || d.Contains(args[1], StringComparison.Ordinal)).ToList();
var rows = new List<Row>();
Console.WriteLine(Row.Header);
foreach (string folder in scenes)
{
    foreach (Row row in Scene.Run(args[0], folder))
    {
        Console.WriteLine(row.ToString());
        rows.Add(row);
    }
}

Console.WriteLine();
foreach (var group in rows.GroupBy(r => r.How, StringComparer.Ordinal))
    Console.WriteLine(Row.Summary(group.Key, [.. group]));
return 0;
