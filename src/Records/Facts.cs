namespace Whetwright.Records;

/// <summary>Which facts stand.</summary>
public static class Facts
{
    /// <summary>The facts that no later one corrects, and that take nothing back. Translates to SQL.</summary>
    /// <param name="facts">Facts of one kind.</param>
    public static IQueryable<T> Standing<T>(this IQueryable<T> facts)
        where T : Fact => facts.Where(f => !f.Withdrawn && !facts.Any(later => later.CorrectsId == f.Id));

    /// <summary>The same for facts at hand.</summary>
    public static IReadOnlyList<T> Standing<T>(this IReadOnlyCollection<T> facts)
        where T : Fact
    {
        HashSet<long> corrected = [.. facts.Where(f => f.CorrectsId is not null).Select(f => f.CorrectsId!.Value)];
        return [.. facts.Where(f => !f.Withdrawn && !corrected.Contains(f.Id))];
    }
}
