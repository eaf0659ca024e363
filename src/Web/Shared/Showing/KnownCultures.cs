using System.Globalization;

namespace Whetwright.Web.Shared.Showing;

/// <summary>Cultures offered for the look of numbers and dates. The words of the pages are English.</summary>
public static class KnownCultures
{
    /// <summary>Names in the order offered.</summary>
    public static IReadOnlyList<string> Names { get; } =
    [
        "en-GB", "en-US", "en-AU", "en-CA", "en-IE", "en-NZ", "en-ZA", "cs-CZ", "da-DK", "de-AT", "de-CH", "de-DE", "es-ES", "es-MX", "fi-FI",
        "fr-BE", "fr-CA", "fr-CH", "fr-FR", "hu-HU", "it-CH", "it-IT", "ja-JP", "ko-KR", "nb-NO", "nl-BE", "nl-NL", "pl-PL", "pt-BR", "pt-PT",
        "ro-RO", "sv-SE", "tr-TR",
    ];

    /// <summary>A name with an example: "German (Germany): 1.234,50".</summary>
    public static string Label(string name)
    {
        var culture = CultureInfo.GetCultureInfo(name);
        return $"{culture.EnglishName}: {1234.5.ToString("N2", culture)}, {new DateOnly(2026, 3, 31).ToString("d", culture)}";
    }

    /// <summary>A name we offer.</summary>
    public static bool Knows(string? name) => name is not null && Names.Contains(name, StringComparer.Ordinal);
}
