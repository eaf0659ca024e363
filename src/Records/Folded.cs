using System.Globalization;
using System.Text;

namespace Whetwright.Records;

/// <summary>Text as it is searched.</summary>
public static class Folded
{
    /// <summary>Lower case, accents and punctuation off, runs of space to one; digits of a telephone number closed up.</summary>
    public static string Of(params ReadOnlySpan<string?> parts)
    {
        StringBuilder folded = new();
        foreach (string? part in parts)
        {
            if (string.IsNullOrWhiteSpace(part))
                continue;
            if (folded.Length > 0)
                folded.Append(' ');
            Append(folded, part);
        }

        return folded.ToString();
    }

    private static void Append(StringBuilder folded, string part)
    {
        bool number = part.All(c => char.IsDigit(c) || " +-/().".Contains(c, StringComparison.Ordinal));
        bool gap = false;
        foreach (char c in part.Normalize(NormalizationForm.FormD))
        {
            if (CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.NonSpacingMark)
                continue;
            if (char.IsLetterOrDigit(c))
            {
                if (gap && !number && folded.Length > 0 && folded[^1] != ' ')
                    folded.Append(' ');
                gap = false;
                folded.Append(char.ToLowerInvariant(c));
            }
            else
            {
                gap = true;
            }
        }
    }
}
