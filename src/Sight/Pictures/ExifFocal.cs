using System.Buffers.Binary;

namespace Whetwright.Sight.Pictures;

/// <summary>
/// The 35 mm equivalent focal length that a phone writes into a JPEG (tag 0xA405 of the Exif directory), and nothing else of what is there.
/// Whatever is damaged, absurd or missing yields null; every offset is checked, directories are not followed twice. Source: [exif] 4.6.
/// </summary>
internal static class ExifFocal
{
    private const ushort ExifPointer = 0x8769, PixelsAcross = 0xA002, PixelsDown = 0xA003, Focal35 = 0xA405;

    private const ushort Short = 3, Long = 4;

    /// <summary>No directory of a phone has as many; more is damage. Chosen.</summary>
    private const int MostEntries = 512;

    /// <summary>What a camera's focal length can be, mm. Chosen; the tracer refuses others.</summary>
    private const double Least = 8, Most = 400;

    /// <summary>
    /// Millimetres, or null. Null too where the file says that it was written at another size than it has: a photo cropped after the shot no longer
    /// has the field of view that its focal length stands for.
    /// </summary>
    public static double? Of(ReadOnlySpan<byte> file, int widthPx, int heightPx)
    {
        ReadOnlySpan<byte> tiff = Segment(file);
        if (tiff.Length < 8)
            return null;
        bool? little = tiff[0] == (byte)'I' && tiff[1] == (byte)'I' ? true : tiff[0] == (byte)'M' && tiff[1] == (byte)'M' ? false : null;
        if (little is not { } intel || Word(tiff, 2, intel) != 42)
            return null;
        if (Find(tiff, Number(tiff, 4, intel), ExifPointer, intel) is not { } exif)
            return null;
        if (Find(tiff, exif, Focal35, intel) is not { } focal || focal is < (uint)Least or > (uint)Most)
            return null;
        uint? across = Find(tiff, exif, PixelsAcross, intel);
        uint? down = Find(tiff, exif, PixelsDown, intel);
        bool whole = across is not { } a || down is not { } d || (a == widthPx && d == heightPx) || (a == heightPx && d == widthPx);
        return whole ? focal : null;
    }

    /// <summary>The TIFF part of the first APP1 segment that holds Exif; empty where there is none before the picture itself.</summary>
    private static ReadOnlySpan<byte> Segment(ReadOnlySpan<byte> file)
    {
        if (!file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8]))
            return [];
        int at = 2;
        while (at + 4 <= file.Length && file[at] == 0xFF)
        {
            byte marker = file[at + 1];
            if (marker == 0xFF)
            {
                at++;
                continue;
            }

            int length = BinaryPrimitives.ReadUInt16BigEndian(file[(at + 2)..]);
            if (marker is 0xDA or 0xD9 || length < 2 || at + 2 + length > file.Length)
                return [];
            ReadOnlySpan<byte> body = file.Slice(at + 4, length - 2);
            if (marker == 0xE1 && body.StartsWith("Exif\0\0"u8))
                return body[6..];
            at += 2 + length;
        }

        return [];
    }

    /// <summary>The first value of a tag of one directory, where it is a whole number.</summary>
    private static uint? Find(ReadOnlySpan<byte> tiff, uint offset, ushort tag, bool little)
    {
        if (offset < 8 || offset + 2L > tiff.Length)
            return null;
        int count = Word(tiff, (int)offset, little);
        if (count > MostEntries)
            return null;
        for (int i = 0; i < count; i++)
        {
            long at = offset + 2L + (12L * i);
            if (at + 12 > tiff.Length)
                return null;
            int entry = (int)at;
            if (Word(tiff, entry, little) != tag || Number(tiff, entry + 4, little) == 0)
                continue;
            return Word(tiff, entry + 2, little) switch
            {
                Short => Word(tiff, entry + 8, little),
                Long => Number(tiff, entry + 8, little),
                _ => null,
            };
        }

        return null;
    }

    private static ushort Word(ReadOnlySpan<byte> tiff, int at, bool little) =>
        little ? BinaryPrimitives.ReadUInt16LittleEndian(tiff[at..]) : BinaryPrimitives.ReadUInt16BigEndian(tiff[at..]);

    private static uint Number(ReadOnlySpan<byte> tiff, int at, bool little) =>
        little ? BinaryPrimitives.ReadUInt32LittleEndian(tiff[at..]) : BinaryPrimitives.ReadUInt32BigEndian(tiff[at..]);
}
