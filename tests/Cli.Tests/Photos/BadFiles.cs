using System.Text;
using OpenCvSharp;

namespace Whetwright.Cli.Tests.Photos;

/// <summary>A file that a person may hand in as a photo, and what must come of it.</summary>
/// <param name="What">In words.</param>
/// <param name="Name">File name.</param>
/// <param name="Bytes">Content.</param>
/// <param name="Code">The reason's code that must be among the reasons; null: any.</param>
/// <param name="Reads">True where it must be read; false where it must not; null: either.</param>
internal sealed record BadFile(string What, string Name, byte[] Bytes, string? Code = null, bool? Reads = null);

/// <summary>Two hundred damaged and foreign files, seeded.</summary>
internal static class BadFiles
{
    public static IReadOnlyList<BadFile> From(byte[] photo, int seed)
    {
        Random random = new(seed);
        List<BadFile> files = [.. Truncated(photo, random, 80), .. Scratched(photo, random, 14), .. Foreign(), .. Pictures(random), .. Sheets(photo)];
        while (files.Count < 200)
        {
            byte[] noise = new byte[random.Next(1, 4000)];
            random.NextBytes(noise);
            if (files.Count % 2 == 0 && noise.Length > 4)
                new byte[] { 0xFF, 0xD8, 0xFF, 0xE0 }.CopyTo(noise, 0);
            files.Add(new("random bytes", files.Count % 3 == 0 ? "noise.png" : "noise.jpg", noise, Reads: false));
        }

        return files;
    }

    private static IEnumerable<BadFile> Truncated(byte[] photo, Random random, int count)
    {
        for (int i = 0; i < count; i++)
            yield return new("a JPEG that breaks off", "cut.jpg", photo[..random.Next(4, photo.Length - 2)], Reads: false);
    }

    private static IEnumerable<BadFile> Scratched(byte[] photo, Random random, int count)
    {
        for (int i = 0; i < count; i++)
        {
            byte[] bytes = [.. photo];
            for (int k = 0; k < 1 + (i % 6); k++)
                bytes[random.Next(2, bytes.Length - 2)] = (byte)random.Next(256);
            yield return new("a JPEG with wrong bytes", "scratched.jpg", bytes);
        }
    }

    private static IEnumerable<BadFile> Foreign()
    {
        yield return new("empty", "empty.jpg", [], "picture-empty", false);
        yield return new("text", "words.jpg", Encoding.UTF8.GetBytes("A list of knives to pick up on Tuesday, größer als gestern."), Reads: false);
        yield return new("JSON", "target.png", "{ \"paper\": \"a4\" }"u8.ToArray(), "picture-text", false);
        yield return new("SVG", "drawing.jpg", "<svg xmlns='http://www.w3.org/2000/svg' width='99999' height='99999'/>"u8.ToArray(), "picture-svg", false);
        yield return new("GIF", "moving.jpg", "GIF89a\u0001\u0000\u0001\u0000"u8.ToArray(), "picture-gif", false);
        yield return new("HEIC", "phone.jpg", Encoding.Latin1.GetBytes("\0\0\0\u0018ftypheic\0\0\0\0mif1heic"), "picture-heic", false);
        yield return new("HEIC by name", "phone.heic", Encoding.Latin1.GetBytes("\0\0\0\u0018ftypmif1\0\0\0\0mif1heic"), "picture-heic", false);
        yield return new("WebP", "chat.jpg", Encoding.Latin1.GetBytes("RIFF\u0024\0\0\0WEBPVP8 "), "picture-webp", false);
        yield return new("TIFF", "raw.jpg", Encoding.Latin1.GetBytes("II*\0\u0008\0\0\0"), "picture-raw", false);
        yield return new("PDF", "sheet.jpg", "%PDF-1.7\n%%EOF"u8.ToArray(), "picture-pdf", false);
        yield return new("ZIP", "all.jpg", Encoding.Latin1.GetBytes("PK\u0003\u0004\0\0\0\0"), Reads: false);
        yield return new("two bytes", "two.jpg", [0xFF, 0xD8], Reads: false);
        yield return new("a JPEG of a start and an end", "none.jpg", [0xFF, 0xD8, 0xFF, 0xD9], Reads: false);
        yield return new("a JPEG header of no size", "nosize.jpg", [0xFF, 0xD8, 0xFF, 0xC0, 0, 11, 8, 0, 0, 0, 0, 1, 1, 0x11, 0, 0xFF, 0xDA, 0, 2, 0xFF, 0xD9], Reads: false);
        yield return new("a PNG signature alone", "sig.png", [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A], Reads: false);
    }

    private static IEnumerable<BadFile> Pictures(Random random)
    {
        byte[] jpeg = Noise(64, 48, random, ".jpg"), png = Noise(64, 48, random, ".png");
        yield return new("a JPEG that claims 20,000 × 20,000", "huge.jpg", Claiming(jpeg, 20_000), "picture-too-large", false);
        yield return new("a JPEG that claims 7,000 × 7,000", "larger.jpg", Claiming(jpeg, 7_000), Reads: false);
        byte[] claim = [.. png];
        (claim[18], claim[19], claim[22], claim[23]) = (0x4E, 0x20, 0x4E, 0x20);
        yield return new("a PNG that claims 20,000 × 20,000", "huge.png", claim, "picture-too-large", false);
        using (Mat flat = new(9000, 9000, MatType.CV_8UC1, new Scalar(0)))
            yield return new("a PNG of 81 megapixels in a few kilobytes", "bomb.png", flat.ImEncode(".png"), "picture-too-large", false);
        using (Mat flat = new(6000, 6000, MatType.CV_8UC1, new Scalar(128)))
            yield return new("a PNG of 36 megapixels in a few kilobytes", "plain.png", flat.ImEncode(".png"), "too-few-fiducials", false);
        foreach ((int w, int h) in ((int, int)[])[(1, 1), (1, 600), (600, 1), (2, 2), (15, 15), (17, 17), (40, 3)])
        {
            yield return new($"{w} × {h}", "tiny.png", Noise(w, h, random, ".png"), "too-few-fiducials", false);
            yield return new($"{w} × {h}", "tiny.jpg", Noise(w, h, random, ".jpg"), "too-few-fiducials", false);
        }

        for (int i = 0; i < 10; i++)
            yield return new("a PNG that breaks off", "cut.png", png[..random.Next(9, png.Length - 4)], Reads: false);
        for (int i = 0; i < 6; i++)
            yield return new("no sheet in view", "bench.jpg", Noise(200 + random.Next(400), 150 + random.Next(300), random, ".jpg"), "too-few-fiducials", false);
    }

    private static IEnumerable<BadFile> Sheets(byte[] photo)
    {
        using Mat picture = Cv2.ImDecode(photo, ImreadModes.Color | ImreadModes.IgnoreOrientation);
        using Mat upsideDown = new(), quarter = new(), mirrored = new(), small = new(), two = new(picture.Size(), MatType.CV_8UC3, new Scalar(60, 60, 60));
        Cv2.Rotate(picture, upsideDown, RotateFlags.Rotate180);
        yield return new("upside down", "turned.jpg", upsideDown.ImEncode(".jpg", [(int)ImwriteFlags.JpegQuality, 95]), Reads: true);
        Cv2.Rotate(picture, quarter, RotateFlags.Rotate90Clockwise);
        yield return new("a quarter turned", "quarter.jpg", quarter.ImEncode(".jpg", [(int)ImwriteFlags.JpegQuality, 95]), Reads: true);
        yield return new("as PNG", "photo.png", picture.ImEncode(".png"), Reads: true);
        Cv2.Flip(picture, mirrored, FlipMode.Y);
        yield return new("mirrored", "mirror.jpg", mirrored.ImEncode(".jpg"), "mirrored", false);
        Cv2.Resize(picture, small, new Size(picture.Width / 2, picture.Height / 2), 0, 0, InterpolationFlags.Area);
        using (Mat first = new(two, new Rect(0, 0, small.Width, small.Height)))
            small.CopyTo(first);
        using (Mat second = new(two, new Rect(picture.Width - small.Width, picture.Height - small.Height, small.Width, small.Height)))
            small.CopyTo(second);
        yield return new("two sheets", "two.jpg", two.ImEncode(".jpg"), "two-sheets", false);
        using Mat black = new(picture.Size(), MatType.CV_8UC3, new Scalar(0, 0, 0));
        yield return new("lens cap on", "black.jpg", black.ImEncode(".jpg"), "too-few-fiducials", false);
        using Mat white = new(picture.Size(), MatType.CV_8UC3, new Scalar(255, 255, 255));
        yield return new("burnt out", "white.jpg", white.ImEncode(".jpg"), "too-few-fiducials", false);
    }

    private static byte[] Claiming(byte[] jpeg, int size)
    {
        byte[] bytes = [.. jpeg];
        for (int i = 2; i < bytes.Length - 9; i++)
        {
            if (bytes[i] == 0xFF && bytes[i + 1] == 0xC0)
            {
                (bytes[i + 5], bytes[i + 6], bytes[i + 7], bytes[i + 8]) = ((byte)(size >> 8), (byte)size, (byte)(size >> 8), (byte)size);
                return bytes;
            }
        }

        throw new InvalidOperationException("The sample has no frame header.");
    }

    private static byte[] Noise(int width, int height, Random random, string kind)
    {
        byte[] pixels = new byte[width * height * 3];
        random.NextBytes(pixels);
        using Mat mat = Mat.FromPixelData(height, width, MatType.CV_8UC3, pixels);
        return mat.ImEncode(kind);
    }
}
