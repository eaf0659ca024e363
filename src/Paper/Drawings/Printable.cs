using System.Globalization;
using System.Text;

namespace Whetwright.Paper.Drawings;

/// <summary>Text that may go on paper or into XML: what cannot be printed becomes a space.</summary>
internal static class Printable
{
    /// <summary>Control characters and lone surrogates become spaces; the ends are trimmed.</summary>
    internal static string Of(string? words)
    {
        if (string.IsNullOrEmpty(words))
            return "";
        var clean = new StringBuilder(words.Length);
        foreach (Rune rune in words.EnumerateRunes())
        {
            bool unfit = rune.Value is 0xFFFD or 0xFFFE or 0xFFFF
                || Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
            clean.Append(unfit ? " " : rune.ToString());
        }

        return clean.ToString().Trim();
    }

    /// <summary>Escaped for XML and HTML text and attributes.</summary>
    internal static string Escaped(string? words) => Of(words)
        .Replace("&", "&amp;", StringComparison.Ordinal)
        .Replace("<", "&lt;", StringComparison.Ordinal)
        .Replace(">", "&gt;", StringComparison.Ordinal)
        .Replace("\"", "&quot;", StringComparison.Ordinal)
        .Replace("'", "&#39;", StringComparison.Ordinal);
}
