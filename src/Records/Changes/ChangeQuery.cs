using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Changes;

/// <summary>A page of the list of changes.</summary>
/// <param name="Changes">Newest first.</param>
/// <param name="Number">Which page, from 1.</param>
/// <param name="Pages">How many there are.</param>
public sealed record ChangePage(IReadOnlyList<Change> Changes, int Number, int Pages);

/// <summary>Reads the list of changes.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class ChangeQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>Rows on a page. Chosen, not derived.</summary>
    public const int PerPage = 100;

    /// <summary>One page, newest first.</summary>
    /// <param name="number">From 1; beyond the last gives the last.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<ChangePage> PageAsync(int number, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        int pages = Math.Max(1, (await db.Changes.CountAsync(cancel) + PerPage - 1) / PerPage);
        int at = Math.Clamp(number, 1, pages);
        return new(await db.Changes.AsNoTracking().OrderByDescending(c => c.Id).Skip((at - 1) * PerPage).Take(PerPage).ToListAsync(cancel), at, pages);
    }
}
