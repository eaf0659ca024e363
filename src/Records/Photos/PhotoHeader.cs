using System.Buffers.Binary;

namespace Whetwright.Records.Photos;

/// <summary>What the first bytes of a picture say, read without decoding it.</summary>
/// <param name="ContentType">"image/jpeg" or "image/png".</param>
/// <param name="WidthPx">Width, px, as stored.</param>
/// <param name="HeightPx">Height, px, as stored.</param>
public sealed record PhotoHeader(string ContentType, int WidthPx, int HeightPx)
{
    private static ReadOnlySpan<byte> PngSignature => [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A];

    /// <summary>Reads it from the content, never from a name; null where it is neither a JPEG nor a PNG.</summary>
    public static PhotoHeader? Read(ReadOnlySpan<byte> bytes) => Png(bytes) ?? Jpeg(bytes);

    /// <summary>ISO/IEC 15948 (PNG), clause 11.2.2: IHDR is the first chunk.</summary>
    private static PhotoHeader? Png(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 33 || !bytes.StartsWith(PngSignature) || !bytes[12..16].SequenceEqual("IHDR"u8))
            return null;
        uint width = BinaryPrimitives.ReadUInt32BigEndian(bytes[16..]), height = BinaryPrimitives.ReadUInt32BigEndian(bytes[20..]);
        return width is 0 or > int.MaxValue || height is 0 or > int.MaxValue ? null : new PhotoHeader("image/png", (int)width, (int)height);
    }

    /// <summary>ITU-T T.81 (JPEG), annex B: the frame header carries lines and samples per line.</summary>
    private static PhotoHeader? Jpeg(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length < 4 || bytes[0] != 0xFF || bytes[1] != 0xD8)
            return null;
        IReadOnlyList<JpegSegment> segments = JpegSegment.Before(bytes);
        if (segments is not [.., { Marker: 0xDA }])
            return null;
        foreach (JpegSegment segment in segments)
        {
            bool frame = segment.Marker is >= 0xC0 and <= 0xCF and not (0xC4 or 0xC8 or 0xCC);
            if (!frame || segment.Length < 9)
                continue;
            ReadOnlySpan<byte> body = bytes.Slice(segment.Start + 4, segment.Length - 4);
            int height = BinaryPrimitives.ReadUInt16BigEndian(body[1..]), width = BinaryPrimitives.ReadUInt16BigEndian(body[3..]);
            return width == 0 || height == 0 ? null : new PhotoHeader("image/jpeg", width, height);
        }

        return null;
    }
}

/// <summary>One segment of a JPEG before its picture data.</summary>
/// <param name="Marker">Second byte of the marker.</param>
/// <param name="Start">Where the marker is.</param>
/// <param name="Length">Bytes with marker and length field.</param>
internal readonly record struct JpegSegment(byte Marker, int Start, int Length)
{
    /// <summary>The segments from the start of the image to the first scan, as far as they are whole.</summary>
    internal static IReadOnlyList<JpegSegment> Before(ReadOnlySpan<byte> bytes)
    {
        List<JpegSegment> segments = [];
        int at = 2;
        while (at + 4 <= bytes.Length && bytes[at] == 0xFF)
        {
            byte marker = bytes[at + 1];
            if (marker == 0xFF)
            {
                at++; // fill byte
                continue;
            }

            int length = 2 + BinaryPrimitives.ReadUInt16BigEndian(bytes[(at + 2)..]);
            if (length < 4 || at + length > bytes.Length)
                break;
            segments.Add(new JpegSegment(marker, at, length));
            if (marker == 0xDA)
                break;
            at += length;
        }

        return segments;
    }
}
