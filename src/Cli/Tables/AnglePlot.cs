using System.Globalization;
using Whetwright.Core.Fixtures;

namespace Whetwright.Cli.Tables;

/// <summary>The angle along the edge as a plot in characters: heel at the left, one column per stretch, the wanted angle as a dotted
/// line. The scale is that of the stretch the clamp serves; beyond it the plot shows only what fits that scale, as small dots.</summary>
internal static class AnglePlot
{
    private const int Columns = 72;
    private const int Rows = 9;

    public static void Write(TextWriter output, PlannedClamp clamp, double wantedDeg, double toleranceDeg)
    {
        IReadOnlyList<AngleAlongEdge> angles = clamp.Angles;
        AngleAlongEdge[] known = [.. angles.Where(a => double.IsFinite(a.Deg))];
        if (known.Length < 2)
            return;
        double half = Math.Max(toleranceDeg, known.Where(a => Serves(clamp, a)).Select(a => Math.Abs(a.Deg - wantedDeg)).DefaultIfEmpty(0).Max());
        double length = angles[^1].AtMm;
        char[][] cells = [.. Enumerable.Range(0, Rows).Select(_ => new string(' ', Columns).ToCharArray())];
        Array.Fill(cells[Rows / 2], '·');
        bool leftOut = false, others = false;
        foreach (AngleAlongEdge a in known)
        {
            bool serves = Serves(clamp, a);
            if (!serves && Math.Abs(a.Deg - wantedDeg) > half)
            {
                leftOut = true;
                continue;
            }

            others |= !serves;
            int column = length > 0 ? (int)Math.Round(a.AtMm / length * (Columns - 1)) : 0;
            int row = (int)Math.Round((wantedDeg + half - a.Deg) / (2 * half) * (Rows - 1));
            ref char cell = ref cells[Math.Clamp(row, 0, Rows - 1)][Math.Clamp(column, 0, Columns - 1)];
            cell = serves || cell == '*' ? '*' : '˙';
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
        if (others || leftOut)
            output.WriteLine($"            * the stretch this clamp serves{(others ? ", ˙ the rest" : "")}{(leftOut ? "; what strays further than the scale is left out" : "")}");
    }

    private static bool Serves(PlannedClamp clamp, AngleAlongEdge angle) =>
        angle.AtMm >= clamp.FromMm - 1e-6 && angle.AtMm <= clamp.ToMm + 1e-6;
}
