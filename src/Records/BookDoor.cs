using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Shop;

namespace Whetwright.Records;

/// <summary>Opens the book before anything else is done with it: tables brought up to date, the shop's card there.</summary>
/// <param name="books">Makes contexts.</param>
public abstract class BookDoor(IDbContextFactory<BookContext> books)
{
    /// <summary>Makes contexts.</summary>
    protected IDbContextFactory<BookContext> Books { get; } = books;

    /// <summary>Opens the book; does nothing where it is open already. Safe to call from two programs at once.</summary>
    public async Task OpenAsync(CancellationToken cancel = default)
    {
        await MigrateAsync(cancel);
        await using BookContext db = await Books.CreateDbContextAsync(cancel);
        if (await db.Shop.AnyAsync(cancel))
            return;
        db.Shop.Add(new ShopCard());
        try
        {
            await db.SaveChangesAsync(cancel);
        }
        catch (DbUpdateException)
        {
            // Another program made the card at the same moment: then it is there, and that is all we want.
            await using BookContext again = await Books.CreateDbContextAsync(cancel);
            if (!await again.Shop.AnyAsync(cancel))
                throw;
        }
    }

    /// <summary>Brings the tables up to date.</summary>
    protected virtual async Task MigrateAsync(CancellationToken cancel)
    {
        await using BookContext db = await Books.CreateDbContextAsync(cancel);
        if ((await db.Database.GetPendingMigrationsAsync(cancel)).Any())
            await db.Database.MigrateAsync(cancel);
    }

    /// <summary>Asks the database to look through itself; null where it finds nothing wrong, else what it says.</summary>
    public abstract Task<string?> IntegrityAsync(CancellationToken cancel = default);
}
