using System.Buffers.Binary;
using System.Text;

namespace Whetwright.Records.Photos;

/// <summary>
/// Where a picture ends, and that nothing else rides along. What a phone writes behind a picture (a moving one, a second size) is cut off;
/// a file that is a picture and something else at once (an archive, a page, a program) is refused, and so is a PNG that moves.
/// </summary>
public static class PhotoEnd
{
    private const int LookedAt = 512; // bytes behind the picture; the rest is cut off anyway. Chosen, not derived

    private static readonly byte[][] Foreign =
    [
        "PK\u0003\u0004"u8.ToArray(), "PK\u0005\u0006"u8.ToArray(), "%PDF-"u8.ToArray(), "Rar!\u001A"u8.ToArray(), [0x37, 0x7A, 0xBC, 0xAF, 0x27, 0x1C], [0x7F, 0x45, 0x4C, 0x46],
    ];

    private static readonly string[] ForeignWords = ["<script", "<html", "<svg", "<!doctype", "<?php"];

    /// <summary>Length of the picture alone; null where it does not end, moves, or carries something foreign.</summary>
    /// <param name="bytes">The whole file.</param>
    /// <param name="header">What its first bytes say.</param>
    public static int? Check(ReadOnlySpan<byte> bytes, PhotoHeader header)
    {
        int end = header.ContentType == "image/png" ? Png(bytes) : Jpeg(bytes);
        if (end < 0)
            return null;
        ReadOnlySpan<byte> behind = bytes[end..].TrimStart((byte)0);
        return IsForeign(behind[..Math.Min(behind.Length, LookedAt)]) || behind.StartsWith("MZ"u8) || behind.StartsWith("#!"u8) ? null : end;
    }

    /// <summary>ISO/IEC 15948 (PNG), clause 5: chunks until IEND. An acTL chunk says that it moves.</summary>
    private static int Png(ReadOnlySpan<byte> bytes)
    {
        int at = 8;
        while (at + 12 <= bytes.Length)
        {
            uint length = BinaryPrimitives.ReadUInt32BigEndian(bytes[at..]);
            if (length > int.MaxValue || at + 12L + length > bytes.Length)
                return -1;
            ReadOnlySpan<byte> kind = bytes.Slice(at + 4, 4), body = bytes.Slice(at + 8, (int)length);
            at += 12 + (int)length;
            if (kind.SequenceEqual("IEND"u8))
                return at;
            if (kind.SequenceEqual("acTL"u8) || (!kind.SequenceEqual("IDAT"u8) && IsForeign(body)))
                return -1;
        }

        return -1;
    }

    /// <summary>ITU-T T.81 (JPEG), annex B: segments with their lengths, and scans in which 0xFF is followed by zero or a restart marker, until EOI.</summary>
    private static int Jpeg(ReadOnlySpan<byte> bytes)
    {
        int at = 2;
        while (at + 2 <= bytes.Length)
        {
            if (bytes[at] != 0xFF)
                return -1;
            byte marker = bytes[at + 1];
            switch (marker)
            {
                case 0xFF:
                    at++; // fill byte
                    continue;
                case 0xD9:
                    return at + 2;
                case 0x01 or (>= 0xD0 and <= 0xD7):
                    at += 2;
                    continue;
            }

            if (at + 4 > bytes.Length)
                return -1;
            int length = BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            if (length < 2 || at + 2 + length > bytes.Length)
                return -1;
            if ((marker is >= 0xE0 and <= 0xEF or 0xFE) && IsForeign(bytes.Slice(at + 4, length - 2)))
                return -1;
            at += 2 + length;
            if (marker == 0xDA)
                at = ScanEnd(bytes, at);
        }

        return -1;
    }

    /// <summary>The next marker that is no restart.</summary>
    private static int ScanEnd(ReadOnlySpan<byte> bytes, int at)
    {
        while (at + 2 <= bytes.Length)
        {
            int next = bytes[at..].IndexOf((byte)0xFF);
            if (next < 0 || at + next + 2 > bytes.Length)
                return bytes.Length;
            at += next;
            if (bytes[at + 1] is not 0x00 and not (>= 0xD0 and <= 0xD7))
                return at;
            at += 2;
        }

        return bytes.Length;
    }

    private static bool IsForeign(ReadOnlySpan<byte> part)
    {
        foreach (byte[] sign in Foreign)
        {
            if (part.IndexOf(sign) >= 0)
                return true;
        }

        if (part.IndexOf((byte)'<') < 0)
            return false;
        string text = Encoding.Latin1.GetString(part);
        return Array.Exists(ForeignWords, w => text.Contains(w, StringComparison.OrdinalIgnoreCase));
    }
}
