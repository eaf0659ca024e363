using OpenCvSharp;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Pictures;

/// <summary>
/// A decoded photograph. Pixels as the sensor wrote them: the EXIF orientation is ignored on purpose, fiducials tell which way is up.
/// Pixel centres lie at whole numbers, x right, y down. Owns native memory; dispose it.
/// </summary>
public sealed class Picture : IDisposable
{
    private readonly Mat _bgr;

    private Picture(Mat bgr) => _bgr = bgr;

    /// <summary>Width in pixels.</summary>
    public int WidthPx => _bgr.Width;

    /// <summary>Height in pixels.</summary>
    public int HeightPx => _bgr.Height;

    internal Mat Bgr => _bgr;

    /// <summary>Decodes a JPEG or PNG within limits.</summary>
    /// <exception cref="PictureRefusedException">Not a picture that can be read; the reason says what to do.</exception>
    public static Picture Decode(ReadOnlySpan<byte> bytes, PictureLimits? limits = null)
    {
        _ = PictureHeader.Check(bytes, limits ?? new PictureLimits());
        Mat? mat = null;
        try
        {
            mat = Mat.ImDecode(bytes, ImreadModes.Color | ImreadModes.IgnoreOrientation);
            if (mat.Empty())
                throw Damaged();
            var picture = new Picture(mat);
            mat = null;
            return picture;
        }
        catch (OpenCVException)
        {
            throw Damaged();
        }
        finally
        {
            mat?.Dispose();
        }
    }

    /// <summary>Reads and decodes a file within limits; the size is checked before the file is read.</summary>
    /// <exception cref="PictureRefusedException">Not a picture that can be read.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static Picture Read(string path, PictureLimits? limits = null)
    {
        limits ??= new PictureLimits();
        var file = new FileInfo(path);
        if (file.Exists && file.Length > limits.MaxBytes)
            throw new PictureRefusedException(new Reason("picture-too-large", $"The file has {file.Length} bytes; at most {limits.MaxBytes} are read. Take the photo at a normal resolution."));
        return Decode(File.ReadAllBytes(path), limits);
    }

    /// <summary>The picture as a PNG file.</summary>
    public byte[] ToPng() => _bgr.ImEncode(".png");

    /// <inheritdoc />
    public void Dispose() => _bgr.Dispose();

    internal static Picture Own(Mat bgr) => new(bgr);

    private static PictureRefusedException Damaged() =>
        new(new Reason("picture-damaged", "The picture cannot be decoded. Copy the photo again from the phone."));
}
