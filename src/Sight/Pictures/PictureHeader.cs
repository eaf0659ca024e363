using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Pictures;

/// <summary>What a picture file says about itself, read without decoding a pixel: kind, size, and whether it is whole.</summary>
internal static class PictureHeader
{
    private const string Convert =
        "Set the phone's camera to JPEG (often called “most compatible”), or share the photo as JPEG, and take it in again.";

    /// <summary>Checks magic bytes, limits and completeness; throws the reason, or returns width and height.</summary>
    public static (int Width, int Height) Check(ReadOnlySpan<byte> bytes, PictureLimits limits)
    {
        if (bytes.Length == 0)
            throw Refuse("picture-empty", "The file is empty. Copy the photo again.");
        if (bytes.Length > limits.MaxBytes)
            throw Refuse("picture-too-large", $"The file has {Number(bytes.Length)} bytes; at most {Number(limits.MaxBytes)} are read. Take the photo at a normal resolution.");
        (int Width, int Height) size;
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]))
            size = Jpeg(bytes);
        else if (bytes.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]))
            size = Png(bytes);
        else
            throw Foreign(bytes);
        if (size.Width < 1 || size.Height < 1)
            throw Refuse("picture-damaged", "The picture's header gives it no size. Copy the photo again from the phone.");
        if ((long)size.Width * size.Height > limits.MaxPixels)
            throw Refuse("picture-too-large", $"The header claims {size.Width} × {size.Height} pixels; at most {Number(limits.MaxPixels)} pixels are read. Take the photo at a normal resolution.");
        return size;
    }

    private static (int Width, int Height) Jpeg(ReadOnlySpan<byte> bytes)
    {
        (int Width, int Height) size = default;
        int at = 2;
        bool scan = false;
        while (at + 1 < bytes.Length)
        {
            if (bytes[at] != 0xFF)
            {
                at++;
                continue;
            }

            byte marker = bytes[at + 1];
            if (marker == 0xD9)
                return scan && size.Width > 0 ? size : throw Damaged();
            if (marker is 0xFF)
            {
                at++;
                continue;
            }

            if (marker is 0x00 or 0x01 or (>= 0xD0 and <= 0xD8))
            {
                at += 2;
                continue;
            }

            if (at + 4 > bytes.Length)
                break;
            int length = BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            if (length < 2)
                throw Damaged();
            if (marker is (>= 0xC0 and <= 0xCF) and not (0xC4 or 0xC8 or 0xCC) && at + 9 <= bytes.Length)
                size = (BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 7)..]), BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 5)..]));
            scan |= marker == 0xDA;
            at += 2 + length;
        }

        throw Refuse("picture-truncated", "The JPEG breaks off before its end. Copy the photo again and wait until the transfer has finished.");
    }

    private static (int Width, int Height) Png(ReadOnlySpan<byte> bytes)
    {
        (int Width, int Height) size = default;
        int at = 8;
        while (at + 12 <= bytes.Length)
        {
            uint length = BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]);
            ReadOnlySpan<byte> kind = bytes.Slice(at + 4, 4);
            if (length > int.MaxValue)
                throw Damaged();
            if (kind.SequenceEqual("IHDR"u8) && length >= 8 && at + 16 <= bytes.Length)
            {
                uint width = BinaryPrimitives.ReadUInt32BigEndian(bytes[(at + 8)..]);
                uint height = BinaryPrimitives.ReadUInt32BigEndian(bytes[(at + 12)..]);
                if (width > int.MaxValue || height > int.MaxValue)
                    throw Damaged();
                size = ((int)width, (int)height);
            }

            if (kind.SequenceEqual("IEND"u8))
                return size.Width > 0 ? size : throw Damaged();
            long next = at + 12L + length;
            if (next > bytes.Length)
                break;
            at = (int)next;
        }

        throw Refuse("picture-truncated", "The PNG breaks off before its end. Copy the picture again and wait until the transfer has finished.");
    }

    private static PictureRefusedException Foreign(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length >= 12 && bytes.Slice(4, 4).SequenceEqual("ftyp"u8))
            return Refuse("picture-heic", "This is a HEIC or AVIF photo (or a video), which is not read here. " + Convert);
        if (bytes.Length >= 12 && bytes.StartsWith("RIFF"u8) && bytes.Slice(8, 4).SequenceEqual("WEBP"u8))
            return Refuse("picture-webp", "This is a WebP picture; messengers make them and lose detail. Use the original JPEG from the camera.");
        if (bytes.StartsWith("GIF8"u8))
            return Refuse("picture-gif", "This is a GIF. Use the original JPEG from the camera.");
        if (bytes.StartsWith("II*\0"u8) || bytes.StartsWith("MM\0*"u8))
            return Refuse("picture-raw", "This is a TIFF or raw camera file. " + Convert);
        if (bytes.StartsWith("%PDF"u8))
            return Refuse("picture-pdf", "This is a PDF, not a photo. Give the JPEG from the camera.");
        string start = Encoding.Latin1.GetString(bytes[..Math.Min(bytes.Length, 512)]);
        if (start.Contains("<svg", StringComparison.OrdinalIgnoreCase))
            return Refuse("picture-svg", "This is an SVG drawing, not a photo. Give the JPEG from the camera.");
        return start.All(c => c is '\t' or '\r' or '\n' or (>= ' ' and <= '~') or >= '\u00A0')
            ? Refuse("picture-text", "This file holds text, not a picture, whatever its name says. Give the JPEG from the camera.")
            : Refuse("picture-unknown", "This file is neither JPEG nor PNG. " + Convert);
    }

    private static PictureRefusedException Damaged() =>
        Refuse("picture-damaged", "The picture file is damaged. Copy the photo again from the phone.");

    private static PictureRefusedException Refuse(string code, string text) => new(new Reason(code, text));

    private static string Number(long value) => value.ToString("N0", CultureInfo.InvariantCulture);
}
