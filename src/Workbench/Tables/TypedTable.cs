using System.Globalization;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Reading;
using Whetwright.Records.Csv;

namespace Whetwright.Workbench.Tables;

/// <summary>A table of text with named columns; every fault names line, column and value.</summary>
internal sealed class TypedTable
{
    private readonly CsvTable _table;
    private readonly Dictionary<string, int> _columns = new(StringComparer.Ordinal);

    private TypedTable(CsvTable table) => _table = table;

    public List<FormatError> Errors { get; } = [];

    public IReadOnlyList<CsvRow> Rows => _table.Rows;

    public static TypedTable Of(string csv, IReadOnlyList<string> required, IReadOnlyList<string> optional)
    {
        CsvTable table;
        try
        {
            table = CsvText.Read(csv);
        }
        catch (FormatException e)
        {
            TypedTable broken = new(new([], []));
            broken.Errors.Add(new("table", "", e.Message));
            return broken;
        }

        TypedTable typed = new(table);
        for (int c = 0; c < table.Header.Count; c++)
        {
            string name = table.Header[c];
            if (!required.Contains(name, StringComparer.Ordinal) && !optional.Contains(name, StringComparer.Ordinal))
                typed.Errors.Add(new("line 1", name, $"unknown column; did you mean {NearestName.To(name, [.. required, .. optional])}? Known here: {string.Join(", ", [.. required, .. optional])}"));
            else if (!typed._columns.TryAdd(name, c))
                typed.Errors.Add(new("line 1", name, "the column stands here twice; keep one"));
        }

        foreach (string name in required.Where(r => !typed._columns.ContainsKey(r)))
            typed.Errors.Add(new("line 1", "", $"the column {name} is missing; a first line {string.Join(',', required)} would be right"));
        if (typed.Errors.Count == 0 && table.Rows.Count == 0)
            typed.Errors.Add(new("table", "", "no rows under the first line"));
        return typed;
    }

    public string Text(CsvRow row, string column)
    {
        string cell = Cell(row, column);
        if (cell.Length == 0)
            Fault(row, column, cell, "is empty; a name would be right");
        return cell;
    }

    public double Number(CsvRow row, string column, Limits limits, string unit)
    {
        string cell = Cell(row, column);
        if (cell.Length == 0)
        {
            Fault(row, column, cell, $"is empty; a number {limits.ToText(unit)} would be right");
            return double.NaN;
        }

        switch (TypedNumber.Parse(cell))
        {
            case Typed<double>.Value v when limits.Allow(v.Of):
                return v.Of;
            case Typed<double>.Value:
                Fault(row, column, cell, $"it must be {limits.ToText(unit)}");
                break;
            case Typed<double>.Ambiguous a:
                Fault(row, column, cell, a.Question);
                break;
            case Typed<double>.Refused r:
                Fault(row, column, cell, r.Why);
                break;
        }

        return double.NaN;
    }

    public double? Optional(CsvRow row, string column, Limits limits, string unit) =>
        _columns.ContainsKey(column) && Cell(row, column).Length > 0 ? Number(row, column, limits, unit) : null;

    public DateTimeOffset When(CsvRow row, string column)
    {
        string cell = Cell(row, column);
        if (DateTimeOffset.TryParseExact(cell, ["yyyy-MM-dd", "yyyy-MM-ddTHH:mm", "yyyy-MM-dd HH:mm", "yyyy-MM-ddTHH:mm:ss", "yyyy-MM-dd HH:mm:ss", "yyyy-MM-ddTHH:mmK", "yyyy-MM-ddTHH:mm:ssK"],
            CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset when))
            return when;
        Fault(row, column, cell, "a day such as 2026-11-20 or a time such as 2026-11-20T09:30 would be right");
        return default;
    }

    private string Cell(CsvRow row, string column) => row.Cell(_columns.TryGetValue(column, out int c) ? c : null);

    private void Fault(CsvRow row, string column, string value, string text) =>
        Errors.Add(new(FormattableString.Invariant($"line {row.Line}, {column}"), value, text));
}

/// <summary>A gauge study as a table: <c>part, operator, trial, value</c>.</summary>
public static class GaugeStudyTable
{
    /// <summary>Columns that must be there.</summary>
    public static IReadOnlyList<string> Columns { get; } = ["part", "operator", "trial", "value"];

    /// <summary>Reads the table.</summary>
    public static FormatOutcome<IReadOnlyList<GaugeMeasurement>> Read(string csv)
    {
        TypedTable table = TypedTable.Of(csv, Columns, []);
        List<GaugeMeasurement> all = [];
        if (table.Errors.Count == 0)
            all = [.. table.Rows.Select(r => new GaugeMeasurement(table.Text(r, "part"), table.Text(r, "operator"), table.Text(r, "trial"), table.Number(r, "value", Limits.Any, "")))];
        if (table.Errors.Count == 0)
        {
            foreach (IGrouping<(string, string, string), GaugeMeasurement> twice in all.GroupBy(m => (m.Part, m.Operator, m.Trial)).Where(g => g.Count() > 1))
                table.Errors.Add(new("trial", twice.Key.Item3, $"part '{twice.Key.Item1}', operator '{twice.Key.Item2}' has this trial {twice.Count()} times; each trial once would be right"));
        }

        return table.Errors.Count > 0 ? new FormatOutcome<IReadOnlyList<GaugeMeasurement>>.Refused(table.Errors) : new FormatOutcome<IReadOnlyList<GaugeMeasurement>>.Read(all);
    }
}

/// <summary>Pieces set and read, with the file's line of each.</summary>
/// <param name="Log">The pieces.</param>
/// <param name="Lines">The line of each, 1-based.</param>
public sealed record SetGotLog(IReadOnlyList<SetGot> Log, IReadOnlyList<int> Lines);

/// <summary>Set against got as a table: <c>when, rig, wheel, setDeg, gotDeg, uDeg</c>, and <c>correctionDeg</c> where one was in force.</summary>
public static class SetGotTable
{
    /// <summary>Columns that must be there.</summary>
    public static IReadOnlyList<string> Columns { get; } = ["when", "rig", "wheel", "setDeg", "gotDeg", "uDeg"];

    /// <summary>Reads the table. <c>setDeg</c> is what was aimed at; a correction in force (got less set) is taken off it.</summary>
    public static FormatOutcome<SetGotLog> Read(string csv)
    {
        TypedTable table = TypedTable.Of(csv, Columns, ["correctionDeg"]);
        List<SetGot> all = [];
        if (table.Errors.Count == 0)
        {
            all = [.. table.Rows.Select(r => SetGot.Aimed(
                table.When(r, "when"), table.Text(r, "rig"), table.Text(r, "wheel"), table.Number(r, "setDeg", new Limits(0, 80, Open: true), "°"),
                table.Number(r, "gotDeg", new Limits(0, 80, Open: true), "°"), table.Number(r, "uDeg", new Limits(0, 10, Open: true), "°"),
                table.Optional(r, "correctionDeg", new Limits(-10, 10), "°") ?? 0))];
        }

        return table.Errors.Count > 0 ? new FormatOutcome<SetGotLog>.Refused(table.Errors) : new FormatOutcome<SetGotLog>.Read(new(all, [.. table.Rows.Select(r => r.Line)]));
    }
}
