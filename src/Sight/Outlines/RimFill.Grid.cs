using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <content>Lines printed along the mat's axes, which are no rims.</content>
internal static partial class RimFill
{
    /// <summary>Tones within this of the paper's tell a printed grid (natural logarithm), against the lines so many cells beside. Chosen.</summary>
    private const float PaperLike = 0.08f;

    private const int GridCells = 6;

    /// <summary>A grid's line is so much darker than the paper beside it, along the mat (natural logarithm). Chosen.</summary>
    private const float GridStroke = 0.003f;

    /// <summary>Such a line is seen over so much of the mat; things hide the rest, and no blade's side is as long. Chosen.</summary>
    private const double GridShare = 0.6;

    /// <summary>Faint lines printed along the mat's axes from end to end: what a column or row of paper is darker than those beside it.</summary>
    public static void TakeGridOff(Mat off)
    {
        (int rows, int columns) = (off.Rows, off.Width);
        off.GetArray(out Vec3f[] tone);
        foreach (bool down in new[] { true, false })
        {
            int lines = down ? columns : rows;
            int length = down ? rows : columns;
            int At(int line, int k) => down ? (k * columns) + line : (line * columns) + k;
            for (int channel = 0; channel < 3; channel++)
            {
                float[] level = new float[lines];
                for (int line = 0; line < lines; line++)
                {
                    float[] paper = [.. Enumerable.Range(0, length).Select(k => tone[At(line, k)][channel]).Where(v => Math.Abs(v) < PaperLike)];
                    Array.Sort(paper);
                    level[line] = paper.Length < length / 4 ? 0 : paper[paper.Length / 2];
                }

                for (int line = 0; line < lines; line++)
                {
                    float[] near = [.. level[Math.Max(0, line - GridCells)..Math.Min(lines, line + GridCells + 1)].Order()];
                    float lift = level[line] - near[near.Length / 2];
                    for (int k = 0; k < length; k++)
                        tone[At(line, k)][channel] -= lift;
                }
            }
        }

        off.SetArray(tone);
    }

    /// <summary>What is left of the strokes without lines that are printed along the mat's axes from end to end, as a grid; and whether there is one.</summary>
    private static (Mat Left, bool Gridded) WithoutGrid(Mat strokes)
    {
        (int rows, int columns) = (strokes.Rows, strokes.Width);
        strokes.GetArray(out float[] dark);
        bool any = false;
        foreach (bool down in new[] { true, false })
        {
            (int lines, int length) = down ? (columns, rows) : (rows, columns);
            int At(int line, int k) => down ? (k * columns) + line : (line * columns) + k;
            float[] own = [.. Enumerable.Range(0, lines).Select(line => Reached(Enumerable.Range(0, length).Select(k => dark[At(line, k)]), GridShare))];
            int[] grid = [.. Enumerable.Range(2, lines - 4).Where(line => own[line] - Reached(own[Math.Max(0, line - GridCells)..Math.Min(lines, line + GridCells + 1)], 0.5) > GridStroke)];
            any |= grid.Length > 0;
            float[] was = [.. dark];
            foreach (int line in grid.SelectMany(l => new[] { l - 1, l, l + 1 }).Distinct())
            {
                (int before, int after) = (line, line);
                while (before > 0 && grid.Any(l => Math.Abs(l - before) < 2))
                    before--;
                while (after < lines - 1 && grid.Any(l => Math.Abs(l - after) < 2))
                    after++;
                for (int k = 0; k < length; k++)
                    dark[At(line, k)] = (was[At(before, k)] + was[At(after, k)]) / 2;
            }
        }

        var left = new Mat(strokes.Size(), MatType.CV_32FC1);
        left.SetArray(dark);
        return (left, any);
    }

    // What all but a share of the values reach.
    private static float Reached(IEnumerable<float> values, double share)
    {
        float[] v = [.. values];
        Array.Sort(v);
        return v[(int)((1 - share) * (v.Length - 1))];
    }
}
