using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Bench;

namespace Whetwright.Records.History;

/// <summary>Stored results, to be made again. Corrected and withdrawn ones are left out.</summary>
/// <param name="books">Makes contexts.</param>
public sealed class ReplayQuery(IDbContextFactory<BookContext> books)
{
    /// <summary>How many readings and settings stand.</summary>
    public async Task<(int Readings, int Settings)> CountAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return (await db.Readings.Standing().CountAsync(cancel), await db.Settings.Standing().CountAsync(cancel));
    }

    /// <summary>Readings that stand, the newest first.</summary>
    public async Task<IReadOnlyList<Reading>> ReadingsAsync(int skip, int take, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Readings.AsNoTracking().Standing().OrderByDescending(r => r.Id).Skip(skip).Take(take).ToListAsync(cancel);
    }

    /// <summary>Settings that stand, the newest first.</summary>
    public async Task<IReadOnlyList<SettingMade>> SettingsAsync(int skip, int take, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Settings.AsNoTracking().Standing().OrderByDescending(s => s.Id).Skip(skip).Take(take).ToListAsync(cancel);
    }
}
