using System.Buffers.Binary;
using System.IO.Compression;

namespace Whetwright.Load;

/// <summary>A whole PNG of 64 by 48 grey pixels.</summary>
public static class SmallPng
{
    /// <summary>Its bytes.</summary>
    public static byte[] Bytes { get; } = Make(64, 48);

    private static byte[] Make(int width, int height)
    {
        byte[] size = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(size, width);
        BinaryPrimitives.WriteInt32BigEndian(size.AsSpan(4), height);
        size[8] = 8;
        using MemoryStream packed = new();
        using (ZLibStream zlib = new(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            for (int y = 0; y < height; y++)
                zlib.Write([0, .. Enumerable.Range(0, width).Select(x => (byte)(x * y))]);
        }

        return [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, .. Chunk("IHDR"u8, size), .. Chunk("IDAT"u8, packed.ToArray()), .. Chunk("IEND"u8, [])];
    }

    private static byte[] Chunk(ReadOnlySpan<byte> kind, ReadOnlySpan<byte> body)
    {
        byte[] chunk = new byte[12 + body.Length];
        BinaryPrimitives.WriteInt32BigEndian(chunk, body.Length);
        kind.CopyTo(chunk.AsSpan(4));
        body.CopyTo(chunk.AsSpan(8));
        BinaryPrimitives.WriteUInt32BigEndian(chunk.AsSpan(8 + body.Length), Crc(chunk.AsSpan(4, 4 + body.Length)));
        return chunk;
    }

    /// <summary>ISO/IEC 15948 (PNG), annex D.</summary>
    private static uint Crc(ReadOnlySpan<byte> bytes)
    {
        uint crc = uint.MaxValue;
        foreach (byte b in bytes)
        {
            crc ^= b;
            for (int bit = 0; bit < 8; bit++)
                crc = (crc & 1) == 0 ? crc >> 1 : (crc >> 1) ^ 0xEDB88320;
        }

        return ~crc;
    }
}
