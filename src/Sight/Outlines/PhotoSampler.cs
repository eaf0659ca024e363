using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Outlines;

/// <summary>Reads a photo between its pixels: bilinear, the sRGB curve undone (IEC 61966-2-1), three channels, 0 to 1. Holds a part of the photo.</summary>
internal sealed class PhotoSampler
{
    private static readonly float[] s_linear = [.. Enumerable.Range(0, 256).Select(i => (float)SrgbCurve.ToLight(i / 255.0))];

    private readonly Vec3b[] _pixels;
    private readonly int _x0;
    private readonly int _y0;
    private readonly int _width;
    private readonly int _height;

    private PhotoSampler(Vec3b[] pixels, int x0, int y0, int width, int height) =>
        (_pixels, _x0, _y0, _width, _height) = (pixels, x0, y0, width, height);

    /// <summary>The part of the photo around some points, with a margin.</summary>
    public static PhotoSampler Around(Picture picture, IEnumerable<Point2> pointsPx, double marginPx)
    {
        (double x0, double y0, double x1, double y1) = (double.MaxValue, double.MaxValue, double.MinValue, double.MinValue);
        foreach (Point2 p in pointsPx)
            (x0, y0, x1, y1) = (Math.Min(x0, p.X), Math.Min(y0, p.Y), Math.Max(x1, p.X), Math.Max(y1, p.Y));
        int left = (int)Math.Clamp(x0 - marginPx, 0, picture.WidthPx - 2);
        int top = (int)Math.Clamp(y0 - marginPx, 0, picture.HeightPx - 2);
        int right = (int)Math.Clamp(x1 + marginPx, left + 2, picture.WidthPx);
        int bottom = (int)Math.Clamp(y1 + marginPx, top + 2, picture.HeightPx);
        using Mat part = new Mat(picture.Bgr, new Rect(left, top, right - left, bottom - top)).Clone();
        part.GetArray(out Vec3b[] pixels);
        return new(pixels, left, top, right - left, bottom - top);
    }

    /// <summary>Lines ruled on the mat around what is looked at, where they are known.</summary>
    public RuledInk? Ink { get; private init; }

    /// <summary>The same photo, lines ruled on the mat known.</summary>
    public PhotoSampler With(RuledInk? ink) => new(_pixels, _x0, _y0, _width, _height) { Ink = ink };

    /// <summary>Whether the place lies in the held part.</summary>
    public bool Holds(Point2 px) => px.X >= _x0 && px.Y >= _y0 && px.X < _x0 + _width - 1 && px.Y < _y0 + _height - 1;

    /// <summary>Linear light at a place, clamped to the held part.</summary>
    public (float B, float G, float R) At(Point2 px)
    {
        (int at, double right, double down) = Cell(px);
        (float a, float b) = ((float)right, (float)down);
        Vec3b p00 = _pixels[at];
        Vec3b p10 = _pixels[at + 1];
        Vec3b p01 = _pixels[at + _width];
        Vec3b p11 = _pixels[at + _width + 1];
        float w00 = (1 - a) * (1 - b);
        float w10 = a * (1 - b);
        float w01 = (1 - a) * b;
        float w11 = a * b;
        return (
            (w00 * s_linear[p00.Item0]) + (w10 * s_linear[p10.Item0]) + (w01 * s_linear[p01.Item0]) + (w11 * s_linear[p11.Item0]),
            (w00 * s_linear[p00.Item1]) + (w10 * s_linear[p10.Item1]) + (w01 * s_linear[p01.Item1]) + (w11 * s_linear[p11.Item1]),
            (w00 * s_linear[p00.Item2]) + (w10 * s_linear[p10.Item2]) + (w01 * s_linear[p01.Item2]) + (w11 * s_linear[p11.Item2]));
    }

    /// <summary>The same, the three channels' mean.</summary>
    public double LightAt(Point2 px)
    {
        (double blue, double green, double red) = At(px);
        return (blue + green + red) / 3;
    }

    /// <summary>The same by cubic convolution (Keys 1981, a = −1/2), which blurs a step less and errs less beside it.</summary>
    public double SharpLightAt(Point2 px)
    {
        double x = Math.Clamp(px.X - _x0, 1, _width - 2.001);
        double y = Math.Clamp(px.Y - _y0, 1, _height - 2.001);
        (int column, int row) = ((int)x, (int)y);
        Span<double> across = stackalloc double[4];
        Span<double> down = stackalloc double[4];
        Keys(x - column, across);
        Keys(y - row, down);
        double sum = 0;
        for (int j = 0; j < 4; j++)
        {
            int at = ((row - 1 + j) * _width) + column - 1;
            double line = 0;
            for (int i = 0; i < 4; i++)
            {
                Vec3b p = _pixels[at + i];
                line += across[i] * (s_linear[p.Item0] + s_linear[p.Item1] + s_linear[p.Item2]);
            }

            sum += down[j] * line;
        }

        return sum / 3;
    }

    private static void Keys(double t, Span<double> w)
    {
        w[0] = ((-0.5 * t + 1) * t - 0.5) * t;
        w[1] = (((1.5 * t) - 2.5) * t * t) + 1;
        w[2] = (((-1.5 * t + 2) * t) + 0.5) * t;
        w[3] = ((0.5 * t) - 0.5) * t * t;
    }

    /// <summary>How much of what is read at a place comes from pixels of which a channel is brighter than a limit.</summary>
    public double ShareAbove(Point2 px, double limit)
    {
        (int at, double a, double b) = Cell(px);
        double Above(int k) => Math.Max(s_linear[_pixels[k].Item0], Math.Max(s_linear[_pixels[k].Item1], s_linear[_pixels[k].Item2])) > limit ? 1 : 0;
        return ((1 - b) * (((1 - a) * Above(at)) + (a * Above(at + 1)))) + (b * (((1 - a) * Above(at + _width)) + (a * Above(at + _width + 1))));
    }

    // The pixel above and left of a place, and how far the place lies to its right and below.
    private (int At, double Right, double Down) Cell(Point2 px)
    {
        double x = Math.Clamp(px.X - _x0, 0, _width - 1.001);
        double y = Math.Clamp(px.Y - _y0, 0, _height - 1.001);
        return (((int)y * _width) + (int)x, x - (int)x, y - (int)y);
    }
}
