using System.Buffers;
using System.Text;

namespace Whetwright.Records.Csv;

/// <summary>A table of text: RFC 4180, with comma, semicolon or tab.</summary>
/// <param name="Header">Names of the columns.</param>
/// <param name="Rows">Rows with the line each began on, 1-based.</param>
public sealed record CsvTable(IReadOnlyList<string> Header, IReadOnlyList<CsvRow> Rows);

/// <summary>One row.</summary>
/// <param name="Line">The line it began on, 1-based.</param>
/// <param name="Cells">Its cells; cells that are missing at the end are empty.</param>
public sealed record CsvRow(int Line, IReadOnlyList<string> Cells)
{
    /// <summary>The cell of a column; empty where there is none.</summary>
    public string Cell(int? column) => column is { } c && c >= 0 && c < Cells.Count ? CsvText.Plain(Cells[c]).Trim() : "";
}

/// <summary>Writes and reads tables of text.</summary>
public static class CsvText
{
    private static readonly SearchValues<char> MustBeQuoted = SearchValues.Create(",;\"\t\r\n");

    /// <summary>One line, cells quoted where they must be.</summary>
    public static string Line(IEnumerable<string> cells) => string.Join(',', cells.Select(Quoted)) + "\r\n";

    /// <summary>
    /// Text that a spreadsheet would take for a formula (it begins with = + − @ or a control character) gets an apostrophe in front, which spreadsheets hide.
    /// </summary>
    public static string Neutral(string text) => text.Length > 0 && IsFormula(text[0]) ? "'" + text : text;

    /// <summary>The way back from <see cref="Neutral"/>.</summary>
    public static string Plain(string cell) => cell.Length > 1 && cell[0] == '\'' && IsFormula(cell[1]) ? cell[1..] : cell;

    /// <summary>Reads a table with a header. The separator is the one of comma, semicolon and tab that the header has most of.</summary>
    /// <exception cref="FormatException">A quoted cell does not end; the message names the line.</exception>
    public static CsvTable Read(string text)
    {
        string body = text.TrimStart('\uFEFF');
        int end = body.IndexOfAny(['\r', '\n']);
        string first = end < 0 ? body : body[..end];
        char separator = new[] { ',', ';', '\t' }.MaxBy(s => first.Count(c => c == s));
        List<CsvRow> rows = [];
        List<string> cells = [];
        StringBuilder cell = new();
        int line = 1, began = 1, quotedFrom = 0;
        bool quoted = false, wasQuoted = false;
        for (int i = 0; i < body.Length; i++)
        {
            char c = body[i];
            if (c == '\n')
                line++;
            if (quoted)
            {
                if (c != '"')
                    cell.Append(c);
                else if (i + 1 < body.Length && body[i + 1] == '"')
                    cell.Append(body[++i]);
                else
                    quoted = false;
            }
            else if (c == '"' && cell.Length == 0 && !wasQuoted)
            {
                (quoted, wasQuoted, quotedFrom) = (true, true, line);
            }
            else if (c == separator)
            {
                EndCell();
            }
            else if (c is '\r' or '\n')
            {
                if (c == '\r' && i + 1 < body.Length && body[i + 1] == '\n')
                    continue;
                if (c == '\r')
                    line++;
                EndRow();
            }
            else
            {
                cell.Append(c);
            }
        }

        if (quoted)
            throw new FormatException($"Line {quotedFrom}: a cell begins with a quotation mark and never ends; a closing mark would be right.");
        EndRow();
        return rows.Count == 0 ? new CsvTable([], []) : new CsvTable([.. rows[0].Cells.Select(h => h.Trim())], rows[1..]);

        void EndCell()
        {
            cells.Add(cell.ToString());
            cell.Clear();
            wasQuoted = false;
        }

        void EndRow()
        {
            EndCell();
            if (cells.Count > 1 || cells[0].Length > 0)
                rows.Add(new CsvRow(began, [.. cells]));
            cells.Clear();
            began = line;
        }
    }

    private static bool IsFormula(char c) => c is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n';

    private static string Quoted(string cell) =>
        cell.AsSpan().ContainsAny(MustBeQuoted) ? $"\"{cell.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : cell;
}
