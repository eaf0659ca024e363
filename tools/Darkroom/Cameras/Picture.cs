namespace Whetwright.Darkroom.Cameras;

/// <summary>A picture in linear light: red, green, blue interleaved, row by row.</summary>
public sealed class Picture(int width, int height)
{
    public int Width { get; } = width;

    public int Height { get; } = height;

    /// <summary>Red, green and blue of every pixel.</summary>
    public float[] Rgb { get; } = new float[width * height * 3];
}
