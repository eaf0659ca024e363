using OpenCvSharp;
using Whetwright.Darkroom.Chance;

namespace Whetwright.Darkroom.Cameras;

/// <summary>How lens and sensor treat the light; blurs in pixels of the picture at hand.</summary>
public sealed record FilmSettings
{
    public required double DefocusPx { get; init; }

    public required double MotionPx { get; init; }

    public required double MotionRad { get; init; }

    public double BloomNear { get; init; }

    public double BloomFar { get; init; }

    public double BloomNearPx { get; init; }

    public double BloomFarPx { get; init; }

    public double Vignetting { get; init; }

    public double FocalPx { get; init; }

    public required double Gain { get; init; }

    public required double Denoise { get; init; }

    public required double Sharpen { get; init; }

    public required double Contrast { get; init; }

    public required int NoiseSeed { get; init; }

    /// <summary>Electrons that fill the well at gain 1, and noise of the read-out.</summary>
    public double FullWell { get; init; } = 6000;

    public double ReadNoise { get; init; } = 2.5;
}

/// <summary>From light to an 8-bit picture: blur, bloom, vignetting, noise, saturation, denoising, sharpening, tone curve.</summary>
public static class Film
{
    private static readonly float[] Normals = MakeNormals();

    /// <summary>Develops a picture; blue, green, red, 8 bits. The caller disposes it.</summary>
    public static Mat Develop(Picture picture, FilmSettings settings)
    {
        using Mat light = Mat.FromPixelData(picture.Height, picture.Width, MatType.CV_32FC3, picture.Rgb);
        using Mat blurred = Blur(light, settings);
        Bloom(blurred, settings);
        Expose(blurred, settings);
        using Mat smooth = new();
        Cv2.GaussianBlur(blurred, smooth, new(0, 0), 0.55 + (0.75 * settings.Denoise));
        Cv2.AddWeighted(blurred, 1 - (0.8 * settings.Denoise), smooth, 0.8 * settings.Denoise, 0, blurred);
        if (settings.Sharpen > 0)
        {
            Cv2.GaussianBlur(blurred, smooth, new(0, 0), 1.3);
            Cv2.AddWeighted(blurred, 1 + settings.Sharpen, smooth, -settings.Sharpen, 0, blurred);
        }

        return Tone(blurred, settings.Contrast);
    }

    private static Mat Blur(Mat light, FilmSettings settings)
    {
        Mat result = light.Clone();
        if (settings.DefocusPx > 0.05)
            Cv2.GaussianBlur(result, result, new(0, 0), settings.DefocusPx);
        if (settings.MotionPx > 0.2)
        {
            int half = (int)Math.Ceiling(settings.MotionPx / 2) + 1;
            int size = (2 * half) + 1;
            var weights = new float[size * size];
            const int steps = 400;
            for (int i = 0; i < steps; i++)
            {
                double s = (((i + 0.5) / steps) - 0.5) * settings.MotionPx;
                double x = half + (s * Math.Cos(settings.MotionRad));
                double y = half + (s * Math.Sin(settings.MotionRad));
                int column = (int)x;
                int row = (int)y;
                double fx = x - column;
                double fy = y - row;
                weights[(row * size) + column] += (float)((1 - fx) * (1 - fy) / steps);
                weights[(row * size) + column + 1] += (float)(fx * (1 - fy) / steps);
                weights[((row + 1) * size) + column] += (float)((1 - fx) * fy / steps);
                weights[((row + 1) * size) + column + 1] += (float)(fx * fy / steps);
            }

            using Mat kernel = Mat.FromPixelData(size, size, MatType.CV_32FC1, weights);
            Cv2.Filter2D(result, result, -1, kernel, borderType: BorderTypes.Replicate);
        }

        return result;
    }

    private static void Bloom(Mat light, FilmSettings settings)
    {
        if (settings.BloomNear + settings.BloomFar <= 0)
            return;
        using Mat near = Wide(light, settings.BloomNearPx);
        using Mat far = Wide(light, settings.BloomFarPx);
        Cv2.AddWeighted(light, 1 - settings.BloomNear - settings.BloomFar, near, settings.BloomNear, 0, light);
        Cv2.AddWeighted(light, 1, far, settings.BloomFar, 0, light);
    }

    private static Mat Wide(Mat light, double sigmaPx)
    {
        double factor = Math.Clamp(sigmaPx / 4, 1, 24);
        using Mat small = new();
        Cv2.Resize(light, small, new((int)Math.Max(8, light.Width / factor), (int)Math.Max(8, light.Height / factor)), 0, 0, InterpolationFlags.Area);
        Cv2.GaussianBlur(small, small, new(0, 0), sigmaPx * small.Width / light.Width, borderType: BorderTypes.Replicate);
        Mat result = new();
        Cv2.Resize(small, result, light.Size(), 0, 0, InterpolationFlags.Cubic);
        return result;
    }

    private static unsafe void Expose(Mat light, FilmSettings settings)
    {
        float electrons = (float)(settings.FullWell / settings.Gain);
        float read2 = (float)(settings.ReadNoise * settings.ReadNoise);
        int width = light.Width;
        int height = light.Height;
        var data = (float*)light.Data;
        double focal2 = settings.FocalPx * settings.FocalPx;
        Parallel.For(0, height, row =>
        {
            Dice dice = new(unchecked((settings.NoiseSeed * 8191) + row), "noise");
            ulong bits = 0;
            int left = 0;
            float* at = data + ((long)row * width * 3);
            for (int column = 0; column < width; column++)
            {
                double dx = column - (width / 2.0);
                double dy = row - (height / 2.0);
                double cos2 = focal2 > 0 ? focal2 / (focal2 + (dx * dx) + (dy * dy)) : 1;
                float fall = (float)(1 - (settings.Vignetting * (1 - (cos2 * cos2))));
                for (int channel = 0; channel < 3; channel++, at++)
                {
                    if (left == 0)
                        (bits, left) = (dice.Bits(), 4);
                    float value = Math.Max(0, *at * fall);
                    float count = Math.Min(value * electrons, electrons * 4);
                    count += MathF.Sqrt(count + read2) * Normals[bits & 0xFFFF];
                    bits >>= 16;
                    left--;
                    *at = Math.Clamp(count / electrons, 0, 1);
                }
            }
        });
    }

    private static unsafe Mat Tone(Mat light, double contrast)
    {
        const int size = 4096;
        var table = new byte[size + 1];
        for (int i = 0; i <= size; i++)
        {
            double v = (double)i / size;
            double g = v <= 0.0031308 ? 12.92 * v : (1.055 * Math.Pow(v, 1 / 2.4)) - 0.055; // sRGB transfer curve, IEC 61966-2-1 (from memory)
            double s = g * g * (3 - (2 * g));
            table[i] = (byte)Math.Round(255 * (((1 - contrast) * g) + (contrast * s)));
        }

        Mat result = new(light.Rows, light.Cols, MatType.CV_8UC3);
        var from = (float*)light.Data;
        var to = (byte*)result.Data;
        long pixels = (long)light.Rows * light.Cols;
        for (long i = 0; i < pixels; i++)
        {
            for (int channel = 0; channel < 3; channel++)
                to[(i * 3) + 2 - channel] = table[(int)(Math.Clamp(from[(i * 3) + channel], 0, 1) * size)];
        }

        return result;
    }

    private static float[] MakeNormals()
    {
        var normals = new float[65536];
        for (int i = 0; i < normals.Length; i++)
            normals[i] = (float)Lattice.NormalQuantile((i + 0.5) / normals.Length);
        return normals;
    }
}
