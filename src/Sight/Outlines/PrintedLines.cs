using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Lines printed along the mat's sides, and the words beside them, also where a blade lies close or over them. A printed line is straight, thin,
/// evenly dark, has paper of one tone on both sides, and ends in bare paper; the rim of a blade before steel as bright as the paper is even and
/// straight for a while, but goes on round a corner.
/// </summary>
internal static class PrintedLines
{
    private const double LeastDip = PaperTones.LeastDip;

    private const double Alike = PaperTones.Alike;

    private const int ToCells = PaperTones.ToCells;

    /// <summary>Least length of a line that has paper on both sides, and gaps in it, cells: 10 and 4 mm. Chosen.</summary>
    private const int LeastCells = 25, GapCells = 10;

    /// <summary>What lies on a line hides this much of it at most, cells: 80 mm. Chosen.</summary>
    private const int HiddenCells = 200;

    /// <summary>A line whose end is hidden may go on under what hides it, and its words come out again, this far, cells: 30 mm. Chosen.</summary>
    private const int UnderCells = 75;

    /// <summary>A line may lie askew by this, what the sheet's map leaves. Chosen: 0.17 degrees.</summary>
    private const double MostSlope = 0.003;

    /// <summary>Median distance from straight, cells: 0.03 mm, and half of it for a short piece. Chosen: what paper and the sheet's map leave.</summary>
    private const double MostCrooked = 0.08;

    /// <summary>All but a seventh of it lies this near its straight, cells: 0.1 mm. Chosen: what bends away is a rim.</summary>
    private const double MostBent = 0.25;

    /// <summary>A piece shorter than this is short, cells: 24 mm. Chosen.</summary>
    private const int ShortCells = 60;

    /// <summary>Finds them.</summary>
    /// <param name="tones">Natural logarithms of the tones on the mat's grid, thin strokes softened.</param>
    /// <param name="fine">The same with every stroke.</param>
    /// <param name="level">Tones of the bare paper.</param>
    /// <param name="valid">Where the photo shows the mat.</param>
    public static IReadOnlyList<PrintedLine> Find(Mat tones, Mat fine, Mat level, Mat valid)
    {
        var across = new PaperTones(tones, level, valid);
        List<PrintedLine> lines = [.. Find(across, new(fine, level, valid)).Select(l => PrintedWords.Beside(across, fine, l))];
        using Mat down = new();
        using Mat downFine = new();
        using Mat downLevel = new();
        using Mat downValid = new();
        Cv2.Transpose(tones, down);
        Cv2.Transpose(fine, downFine);
        Cv2.Transpose(level, downLevel);
        Cv2.Transpose(valid, downValid);
        var upright = new PaperTones(down, downLevel, downValid);
        lines.AddRange(Find(upright, new(downFine, downLevel, downValid)).Select(l => PrintedWords.Beside(upright, downFine, l) with { Down = true }));
        return lines;
    }

    private static List<PrintedLine> Find(PaperTones field, PaperTones fine)
    {
        (int columns, int rows) = (field.Columns, field.Rows);
        byte[] strokes = new byte[columns * rows];
        for (int r = ToCells; r < rows - ToCells; r++)
        {
            for (int c = 0; c < columns; c++)
            {
                if (field.IsStroke(r, c))
                    strokes[(r * columns) + c] = 1;
            }
        }

        var runs = new List<(int Row, int From, int To, int Count)>();
        for (int r = ToCells + 1; r < rows - ToCells - 1; r++)
        {
            int from = -1;
            int last = -1;
            int count = 0;
            for (int c = 0; c <= columns; c++)
            {
                bool on = c < columns && (strokes[((r - 1) * columns) + c] | strokes[(r * columns) + c] | strokes[((r + 1) * columns) + c]) != 0;
                if (from >= 0 && (c == columns || c - last > GapCells))
                {
                    if (count >= LeastCells)
                        runs.Add((r, from, last, count));
                    from = -1;
                }

                if (!on)
                    continue;
                (from, count) = from < 0 ? (c, 1) : (from, count + 1);
                last = c;
            }
        }

        // The longest first: a stretch of a curved rim may be straight, the whole of it is not.
        var lines = new List<PrintedLine>();
        var none = new List<(int Row, int From, int To)>();
        foreach ((int row, int from, int to, int count) in runs.OrderByDescending(r => r.Count))
        {
            if (lines.Any(l => Math.Abs(l.RowAt((from + to) / 2) - row) < 6 && from < l.To && to > l.From))
                continue;
            bool partOfNone = none.Any(n => Math.Abs(n.Row - row) <= 2 && from < n.To && to > n.From);
            if (!partOfNone && Fit(field, fine, row, from, to) is { } line)
                lines.Add(line);
            else
                none.Add((row, from, to));
        }

        return lines;
    }

    private static PrintedLine? Fit(PaperTones field, PaperTones fine, int row, int from, int to)
    {
        var at = new List<(double X, double Y, double Dip)>();
        for (int c = from; c <= to; c++)
        {
            double sum = 0;
            double moment = 0;
            double most = 0;
            for (int r = row - 2; r <= row + 2; r++)
            {
                double dip = fine.IsStroke(r, c, middle: false) ? fine.Dip(r, c) : 0;
                sum += dip;
                moment += dip * r;
                most = Math.Max(most, dip);
            }

            if (most > LeastDip)
                at.Add((c, moment / sum, most));
        }

        if (at.Count < LeastCells)
            return null;
        double slope = 0;
        double row0 = Middle(at.Select(p => p.Y));
        for (int pass = 0; pass < 3; pass++)
        {
            var near = at.Where(p => Math.Abs(p.Y - row0 - (slope * p.X)) < 0.8).ToList();
            if (near.Count < LeastCells)
                return null;
            double mx = near.Average(p => p.X);
            double my = near.Average(p => p.Y);
            slope = near.Sum(p => (p.X - mx) * (p.Y - my)) / near.Sum(p => (p.X - mx) * (p.X - mx));
            row0 = my - (slope * mx);
        }

        double[] off = [.. at.Select(p => Math.Abs(p.Y - row0 - (slope * p.X))).Order()];
        if (Math.Abs(slope) > MostSlope || off[off.Length / 2] > (off.Length < ShortCells ? MostCrooked / 2 : MostCrooked) || off[(int)(0.85 * off.Length)] > MostBent)
            return null;
        PrintedLine line = Extend(fine, new(row0, slope, from, to, Middle(at.Select(p => p.Dip)), false, []));
        bool freeFrom = EndsFree(field, line, line.From, -1);
        bool freeTo = EndsFree(field, line, line.To, 1);
        if (!(freeFrom || freeTo))
            return null;
        return line with { From = freeFrom ? line.From : Math.Max(0, line.From - UnderCells), To = freeTo ? line.To : Math.Min(field.Columns - 1, line.To + UnderCells) };
    }

    /// <summary>The line goes on where it is seen before paper on one side at least, also past what hides it.</summary>
    private static PrintedLine Extend(PaperTones field, PrintedLine line) => line with { From = Extended(field, line, line.From, -1), To = Extended(field, line, line.To, 1) };

    private static int Extended(PaperTones field, PrintedLine line, int end, int direction)
    {
        int reached = end;
        int bare = 0;
        int run = 0;
        for (int c = end + direction; c >= 0 && c < field.Columns && bare <= GapCells && Math.Abs(c - reached) < HiddenCells; c += direction)
        {
            int row = line.RowAt(c);
            bool seen = false;
            bool paper = false;
            foreach (int side in (int[])[-1, 1])
            {
                if (field.Beside(row, c, side) is not { } beside || !field.IsPaper(beside, c))
                    continue;
                double dip = field.Mean[(beside * field.Columns) + c] - field.Mean[(row * field.Columns) + c];
                seen |= dip > 0.4 * line.Depth && dip < 1.8 * line.Depth;
                paper |= dip < 0.4 * line.Depth && dip > -0.4 * line.Depth;
            }

            run = seen ? run + 1 : 0;
            bare = seen || !paper ? 0 : bare + 1;
            if (run >= (Math.Abs(c - reached) > GapCells ? GapCells : 2))
                reached = c;
        }

        return reached;
    }

    /// <summary>Whether nothing but paper lies ahead of an end and to both sides of it: no corner.</summary>
    private static bool EndsFree(PaperTones field, PrintedLine line, int end, int direction)
    {
        const int aside = 7;
        const int widest = 10;
        const int ahead = 4;
        const int farthest = 10;
        int row = line.RowAt(end);
        var off = new List<double>();
        for (int k = -5; k <= farthest; k++)
        {
            for (int d = -widest; d <= widest; d++)
            {
                if (Math.Abs(d) < aside && k < ahead)
                    continue;
                if (field.Off(row + d, end + (direction * k)) is not { } value)
                    return false;
                off.Add(value);
            }
        }

        off.Sort();
        return off[(int)(0.98 * off.Count)] - off[(int)(0.02 * off.Count)] < Alike;
    }

    private static double Middle(IEnumerable<double> values)
    {
        double[] v = [.. values.Order()];
        return v[v.Length / 2];
    }
}
