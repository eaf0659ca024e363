using System.Globalization;
using Whetwright.Core.Fixtures;

namespace Whetwright.Cli.Tables;

/// <summary>The angle along the edge as a plot in characters: heel at the left, one column per stretch, the wanted angle as a dotted line.</summary>
internal static class AnglePlot
{
    private const int Columns = 72;
    private const int Rows = 9;

    public static void Write(TextWriter output, IReadOnlyList<AngleAlongEdge> angles, double wantedDeg, double toleranceDeg)
    {
        AngleAlongEdge[] known = [.. angles.Where(a => double.IsFinite(a.Deg))];
        if (known.Length < 2)
            return;
        double half = Math.Max(toleranceDeg, known.Max(a => Math.Abs(a.Deg - wantedDeg)));
        double length = angles[^1].AtMm;
        char[][] cells = [.. Enumerable.Range(0, Rows).Select(_ => new string(' ', Columns).ToCharArray())];
        Array.Fill(cells[Rows / 2], '·');
        foreach (AngleAlongEdge a in known)
        {
            int column = length > 0 ? (int)Math.Round(a.AtMm / length * (Columns - 1)) : 0;
            int row = (int)Math.Round((wantedDeg + half - a.Deg) / (2 * half) * (Rows - 1));
            cells[Math.Clamp(row, 0, Rows - 1)][Math.Clamp(column, 0, Columns - 1)] = '*';
        }

        output.WriteLine();
        output.WriteLine("  angle along the edge, heel to tip (the setting that strays most)");
        for (int r = 0; r < Rows; r++)
        {
            double value = wantedDeg + half - (2 * half * r / (Rows - 1));
            string label = r % 4 == 0 ? value.ToString("0.00", CultureInfo.InvariantCulture) + "°" : "";
            output.WriteLine($"  {label,8} │{new string(cells[r]).TrimEnd()}");
        }

        output.WriteLine($"           └{new string('─', Columns)}");
        string end = length.ToString("0", CultureInfo.InvariantCulture) + " mm";
        output.WriteLine($"            heel{end.PadLeft(Columns - 4)}");
    }
}
