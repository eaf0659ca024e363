using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>The photo laid straight along a smooth edge: columns along it, rows across it from the mat inward, linear light in three channels.</summary>
internal sealed class EdgeStrip
{
    /// <summary>The outermost row, outside the line.</summary>
    public const double FromMm = -1.6;

    private const double ToMm = 4.4;

    /// <summary>Finer than this nothing more is seen of notches that count. Chosen.</summary>
    private const double FinestMm = 0.1;

    /// <summary>So many standard deviations of the blur behind the line no paper is seen, and no ink.</summary>
    private const double HiddenBlurs = 2.5;

    private readonly float[,,] _light;
    private readonly double[,,] _sum;
    private readonly double[,,] _squares;

    /// <summary>From what is seen at a place along the edge and a depth behind it (negative: before it).</summary>
    public EdgeStrip(double lengthMm, double stepMm, Func<double, double, (float B, float G, float R)> at)
    {
        (StepMm, PixelMm) = (stepMm, stepMm);
        Columns = (int)(lengthMm / stepMm);
        Rows = (int)((ToMm - FromMm) / stepMm) + 1;
        _light = new float[Columns, Rows, 3];
        _sum = new double[Columns + 1, Rows, 3];
        _squares = new double[Columns + 1, Rows, 3];
        for (int i = 0; i < Columns; i++)
        {
            for (int k = 0; k < Rows; k++)
            {
                (_light[i, k, 0], _light[i, k, 1], _light[i, k, 2]) = at(i * stepMm, DepthOf(k));
                for (int c = 0; c < 3; c++)
                {
                    double v = _light[i, k, c];
                    _sum[i + 1, k, c] = _sum[i, k, c] + v;
                    _squares[i + 1, k, c] = _squares[i, k, c] + (v * v);
                }
            }
        }
    }

    public double StepMm { get; }

    /// <summary>Size of the photo's pixels there, mm; a step where nothing else is told.</summary>
    public double PixelMm { get; init; }

    public int Columns { get; }

    public int Rows { get; }

    public double LengthMm => Columns * StepMm;

    /// <summary>Light of a channel (blue, green, red) in a column and row.</summary>
    public float this[int column, int row, int channel] => _light[column, row, channel];

    /// <summary>Along the stations of a line, which count as spaced evenly by <paramref name="ds"/>; the ink of lines ruled on the mat taken out where paper is seen.</summary>
    /// <param name="sampler">The photo.</param>
    /// <param name="map">Mat to photo.</param>
    /// <param name="line">The line.</param>
    /// <param name="inward">Normals toward the steel.</param>
    /// <param name="ds">Spacing of the stations, mm.</param>
    /// <param name="pxMm">Size of a pixel.</param>
    /// <param name="blurMm">Standard deviation of the photo's blur.</param>
    public static EdgeStrip Along(PhotoSampler sampler, LensMap map, Point2[] line, Vector2[] inward, double ds, double pxMm, double blurMm)
    {
        RuledInk? ink = sampler.Ink?.Near([.. line.Select((p, i) => p + (inward[i] * FromMm)), .. line.Select((p, i) => p + (inward[i] * (HiddenBlurs * blurMm)))]);
        return new((line.Length - 1) * ds, Math.Max(0.5 * pxMm, FinestMm), (along, depth) =>
        {
            double at = along / ds;
            int i = Math.Min((int)at, line.Length - 2);
            double t = at - i;
            Vector2 normal = (inward[i] * (1 - t)) + (inward[i + 1] * t);
            Point2 place = line[i] + ((line[i + 1] - line[i]) * t) + (normal * depth);
            (float b, float g, float r) = sampler.At(map.ToPhoto(place));
            if (ink is null || depth > HiddenBlurs * blurMm)
                return (b, g, r);
            float kept = (float)(1 - (ink.At(place) * BlurredStep.Phi(-depth / blurMm)));
            return (Whole(b, kept), Whole(g, kept), Whole(r, kept));
        })
        {
            PixelMm = pxMm,
        };
    }

    // Light as it were without ink; never more than a photo can hold, for overexposed paper hides its ink.
    private static float Whole(float light, float kept) => Math.Min(light / kept, 1);

    /// <summary>Depth of a row behind the line, mm.</summary>
    public double DepthOf(int row) => FromMm + (row * StepMm);

    /// <summary>Mean of a row over columns, both ends in.</summary>
    public double Mean(int from, int to, int row, int channel) => (_sum[to + 1, row, channel] - _sum[from, row, channel]) / (to - from + 1);

    /// <summary>Variance about that mean.</summary>
    public double Variance(int from, int to, int row, int channel)
    {
        double mean = Mean(from, to, row, channel);
        return Math.Max(0, ((_squares[to + 1, row, channel] - _squares[from, row, channel]) / (to - from + 1)) - (mean * mean));
    }
}
