using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>The light across the printed borders of the fiducials, from black to white: 0 to 1, the half at 0 px; the median over all sides that show it plainly.</summary>
internal static class BorderProfile
{
    private const double StepPx = 0.25;

    /// <summary>The profile's half length, samples.</summary>
    private const int Half = 24;

    /// <summary>So far to either side a border is looked at, px; black and white are measured at the ends.</summary>
    private const double ReachPx = 7;

    /// <summary>Black within the border is a sixth of a fiducial broad; it must show its tone. Chosen.</summary>
    private const double LeastModulePx = 7.5;

    /// <summary>Fewer places across borders do not average out noise and print. Chosen.</summary>
    private const int Fewest = 60;

    /// <summary>Codes: a step smaller than this is not plain, and beside paper brighter than this the bright line is cut off. Chosen.</summary>
    private const double LeastStep = 0.2, BrightestCode = 0.93;

    /// <summary>Where along the profile a sample lies, px; outward, on the white, positive.</summary>
    public static double AtPx(int sample) => (sample - Half) * StepPx;

    /// <summary>The profile; null where too few borders show one.</summary>
    /// <param name="pixels">The photo.</param>
    /// <param name="width">Its width, px.</param>
    /// <param name="height">Its height, px.</param>
    /// <param name="sheet">The sheet found in it.</param>
    /// <param name="ofCodes">Whether codes are averaged, or the light they stand for.</param>
    public static double[]? Of(Vec3b[] pixels, int width, int height, FoundSheet sheet, bool ofCodes)
    {
        double[] value = [.. Enumerable.Range(0, 256).Select(i => ofCodes ? i / 255.0 : SrgbCurve.ToLight(i / 255.0))];
        var samples = new List<double>[(2 * Half) + 1];
        for (int i = 0; i < samples.Length; i++)
            samples[i] = [];
        foreach ((Point2 at, Vector2 outward) in Places(sheet))
        {
            if (Across(pixels, value, width, height, at, outward) is not { } v)
                continue;
            double low = v.Take(4).Average();
            double high = v.TakeLast(4).Average();
            if ((ofCodes ? high : SrgbCurve.ToCode(high)) > BrightestCode || (ofCodes ? high - low : SrgbCurve.ToCode(high) - SrgbCurve.ToCode(low)) < LeastStep || Zero(v, (low + high) / 2) is not { } zero)
                continue;
            for (int i = 0; i < samples.Length; i++)
                samples[i].Add((Between(v, zero + i - Half) - low) / (high - low));
        }

        return samples[0].Count < Fewest ? null : [.. samples.Select(s => s.Order().ElementAt(s.Count / 2))];
    }

    private static IEnumerable<(Point2 At, Vector2 Outward)> Places(FoundSheet sheet)
    {
        foreach (SeenFiducial fiducial in sheet.Fiducials)
        {
            for (int side = 0; side < 4; side++)
            {
                Point2 a = fiducial.CornersPx[side];
                Point2 b = fiducial.CornersPx[(side + 1) % 4];
                if (a.DistanceTo(b) / 6 < LeastModulePx)
                    continue;
                Vector2 along = (b - a).Normalized();
                for (double share = 0.2; share < 0.81; share += 0.05)
                    yield return (a + ((b - a) * share), new(along.Y, -along.X));
            }
        }
    }

    // Green across a border, a quarter of a pixel apart; null where the photo ends.
    private static double[]? Across(Vec3b[] pixels, double[] value, int width, int height, Point2 at, Vector2 outward)
    {
        int n = (int)(ReachPx / StepPx);
        double[] v = new double[(2 * n) + 1];
        for (int i = 0; i < v.Length; i++)
        {
            Point2 p = at + (outward * ((i - n) * StepPx));
            if (p.X < 0 || p.Y < 0 || p.X >= width - 1 || p.Y >= height - 1)
                return null;
            int k = ((int)p.Y * width) + (int)p.X;
            (double x, double y) = (p.X - (int)p.X, p.Y - (int)p.Y);
            v[i] = ((1 - y) * (((1 - x) * value[pixels[k].Item1]) + (x * value[pixels[k + 1].Item1]))) + (y * (((1 - x) * value[pixels[k + width].Item1]) + (x * value[pixels[k + width + 1].Item1])));
        }

        return v;
    }

    // Where the run rises through a level, nearest to its middle, in samples; null where the profile around it would reach beyond the run.
    private static double? Zero(double[] v, double level)
    {
        double best = double.NaN;
        for (int i = 0; i + 1 < v.Length; i++)
        {
            if (v[i] < level && v[i + 1] >= level && !(Math.Abs(i - (v.Length / 2)) >= Math.Abs(best - (v.Length / 2))))
                best = i + ((level - v[i]) / (v[i + 1] - v[i]));
        }

        return best - Half >= 0 && best + Half < v.Length - 1 ? best : null;
    }

    private static double Between(double[] v, double at)
    {
        int i = (int)at;
        return ((1 - (at - i)) * v[i]) + ((at - i) * v[i + 1]);
    }
}
