using System.Buffers.Binary;

namespace Whetwright.Records.Photos;

/// <summary>One entry of a TIFF directory (TIFF 6.0, section 2), its value in little-endian order.</summary>
internal sealed record TiffEntry(ushort Tag, ushort Type, uint Count, byte[] Value)
{
    private const int MostEntries = 512; // chosen, not derived: cameras write some dozens
    private const int LongestValue = 256; // the values we keep are short

    internal uint AsUInt32 => Value.Length >= 4 ? BinaryPrimitives.ReadUInt32LittleEndian(Value) : Value.Length >= 2 ? BinaryPrimitives.ReadUInt16LittleEndian(Value) : 0u;

    internal static uint UInt32(ReadOnlySpan<byte> at, bool big) => big ? BinaryPrimitives.ReadUInt32BigEndian(at) : BinaryPrimitives.ReadUInt32LittleEndian(at);

    /// <summary>The entries of the directory at an offset; what points outside the block is left out.</summary>
    internal static List<TiffEntry> Read(ReadOnlySpan<byte> tiff, bool big, uint offset)
    {
        List<TiffEntry> entries = [];
        if (offset > tiff.Length - 2)
            return entries;
        int count = Math.Min((int)UInt16(tiff[(int)offset..], big), MostEntries);
        for (int i = 0; i < count; i++)
        {
            long at = offset + 2L + (12L * i);
            if (at + 12 > tiff.Length)
                break;
            ReadOnlySpan<byte> entry = tiff.Slice((int)at, 12);
            ushort tag = UInt16(entry, big), type = UInt16(entry[2..], big);
            uint values = UInt32(entry[4..], big);
            int unit = Unit(type);
            long length = (long)unit * values;
            if (unit == 0 || length is 0 or > LongestValue)
                continue;
            long from = length <= 4 ? at + 8 : UInt32(entry[8..], big);
            if (from + length > tiff.Length)
                continue;
            byte[] value = tiff.Slice((int)from, (int)length).ToArray();
            if (big)
                Swap(value, type is 5 or 10 ? 4 : unit);
            entries.Add(new TiffEntry(tag, type, values, value));
        }

        return entries;
    }

    /// <summary>A new little-endian block: one directory, and a second one for the Exif entries where there are any.</summary>
    internal static byte[] Write(List<TiffEntry> first, List<TiffEntry> exif)
    {
        List<TiffEntry> head = [.. first];
        if (exif.Count > 0)
            head.Add(new TiffEntry(0x8769, 4, 1, new byte[4]));
        head.Sort((a, b) => a.Tag.CompareTo(b.Tag));
        int exifAt = 8 + Size(head);
        if (exif.Count > 0)
            BinaryPrimitives.WriteUInt32LittleEndian(head.Find(e => e.Tag == 0x8769)!.Value, (uint)exifAt);
        byte[] block = new byte[exifAt + (exif.Count > 0 ? Size(exif) : 0)];
        "II*\0"u8.CopyTo(block);
        BinaryPrimitives.WriteUInt32LittleEndian(block.AsSpan(4), 8);
        Put(block, 8, head);
        if (exif.Count > 0)
            Put(block, exifAt, [.. exif.OrderBy(e => e.Tag)]);
        return block;
    }

    private static int Size(List<TiffEntry> entries) => 2 + (12 * entries.Count) + 4 + entries.Where(e => e.Value.Length > 4).Sum(e => (e.Value.Length + 1) & ~1);

    private static void Put(byte[] block, int at, List<TiffEntry> entries)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(block.AsSpan(at), (ushort)entries.Count);
        int data = at + 2 + (12 * entries.Count) + 4;
        for (int i = 0; i < entries.Count; i++)
        {
            TiffEntry entry = entries[i];
            Span<byte> slot = block.AsSpan(at + 2 + (12 * i), 12);
            BinaryPrimitives.WriteUInt16LittleEndian(slot, entry.Tag);
            BinaryPrimitives.WriteUInt16LittleEndian(slot[2..], entry.Type);
            BinaryPrimitives.WriteUInt32LittleEndian(slot[4..], entry.Count);
            if (entry.Value.Length <= 4)
            {
                entry.Value.CopyTo(slot[8..]);
                continue;
            }

            BinaryPrimitives.WriteUInt32LittleEndian(slot[8..], (uint)data);
            entry.Value.CopyTo(block.AsSpan(data));
            data += (entry.Value.Length + 1) & ~1;
        }
    }

    private static ushort UInt16(ReadOnlySpan<byte> at, bool big) => big ? BinaryPrimitives.ReadUInt16BigEndian(at) : BinaryPrimitives.ReadUInt16LittleEndian(at);

    private static void Swap(byte[] value, int unit)
    {
        for (int i = 0; unit > 1 && i + unit <= value.Length; i += unit)
            Array.Reverse(value, i, unit);
    }

    private static int Unit(ushort type) => type switch
    {
        1 or 2 or 6 or 7 => 1,
        3 or 8 => 2,
        4 or 9 or 11 => 4,
        5 or 10 or 12 => 8,
        _ => 0,
    };
}
