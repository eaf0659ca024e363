using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.Text;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Fonts;

/// <summary>
/// Advance widths of a bundled face, read from its own tables (OpenType <c>head</c>, <c>hhea</c>, <c>hmtx</c>, <c>cmap</c> format 4), so that text can
/// be measured and set in lines without the PDF library. Kerning is left out, as the writers leave it out.
/// </summary>
internal sealed class FontMetrics
{
    private static readonly ConcurrentDictionary<TextFace, FontMetrics> Known = new();
    private readonly Dictionary<int, int> glyphs = [];
    private readonly int[] advances;
    private readonly double unitsPerEm;

    private FontMetrics(byte[] font)
    {
        ReadOnlySpan<byte> file = font;
        unitsPerEm = U16(file[(Table(file, "head") + 18)..]);
        int count = U16(file[(Table(file, "hhea") + 34)..]);
        int hmtx = Table(file, "hmtx");
        advances = new int[count];
        for (int i = 0; i < count; i++)
            advances[i] = U16(file[(hmtx + (4 * i))..]);
        ReadCharacters(file[Table(file, "cmap")..]);
    }

    internal static FontMetrics Of(TextFace face) => Known.GetOrAdd(face, f => new FontMetrics(BundledFonts.Bytes(f)));

    /// <summary>Whether the face can show a character.</summary>
    internal bool Has(Rune rune) => glyphs.ContainsKey(rune.Value);

    /// <summary>Width of a line of text, mm.</summary>
    internal double WidthMm(string words, double sizeMm)
    {
        double units = 0;
        foreach (Rune rune in words.EnumerateRunes())
            units += advances[Math.Min(glyphs.GetValueOrDefault(rune.Value), advances.Length - 1)];
        return units / unitsPerEm * sizeMm;
    }

    /// <summary>Text set in lines no wider than given; a word too long for a line is broken. The last allowed line ends in "…" when text is left.</summary>
    internal IReadOnlyList<string> Lines(string words, double sizeMm, double widthMm, int maxLines = int.MaxValue)
    {
        List<string> lines = [];
        string line = "";
        foreach (string word in words.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (WidthMm(longer, sizeMm) <= widthMm)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0)
                lines.Add(line);
            line = word;
            while (WidthMm(line, sizeMm) > widthMm && line.Length > 1)
            {
                int fits = Fits(line, sizeMm, widthMm);
                lines.Add(line[..fits]);
                line = line[fits..];
            }
        }

        if (line.Length > 0)
            lines.Add(line);
        if (lines.Count <= maxLines)
            return lines;
        string last = lines[maxLines - 1];
        while (last.Length > 1 && WidthMm(last + "…", sizeMm) > widthMm)
            last = last[..^(char.IsLowSurrogate(last[^1]) ? 2 : 1)];
        return [.. lines.Take(maxLines - 1), last.TrimEnd() + "…"];
    }

    /// <summary>As much as fits one line, cleaned for print; "…" at the end when something is left.</summary>
    internal string OneLine(string words, double sizeMm, double widthMm)
    {
        IReadOnlyList<string> lines = Lines(Printable.Of(words), sizeMm, Math.Max(widthMm, 2 * sizeMm), 1);
        return lines.Count > 0 ? lines[0] : "";
    }

    /// <summary>The largest size, at most the one wished, at which a line fits a width.</summary>
    internal double SizeToFit(string words, double wishedMm, double widthMm)
    {
        double width = WidthMm(words, wishedMm);
        return width <= widthMm ? wishedMm : wishedMm * widthMm / width;
    }

    private int Fits(string line, double sizeMm, double widthMm)
    {
        int length = line.Length - 1;
        while (length > 1 && WidthMm(line[..length], sizeMm) > widthMm)
            length--;
        return length > 1 && char.IsLowSurrogate(line[length]) ? length - 1 : length;
    }

    private void ReadCharacters(ReadOnlySpan<byte> cmap)
    {
        int tables = U16(cmap[2..]);
        for (int i = 0; i < tables; i++)
        {
            ReadOnlySpan<byte> table = cmap[(int)U32(cmap[(4 + (8 * i) + 4)..])..];
            if (U16(table) != 4)
                continue;
            int segments = U16(table[6..]) / 2;
            for (int s = 0; s < segments; s++)
                ReadSegment(table, segments, s);
        }
    }

    private void ReadSegment(ReadOnlySpan<byte> table, int segments, int s)
    {
        int end = U16(table[(14 + (2 * s))..]);
        int start = U16(table[(16 + (2 * (segments + s)))..]);
        int delta = U16(table[(16 + (2 * ((2 * segments) + s)))..]);
        int rangeAt = 16 + (2 * ((3 * segments) + s));
        int range = U16(table[rangeAt..]);
        for (int c = start; c <= end && c != 0xFFFF; c++)
        {
            int glyph = range == 0 ? (c + delta) & 0xFFFF : U16(table[(rangeAt + range + (2 * (c - start)))..]);
            if (range != 0 && glyph != 0)
                glyph = (glyph + delta) & 0xFFFF;
            if (glyph != 0)
                glyphs[c] = glyph;
        }
    }

    private static int Table(ReadOnlySpan<byte> file, string tag)
    {
        int count = U16(file[4..]);
        for (int i = 0; i < count; i++)
        {
            ReadOnlySpan<byte> entry = file.Slice(12 + (16 * i), 16);
            if (Encoding.ASCII.GetString(entry[..4]) == tag)
                return (int)U32(entry[8..]);
        }

        throw new InvalidOperationException("The bundled font has no table " + tag + ".");
    }

    private static int U16(ReadOnlySpan<byte> at) => BinaryPrimitives.ReadUInt16BigEndian(at);

    private static uint U32(ReadOnlySpan<byte> at) => BinaryPrimitives.ReadUInt32BigEndian(at);
}
