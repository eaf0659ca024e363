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
    private readonly Lazy<Mat> _half;

    private Picture(Mat bgr)
    {
        _bgr = bgr;
        _half = new(() => Shrunk(bgr, 2));
    }

    /// <summary>Width in pixels.</summary>
    public int WidthPx => _bgr.Width;

    /// <summary>Height in pixels.</summary>
    public int HeightPx => _bgr.Height;

    /// <summary>The camera's focal length as 35 mm equivalent, mm, as the file itself says (EXIF); null where it does not, or was cropped since.</summary>
    public double? Focal35Mm { get; private init; }

    internal Mat Bgr => _bgr;

    /// <summary>At half size, worked out once: both the search for the sheet and the light on it start from here.</summary>
    internal Mat Half => _half.Value;

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
            var picture = new Picture(mat) { Focal35Mm = ExifFocal.Of(bytes, mat.Width, mat.Height) };
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

    /// <summary>A part of the picture as a JPEG, no wider than asked; what lies outside is left off.</summary>
    /// <param name="x">Left, px.</param>
    /// <param name="y">Top, px.</param>
    /// <param name="width">Width, px.</param>
    /// <param name="height">Height, px.</param>
    /// <param name="widestPx">Widest that the JPEG may be.</param>
    /// <exception cref="ArgumentOutOfRangeException">Nothing of the picture lies in there.</exception>
    public byte[] CutToJpeg(int x, int y, int width, int height, int widestPx)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(widestPx);
        int left = Math.Clamp(x, 0, WidthPx), top = Math.Clamp(y, 0, HeightPx);
        int right = (int)Math.Clamp((long)x + width, 0, WidthPx), bottom = (int)Math.Clamp((long)y + height, 0, HeightPx);
        if (right <= left || bottom <= top)
            throw new ArgumentOutOfRangeException(nameof(x), x, "Nothing of the picture lies in the part asked for.");
        using Mat part = new(_bgr, new Rect(left, top, right - left, bottom - top));
        if (part.Width <= widestPx)
            return part.ImEncode(".jpg", new ImageEncodingParam(ImwriteFlags.JpegQuality, 88));
        using Mat small = new();
        Cv2.Resize(part, small, new Size(widestPx, Math.Max(1, (int)Math.Round((double)part.Height * widestPx / part.Width))), 0, 0, InterpolationFlags.Area);
        return small.ImEncode(".jpg", new ImageEncodingParam(ImwriteFlags.JpegQuality, 88));
    }

    /// <inheritdoc />
    public void Dispose()
    {
        if (_half.IsValueCreated)
            _half.Value.Dispose();
        _bgr.Dispose();
    }

    /// <summary>
    /// The picture with every n × n pixels made one by their mean; pixels left over at the right and bottom are dropped, so that the scale is
    /// exactly 1/n. The caller owns the result; it may share pixels with this picture.
    /// </summary>
    internal Mat Reduced(int n) => n % 2 == 0 ? Shrunk(Half, n / 2) : Shrunk(_bgr, n);

    internal static Picture Own(Mat bgr) => new(bgr);

    private static Mat Shrunk(Mat from, int n)
    {
        Size size = new(from.Width / n, from.Height / n);
        if (size.Width == 0 || size.Height == 0)
            throw Damaged();
        var whole = new Mat(from, new Rect(0, 0, size.Width * n, size.Height * n));
        if (n == 1)
            return whole;
        using (whole)
        {
            var shrunk = new Mat();
            Cv2.Resize(whole, shrunk, size, 0, 0, InterpolationFlags.Area);
            return shrunk;
        }
    }

    private static PictureRefusedException Damaged() =>
        new(new Reason("picture-damaged", "The picture cannot be decoded. Copy the photo again from the phone."));
}
