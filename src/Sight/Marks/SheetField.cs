using System.Buffers;
using OpenCvSharp;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Marks;

/// <summary>
/// The photo drawn onto a grid of sheet millimetres (as drawn), its tone curve undone (sRGB, IEC 61966-2-1), one plane per colour,
/// 0 to 1. Fiducials, and what lies outside the photo, are masked.
/// </summary>
internal sealed class SheetField
{
    /// <summary>Grid step, mm. Chosen: about the pixel of a small phone photo.</summary>
    public const double StepMm = 0.25;

    /// <summary>The map is worked out at every eighth column and interpolated: over 2 mm it bends by less than a hundredth of a pixel.</summary>
    private const int Stride = 8;

    private static readonly float[] s_linear = [.. Enumerable.Range(0, 256).Select(i => (float)SrgbCurve.ToLight(i / 255.0))];

    private SheetField(double fromX, double fromY, int width, int height)
    {
        (FromX, FromY, Width, Height) = (fromX, fromY, width, height);
        Blue = GC.AllocateUninitializedArray<float>(width * height);
        Green = GC.AllocateUninitializedArray<float>(width * height);
        Red = GC.AllocateUninitializedArray<float>(width * height);
        Code = GC.AllocateUninitializedArray<byte>(width * height);
        Masked = new bool[width * height];
    }

    public double FromX { get; }

    public double FromY { get; }

    public int Width { get; }

    public int Height { get; }

    public float[] Red { get; }

    public float[] Green { get; }

    public float[] Blue { get; }

    /// <summary>The largest of the three channels as coded in the photo, 0 to 255: what is clipped.</summary>
    public byte[] Code { get; }

    public bool[] Masked { get; }

    public double X(double column) => FromX + (column * StepMm);

    public double Y(double row) => FromY + (row * StepMm);

    public double Column(double xMm) => (xMm - FromX) / StepMm;

    public double Row(double yMm) => (yMm - FromY) / StepMm;

    public float[] Plane(LaserColour colour) => colour == LaserColour.Red ? Red : Green;

    /// <summary>Draws the band of the sheet around the reading row.</summary>
    public static SheetField From(Picture picture, LensMap map, TargetSheet target)
    {
        double half = Math.Max(target.SpotFieldMm.BottomMm - target.ZeroMm.Y, target.ZeroMm.Y - target.SpotFieldMm.TopMm) + 15;
        double fromY = Math.Max(2, target.ZeroMm.Y - half);
        double toY = Math.Min(target.SizeMm.Y - 2, target.ZeroMm.Y + half);
        const double fromX = 2;
        double toX = target.SizeMm.X - 2;
        var field = new SheetField(fromX, fromY, (int)((toX - fromX) / StepMm), (int)((toY - fromY) / StepMm));
        double pxPerMm = map.PixelsPerMm(target.ZeroMm);
        field.Draw(picture, pxPerMm, map.ToPhoto);
        field.MaskFiducials(target);
        return field;
    }

    /// <summary>Draws a strip along some path of the photo; the path is given as strip millimetres → photo pixels.</summary>
    public static SheetField Strip(Picture picture, Func<Point2, Point2> toPhoto, double widthMm, double heightMm, double pxPerMm)
    {
        var field = new SheetField(0, 0, (int)(widthMm / StepMm), (int)(heightMm / StepMm));
        field.Draw(picture, pxPerMm, toPhoto);
        return field;
    }

    private void Draw(Picture picture, double pxPerMm, Func<Point2, Point2> toPhoto)
    {
        int reduce = Math.Max(1, (int)Math.Round(pxPerMm * StepMm));
        using Mat source = picture.Reduced(reduce);
        float[] mapX = ArrayPool<float>.Shared.Rent(Width * Height);
        float[] mapY = ArrayPool<float>.Shared.Rent(Width * Height);
        double scale = 1.0 / reduce;
        (float mostX, float mostY) = (source.Width - 2, source.Height - 2);
        Parallel.For(0, Height, row =>
        {
            Span<float> xs = mapX.AsSpan(row * Width, Width);
            Span<float> ys = mapY.AsSpan(row * Width, Width);
            MapRow(row, scale, toPhoto, xs, ys);
            Span<bool> masked = Masked.AsSpan(row * Width, Width);
            for (int i = 0; i < masked.Length; i++)
                masked[i] = xs[i] < 1 || ys[i] < 1 || xs[i] > mostX || ys[i] > mostY;
        });
        using Mat mx = Mat.FromPixelData(Height, Width, MatType.CV_32FC1, mapX);
        using Mat my = Mat.FromPixelData(Height, Width, MatType.CV_32FC1, mapY);
        using Mat drawn = new();
        Cv2.Remap(source, drawn, mx, my, InterpolationFlags.Linear, BorderTypes.Replicate);
        ArrayPool<float>.Shared.Return(mapX);
        ArrayPool<float>.Shared.Return(mapY);
        Parallel.For(0, Height, row => Develop(drawn.RowSpan<Vec3b>(row), row * Width));
    }

    private void MapRow(int row, double scale, Func<Point2, Point2> toPhoto, Span<float> xs, Span<float> ys)
    {
        Point2 b = toPhoto(new(X(0), Y(row)));
        for (int column = 0; column < xs.Length; column += Stride)
        {
            Point2 a = b;
            b = toPhoto(new(X(column + Stride), Y(row)));
            double startX = ((a.X + 0.5) * scale) - 0.5;
            double startY = ((a.Y + 0.5) * scale) - 0.5;
            double stepX = (b.X - a.X) * scale / Stride;
            double stepY = (b.Y - a.Y) * scale / Stride;
            int end = Math.Min(Stride, xs.Length - column);
            for (int k = 0; k < end; k++)
            {
                xs[column + k] = (float)(startX + (k * stepX));
                ys[column + k] = (float)(startY + (k * stepY));
            }
        }
    }

    /// <summary>Coded pixels of one row to light.</summary>
    private void Develop(ReadOnlySpan<Vec3b> pixels, int at)
    {
        ReadOnlySpan<float> linear = s_linear;
        Span<float> blue = Blue.AsSpan(at, pixels.Length);
        Span<float> green = Green.AsSpan(at, pixels.Length);
        Span<float> red = Red.AsSpan(at, pixels.Length);
        Span<byte> code = Code.AsSpan(at, pixels.Length);
        for (int i = 0; i < pixels.Length; i++)
        {
            Vec3b p = pixels[i];
            blue[i] = linear[p.Item0];
            green[i] = linear[p.Item1];
            red[i] = linear[p.Item2];
            code[i] = Math.Max(p.Item0, Math.Max(p.Item1, p.Item2));
        }
    }

    private void MaskFiducials(TargetSheet target)
    {
        const double quiet = 2.5;
        foreach (SheetFiducial f in target.Fiducials)
        {
            int left = (int)Column(f.CornersMm.Min(c => c.X) - quiet);
            int right = (int)Column(f.CornersMm.Max(c => c.X) + quiet);
            int top = (int)Row(f.CornersMm.Min(c => c.Y) - quiet);
            int bottom = (int)Row(f.CornersMm.Max(c => c.Y) + quiet);
            for (int row = Math.Max(0, top); row <= Math.Min(Height - 1, bottom); row++)
            {
                for (int column = Math.Max(0, left); column <= Math.Min(Width - 1, right); column++)
                    Masked[(row * Width) + column] = true;
            }
        }
    }
}
