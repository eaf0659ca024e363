using System.Text;
using Whetwright.Paper.Drawings;

namespace Whetwright.Paper.Fonts;

/// <summary>
/// Names that the bundled faces cannot print. They hold Latin (with Vietnamese), Greek and Cyrillic letters; a character of another script is
/// printed as <c>▯</c>, the paper says so, and so can the page that offers it.
/// </summary>
public static class UnprintableText
{
    /// <summary>What stands on paper for a character that cannot be printed.</summary>
    public const string Box = "▯";

    /// <summary>The sentence that goes with it.</summary>
    public const string Note = "▯ stands for a character that this printed face does not have. Write it by hand.";

    /// <summary>The characters of a text that cannot be printed, each once, in order; empty where all can.</summary>
    public static IReadOnlyList<string> In(string? words)
    {
        List<string> missing = [];
        foreach (Rune rune in Printable.Of(words).Normalize(NormalizationForm.FormC).EnumerateRunes())
        {
            if (!Has(rune) && !missing.Contains(rune.ToString()))
                missing.Add(rune.ToString());
        }

        return missing;
    }

    /// <summary>The text as it can be printed: composed letters, and a box for each character that no face has.</summary>
    public static string Shown(string? words)
    {
        string clean = Printable.Of(words).Normalize(NormalizationForm.FormC);
        if (clean.EnumerateRunes().All(Has))
            return clean;
        var shown = new StringBuilder(clean.Length);
        foreach (Rune rune in clean.EnumerateRunes())
            shown.Append(Has(rune) ? rune.ToString() : Box);
        return shown.ToString();
    }

    private static bool Has(Rune rune) => FontMetrics.Of(TextFace.Regular).Has(rune);
}
