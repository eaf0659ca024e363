namespace Whetwright.Sight;

/// <summary>Searches that do not know of each other, on as many processors as there are.</summary>
internal static class SideBySide
{
    /// <summary>What each comes to, in their order: the same whatever the processors.</summary>
    public static TTo[] BesideEachOther<TFrom, TTo>(this IEnumerable<TFrom> all, Func<TFrom, TTo> to)
    {
        TFrom[] from = [.. all];
        var found = new TTo[from.Length];
        Parallel.For(0, from.Length, i => found[i] = to(from[i]));
        return found;
    }
}
