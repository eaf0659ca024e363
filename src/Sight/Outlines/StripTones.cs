namespace Whetwright.Sight.Outlines;

/// <summary>A strip's light and colour against the paper beside it: the three channels' mean, red less blue, green less the mean of both; open paper is 1, 0, 0.</summary>
internal sealed class StripTones
{
    private const double PaperMm = 10;
    private const int PaperRows = 3;
    private const int ApartColumns = 4;

    /// <summary>Median amount of the difference of two normal variables, in standard deviations of one.</summary>
    private const double MedianDifference = 0.954;

    private readonly EdgeStrip _strip;
    private readonly float[,,] _tone;
    private readonly double[,,] _sum;

    public StripTones(EdgeStrip strip)
    {
        _strip = strip;
        int half = (int)(PaperMm / strip.StepMm);
        _tone = new float[strip.Columns, strip.Rows, 3];
        _sum = new double[strip.Columns + 1, strip.Rows, 3];
        double[] paper = new double[3];
        for (int i = 0; i < strip.Columns; i++)
        {
            (int from, int to) = (Math.Max(0, i - half), Math.Min(strip.Columns - 1, i + half));
            for (int c = 0; c < 3; c++)
                paper[c] = Math.Max(1e-4, Enumerable.Range(0, PaperRows).Average(k => strip.Mean(from, to, k, c)));
            for (int k = 0; k < strip.Rows; k++)
            {
                (double b, double g, double r) = (strip[i, k, 0] / paper[0], strip[i, k, 1] / paper[1], strip[i, k, 2] / paper[2]);
                (_tone[i, k, 0], _tone[i, k, 1], _tone[i, k, 2]) = ((float)((b + g + r) / 3), (float)((r - b) / 2), (float)(((2 * g) - r - b) / 4));
                for (int c = 0; c < 3; c++)
                    _sum[i + 1, k, c] = _sum[i, k, c] + _tone[i, k, c];
            }
        }
    }

    public float this[int column, int row, int tone] => _tone[column, row, tone];

    /// <summary>Mean of a row over columns, both ends in.</summary>
    public double Mean(int from, int to, int row, int tone) => (_sum[to + 1, row, tone] - _sum[from, row, tone]) / (to - from + 1);

    /// <summary>The photo's own noise, a variance: how neighbouring columns on the paper differ.</summary>
    public double Noise(int tone)
    {
        double[] apart = [.. Enumerable.Range(1, Math.Max(0, (_strip.Columns - 1) / ApartColumns)).Select(i => (double)Math.Abs(_tone[i * ApartColumns, 1, tone] - _tone[(i - 1) * ApartColumns, 1, tone])).Order()];
        double sigma = apart.Length == 0 ? 0 : apart[apart.Length / 2] / MedianDifference;
        return sigma * sigma;
    }
}
