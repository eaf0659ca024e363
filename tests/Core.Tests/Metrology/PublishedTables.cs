using System.Globalization;

namespace Whetwright.Core.Tests.Metrology;

/// <summary>Columns of the published tables in Data, by name.</summary>
internal static class PublishedTables
{
    internal static double[] Column(string file, string name)
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Data", file));
        int at = Array.IndexOf(lines[0].Split(','), name);
        return [.. lines.Skip(1).Where(l => l.Length > 0).Select(l => double.Parse(l.Split(',')[at], NumberStyles.Float, CultureInfo.InvariantCulture))];
    }
}
