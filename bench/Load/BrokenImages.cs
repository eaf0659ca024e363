using System.Buffers.Binary;

namespace Whetwright.Load;

/// <summary>Pictures that are broken, lie, or are something else; made from whole ones, seeded, each within some hundred kilobytes.</summary>
/// <param name="whole">Whole pictures to break.</param>
/// <param name="random">Seeded.</param>
public sealed class BrokenImages(IReadOnlyList<byte[]> whole, Random random)
{
    /// <summary>The next.</summary>
    public byte[] Next()
    {
        byte[] image = [.. whole[random.Next(whole.Count)]];
        switch (random.Next(9))
        {
            case 0:
                return image[..random.Next(image.Length)];
            case 1:
                return [.. image, .. "PK\u0003\u0004 <script>alert(1)</script>"u8];
            case 2:
                return [.. "<svg xmlns=\"http://www.w3.org/2000/svg\" onload=\"alert(1)\"/>"u8];
            case 3:
                Lie(image);
                return image;
            case 4:
                byte[] noise = new byte[random.Next(10, 4000)];
                random.NextBytes(noise);
                (random.Next(2) == 0 ? new byte[] { 0xFF, 0xD8, 0xFF, 0xE0 } : [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]).CopyTo(noise, 0);
                return noise;
            case 5:
                int cut = random.Next(image.Length), to = Math.Min(image.Length, cut + random.Next(1, 5000));
                return [.. image[..cut], .. image[to..]];
            case 6:
                for (int i = random.Next(1, 30); i > 0; i--)
                    image[random.Next(Math.Min(image.Length, 700))] = (byte)random.Next(256); // in the headers
                return image;
            default:
                for (int i = random.Next(1, 200); i > 0; i--)
                    image[random.Next(image.Length)] ^= (byte)(1 << random.Next(8));
                return image;
        }
    }

    /// <summary>Writes another size into the header: millions of pixels a side, or none.</summary>
    private void Lie(byte[] image)
    {
        if (image[0] == 0x89)
        {
            BinaryPrimitives.WriteUInt32BigEndian(image.AsSpan(16), random.Next(2) == 0 ? 0 : uint.MaxValue >> random.Next(8));
            BinaryPrimitives.WriteUInt32BigEndian(image.AsSpan(20), (uint)random.Next(1, 1 << 20));
            return;
        }

        for (int at = 2; at + 9 < image.Length; at++)
        {
            if (image[at] != 0xFF || image[at + 1] is not (0xC0 or 0xC2))
                continue;
            BinaryPrimitives.WriteUInt16BigEndian(image.AsSpan(at + 5), (ushort)random.Next(0, 65536));
            BinaryPrimitives.WriteUInt16BigEndian(image.AsSpan(at + 7), (ushort)random.Next(0, 65536));
            return;
        }
    }
}
