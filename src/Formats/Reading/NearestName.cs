namespace Whetwright.Formats.Reading;

/// <summary>Finds the known name that a person may have meant.</summary>
public static class NearestName
{
    /// <summary>The known name at the least edit distance, case apart; the first of several; null where none is known.</summary>
    public static string? To(string typed, IEnumerable<string> known)
    {
        string? best = null;
        int least = int.MaxValue;
        foreach (string name in known)
        {
            int distance = Distance(typed.ToUpperInvariant(), name.ToUpperInvariant());
            if (distance < least)
                (best, least) = (name, distance);
        }

        return best;
    }

    /// <summary>Fewest insertions, deletions and replacements that make one text of the other (V. I. Levenshtein's distance).</summary>
    public static int Distance(string left, string right)
    {
        int[] before = new int[right.Length + 1];
        int[] row = new int[right.Length + 1];
        for (int j = 0; j <= right.Length; j++)
            before[j] = j;
        for (int i = 1; i <= left.Length; i++)
        {
            row[0] = i;
            for (int j = 1; j <= right.Length; j++)
            {
                int replaced = before[j - 1] + (left[i - 1] == right[j - 1] ? 0 : 1);
                row[j] = Math.Min(replaced, Math.Min(before[j], row[j - 1]) + 1);
            }

            (before, row) = (row, before);
        }

        return before[right.Length];
    }
}
