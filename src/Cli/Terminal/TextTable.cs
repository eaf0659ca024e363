namespace Whetwright.Cli.Terminal;

/// <summary>A table in plain characters: no colour, columns wide enough for what stands in them, numbers to the right.</summary>
public sealed class TextTable(params string[] headers)
{
    private readonly List<string[]> rows = [];

    /// <summary>Adds a row; a null is shown as a dash.</summary>
    public TextTable Row(params string?[] cells)
    {
        rows.Add([.. cells.Select(c => c ?? "–")]);
        return this;
    }

    /// <summary>Writes it, indented by two.</summary>
    public void Write(TextWriter output)
    {
        int columns = headers.Length;
        int[] widths = new int[columns];
        bool[] right = new bool[columns];
        for (int c = 0; c < columns; c++)
        {
            widths[c] = Math.Max(headers[c].Length, rows.Select(r => r[c].Length).DefaultIfEmpty(0).Max());
            right[c] = rows.Count > 0 && rows.All(r => r[c] == "–" || (r[c].Length > 0 && (char.IsAsciiDigit(r[c][0]) || (r[c][0] is '-' or '+' && r[c].Length > 1))));
        }

        Line(output, headers, widths, right);
        Line(output, [.. widths.Select(w => new string('─', w))], widths, right);
        foreach (string[] row in rows)
            Line(output, row, widths, right);
    }

    private static void Line(TextWriter output, string[] cells, int[] widths, bool[] right)
    {
        string line = string.Join("  ", cells.Select((c, i) => right[i] ? c.PadLeft(widths[i]) : c.PadRight(widths[i])));
        output.WriteLine("  " + line.TrimEnd());
    }
}
