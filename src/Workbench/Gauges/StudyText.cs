using System.Globalization;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Core.Quantities;
using Whetwright.Records.Csv;

namespace Whetwright.Workbench.Gauges;

/// <summary>A gauge study as a table: part, operator, trial, value; numbers by our own parser.</summary>
public static class StudyText
{
    /// <summary>The columns.</summary>
    public static IReadOnlyList<string> Columns { get; } = ["part", "operator", "trial", "value"];

    /// <summary>Reads it; what is wrong names line, column and value.</summary>
    public static (IReadOnlyList<GaugeMeasurement> Measurements, string? Wrong) Read(string csv)
    {
        CsvTable table;
        try
        {
            table = CsvText.Read(csv);
        }
        catch (FormatException e)
        {
            return ([], e.Message);
        }

        List<string> header = [.. table.Header.Select(h => h.Trim().ToLowerInvariant())];
        int?[] at = [.. Columns.Select(c => header.IndexOf(c) is >= 0 and var i ? i : (int?)null)];
        foreach (int missing in (int[])[0, 1, 3])
        {
            if (at[missing] is null)
                return ([], $"The table has no column '{Columns[missing]}': its first line reads '{string.Join(", ", table.Header)}'; '{string.Join(", ", Columns)}' would be right.");
        }

        List<GaugeMeasurement> all = [];
        Dictionary<(string, string), int> repeats = [];
        foreach (CsvRow row in table.Rows)
        {
            if (row.Cells.All(string.IsNullOrWhiteSpace))
                continue;
            (string part, string who, string value) = (row.Cell(at[0]), row.Cell(at[1]), row.Cell(at[3]));
            if (part.Length == 0 || who.Length == 0)
                return ([], $"Line {row.Line}: {(part.Length == 0 ? "part" : "operator")} is empty; a name would be right.");
            switch (TypedNumber.Parse(value))
            {
                case Typed<double>.Value v:
                    int trial = repeats[(part, who)] = repeats.GetValueOrDefault((part, who)) + 1;
                    all.Add(new(part, who, row.Cell(at[2]) is { Length: > 0 } said ? said : trial.ToString(CultureInfo.InvariantCulture), v.Of));
                    break;
                case Typed<double>.Ambiguous asked:
                    return ([], $"Line {row.Line}, value: {asked.Question}");
                default:
                    return ([], $"Line {row.Line}: value '{value}' is not a number; one such as 15.2 would be right.");
            }
        }

        return all.Count == 0 ? ([], "The table has no measurement: one line each would be right, such as 'A, Mira, 1, 15.2'.") : (all, null);
    }

    /// <summary>The same as it is kept.</summary>
    public static string Write(IEnumerable<GaugeMeasurement> measurements) => CsvText.Line(Columns)
        + string.Concat(measurements.Select(m => CsvText.Line([m.Part, m.Operator, m.Trial, m.Value.ToString("R", CultureInfo.InvariantCulture)])));
}
