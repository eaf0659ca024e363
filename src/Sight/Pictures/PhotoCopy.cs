using OpenCvSharp;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Pictures;

/// <summary>Small copies of photographs for people to look at: upright, unlike <see cref="Picture"/>, which keeps what the sensor wrote.</summary>
public static class PhotoCopy
{
    /// <summary>A JPEG no wider or higher than asked, turned as the camera was held; the original's data about place and camera stay behind.</summary>
    /// <param name="bytes">A JPEG or PNG within limits.</param>
    /// <param name="largestPx">Longer side at most.</param>
    /// <param name="limits">Limits; null for the usual.</param>
    /// <exception cref="PictureRefusedException">Not a picture that can be read; the reason says what to do.</exception>
    public static byte[] Reduce(ReadOnlySpan<byte> bytes, int largestPx, PictureLimits? limits = null)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(largestPx);
        (int width, int height) = PictureHeader.Check(bytes, limits ?? new PictureLimits());
        int spare = Math.Max(width, height) / largestPx;
        // The decoder itself can leave out what would be thrown away: a quarter of the work for half the size.
        ImreadModes mode = spare >= 8 ? ImreadModes.ReducedColor8 : spare >= 4 ? ImreadModes.ReducedColor4 : spare >= 2 ? ImreadModes.ReducedColor2 : ImreadModes.Color;
        try
        {
            using Mat whole = Mat.ImDecode(bytes, mode);
            if (whole.Empty())
                throw Damaged();
            double scale = Math.Min(1, (double)largestPx / Math.Max(whole.Width, whole.Height));
            using Mat small = new();
            Cv2.Resize(whole, small, new Size(Math.Max(1, (int)Math.Round(whole.Width * scale)), Math.Max(1, (int)Math.Round(whole.Height * scale))), 0, 0, InterpolationFlags.Area);
            return small.ImEncode(".jpg", new ImageEncodingParam(ImwriteFlags.JpegQuality, 82));
        }
        catch (OpenCVException)
        {
            throw Damaged();
        }
    }

    private static PictureRefusedException Damaged() =>
        new(new Reason("picture-damaged", "The picture cannot be decoded. Copy the photo again from the phone."));
}
