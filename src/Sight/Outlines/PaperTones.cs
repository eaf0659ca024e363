using OpenCvSharp;

namespace Whetwright.Sight.Outlines;

/// <summary>The field's tones and the bare paper's as arrays, and what a stroke across the rows looks like in them.</summary>
internal sealed class PaperTones
{
    /// <summary>Least darkness of a line against the paper beside it, natural logarithm. Chosen.</summary>
    public const double LeastDip = 0.02;

    /// <summary>Tones of the two sides differ by at most this, a shadow's soft rim. Chosen.</summary>
    public const double Alike = 0.05;

    /// <summary>The paper beside a stroke is sought from 2 to 5 cells off: 0.8 to 2 mm. Chosen.</summary>
    public const int FromCells = 2, ToCells = 5;

    /// <summary>Paper in shade is this much darker at most, and brighter only as the paper's tone may miss, natural logarithm. Chosen.</summary>
    private const double InShade = 0.35, Brighter = 0.06;

    /// <summary>A shadow takes all channels alike, within this. Chosen.</summary>
    private const double SameHue = 0.035;

    private readonly Vec3f[] _level;
    private readonly byte[] _valid;

    public PaperTones(Mat tones, Mat level, Mat valid)
    {
        (Columns, Rows) = (tones.Width, tones.Rows);
        tones.GetArray(out Vec3f[] tone);
        level.GetArray(out _level);
        valid.GetArray(out _valid);
        Tone = tone;
        Mean = [.. tone.Select(t => (float)Of(t))];
    }

    public int Columns { get; }

    public int Rows { get; }

    public Vec3f[] Tone { get; }

    public float[] Mean { get; }

    public static double Of(Vec3f tone) => (tone.Item0 + tone.Item1 + tone.Item2) / 3;

    /// <summary>Whether a tone is the paper's own, perhaps in shade.</summary>
    public static bool IsPaper(Vec3f tone, Vec3f level)
    {
        double off = Of(tone) - Of(level);
        return off > -InShade && off < Brighter
            && Math.Abs(tone.Item0 - level.Item0 - off) < SameHue && Math.Abs(tone.Item1 - level.Item1 - off) < SameHue && Math.Abs(tone.Item2 - level.Item2 - off) < SameHue;
    }

    public bool IsPaper(Vec3f tone, int at) => IsPaper(tone, _level[at]);

    public bool IsPaper(int row, int column) => IsPaper(Tone[(row * Columns) + column], _level[(row * Columns) + column]);

    /// <summary>Row of the brightest place beside a stroke, above (−1) or below (1); null off the mat.</summary>
    public int? Beside(int row, int column, int direction)
    {
        int best = row + (FromCells * direction);
        if (row < ToCells || row >= Rows - ToCells)
            return null;
        for (int d = FromCells + 1; d <= ToCells; d++)
        {
            if (Mean[((row + (d * direction)) * Columns) + column] > Mean[(best * Columns) + column])
                best = row + (d * direction);
        }

        return best;
    }

    /// <summary>How much darker a place is than the darker of its two sides.</summary>
    public double Dip(int row, int column) => Beside(row, column, -1) is { } up && Beside(row, column, 1) is { } down
        ? Math.Min(Mean[(up * Columns) + column], Mean[(down * Columns) + column]) - Mean[(row * Columns) + column] : 0;

    /// <summary>Whether a stroke across the rows lies here, paper of one tone on both sides.</summary>
    public bool IsStroke(int row, int column, bool middle = true)
    {
        int at = (row * Columns) + column;
        if (row < ToCells || row >= Rows - ToCells || _valid[at] == 0)
            return false;
        float here = Mean[at];
        if (middle && (here > Mean[at - Columns] || here > Mean[at + Columns]))
            return false;
        int up = Beside(row, column, -1)!.Value;
        int down = Beside(row, column, 1)!.Value;
        float a = Mean[(up * Columns) + column];
        float b = Mean[(down * Columns) + column];
        return Math.Min(a, b) - here > LeastDip && Math.Abs(a - b) < 2 * Alike && IsPaper(up, column) && IsPaper(down, column);
    }

    /// <summary>Tone less the bare paper's; null off the mat.</summary>
    public double? Off(int row, int column)
    {
        if (row < 0 || column < 0 || row >= Rows || column >= Columns)
            return null;
        int at = (row * Columns) + column;
        return _valid[at] == 0 ? null : Mean[at] - Of(_level[at]);
    }
}
