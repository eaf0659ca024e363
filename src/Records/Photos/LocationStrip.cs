using System.Buffers.Binary;

namespace Whetwright.Records.Photos;

/// <summary>
/// Takes from a photo where it was taken, and everything else that a phone adds which the bench does not need. From a JPEG's Exif block (CIPA DC-008, TIFF 6.0
/// structure) only orientation, camera model, time of exposure and focal lengths are kept, written anew; XMP, IPTC, comments and maker's notes go, since they can
/// hold the place, too. From a PNG the chunks eXIf, tEXt, zTXt, iTXt go. The picture itself is not touched, byte for byte.
/// </summary>
public static class LocationStrip
{
    private static readonly ushort[] KeptInFirst = [0x0110, 0x0112];                         // Model, Orientation
    private static readonly ushort[] KeptInExif = [0x829A, 0x829D, 0x8827, 0x9003, 0x920A, 0xA002, 0xA003, 0xA405]; // ExposureTime, FNumber, ISO, DateTimeOriginal, FocalLength, PixelX/Y, FocalLengthIn35mmFilm

    private static ReadOnlySpan<byte> ExifName => "Exif\0\0"u8;

    /// <summary>The photo without its place.</summary>
    /// <param name="bytes">A JPEG or PNG.</param>
    /// <param name="header">What <see cref="PhotoHeader.Read"/> said of it.</param>
    public static byte[] From(byte[] bytes, PhotoHeader header) => header.ContentType == "image/png" ? Png(bytes) : Jpeg(bytes);

    private static byte[] Jpeg(byte[] bytes)
    {
        IReadOnlyList<JpegSegment> segments = JpegSegment.Before(bytes);
        using MemoryStream kept = new(bytes.Length);
        kept.Write(bytes, 0, 2);
        int at = 2;
        bool exifWritten = false;
        foreach (JpegSegment segment in segments)
        {
            at = segment.Start + segment.Length;
            ReadOnlySpan<byte> whole = bytes.AsSpan(segment.Start, segment.Length);
            if (segment.Marker == 0xE1 && !exifWritten && whole[4..].StartsWith(ExifName) && Exif(whole[10..]) is { } exif)
            {
                WriteExif(kept, exif);
                exifWritten = true;
            }
            else if (!Drops(segment.Marker, whole))
            {
                kept.Write(whole);
            }
        }

        CopyPicture(bytes, at, kept);
        return kept.ToArray();
    }

    /// <summary>APP1 (Exif, XMP), APP13 (IPTC), other APPn but JFIF, colour profile and Adobe's colour transform, and comments go. Several pictures in one file (MPF, APP2) become one.</summary>
    private static bool Drops(byte marker, ReadOnlySpan<byte> whole) => marker switch
    {
        0xE0 => !whole[4..].StartsWith("JFIF\0"u8),
        0xE2 => !whole[4..].StartsWith("ICC_PROFILE\0"u8),
        0xEE => !whole[4..].StartsWith("Adobe"u8),
        >= 0xE1 and <= 0xEF => true,
        0xFE => true,
        _ => false,
    };

    /// <summary>The coded picture to its end. What phones append behind it (a second picture, a film, their notes) goes, and so do notes between its scans.</summary>
    private static void CopyPicture(ReadOnlySpan<byte> bytes, int from, MemoryStream kept)
    {
        int start = from, i = from;
        while (i + 1 < bytes.Length)
        {
            byte marker = bytes[i + 1];
            if (bytes[i] != 0xFF || marker is 0x00 or 0xFF or (>= 0x01 and < 0xC0) or (>= 0xD0 and <= 0xD8))
            {
                i++;
                continue;
            }

            if (marker == 0xD9)
            {
                kept.Write(bytes[start..(i + 2)]);
                return;
            }

            int next = i + 4 <= bytes.Length ? i + 2 + BinaryPrimitives.ReadUInt16BigEndian(bytes[(i + 2)..]) : bytes.Length;
            next = Math.Min(next, bytes.Length);
            if (marker is 0xFE or (>= 0xE0 and <= 0xEF))
            {
                kept.Write(bytes[start..i]);
                start = next;
            }

            i = next;
        }

        kept.Write(bytes[start..]);
    }

    private static List<TiffEntry>[]? Exif(ReadOnlySpan<byte> tiff)
    {
        if (tiff.Length < 8)
            return null;
        bool big = tiff.StartsWith("MM"u8);
        if (!big && !tiff.StartsWith("II"u8))
            return null;
        List<TiffEntry> first = TiffEntry.Read(tiff, big, TiffEntry.UInt32(tiff[4..], big));
        uint exifAt = first.Find(e => e.Tag == 0x8769)?.AsUInt32 ?? 0;
        List<TiffEntry> exif = exifAt == 0 ? [] : TiffEntry.Read(tiff, big, exifAt);
        return [first.FindAll(e => KeptInFirst.Contains(e.Tag)), exif.FindAll(e => KeptInExif.Contains(e.Tag))];
    }

    private static void WriteExif(MemoryStream to, List<TiffEntry>[] kept)
    {
        byte[] tiff = TiffEntry.Write(kept[0], kept[1]);
        Span<byte> head = stackalloc byte[4];
        head[0] = 0xFF;
        head[1] = 0xE1;
        BinaryPrimitives.WriteUInt16BigEndian(head[2..], (ushort)(2 + 6 + tiff.Length));
        to.Write(head);
        to.Write(ExifName);
        to.Write(tiff);
    }

    private static byte[] Png(byte[] bytes)
    {
        using MemoryStream kept = new(bytes.Length);
        kept.Write(bytes, 0, 8);
        int at = 8;
        while (at + 12 <= bytes.Length)
        {
            uint data = BinaryPrimitives.ReadUInt32BigEndian(bytes.AsSpan(at));
            long whole = 12L + data;
            if (at + whole > bytes.Length)
                break;
            ReadOnlySpan<byte> name = bytes.AsSpan(at + 4, 4);
            if (!(name.SequenceEqual("eXIf"u8) || name.SequenceEqual("tEXt"u8) || name.SequenceEqual("zTXt"u8) || name.SequenceEqual("iTXt"u8)))
                kept.Write(bytes, at, (int)whole);
            bool end = name.SequenceEqual("IEND"u8);
            at += (int)whole;
            if (end)
                break;
        }

        return kept.ToArray();
    }
}
