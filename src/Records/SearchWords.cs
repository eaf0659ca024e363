namespace Whetwright.Records;

/// <summary>What somebody types to find something, taken apart: every word must be found somewhere.</summary>
internal static class SearchWords
{
    /// <summary>Folded words; digits with space between them are one number, without the zeros that stand for a country's prefix.</summary>
    internal static IReadOnlyList<string> Of(string? typed)
    {
        string folded = Folded.Of(typed);
        if (folded.Length == 0)
            return [];
        if (folded.All(char.IsDigit))
            return [folded.Length > 4 && folded.TrimStart('0').Length > 2 ? folded.TrimStart('0') : folded];
        return [.. folded.Split(' ', StringSplitOptions.RemoveEmptyEntries).Distinct(StringComparer.Ordinal).Take(8)];
    }
}
