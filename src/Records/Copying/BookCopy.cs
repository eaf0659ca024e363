using System.Reflection;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Whetwright.Records.Copying;

/// <summary>All rows of one book into another that has none, keys and all, whichever databases hold them.</summary>
public static class BookCopy
{
    private const int AtOnce = 500; // chosen, not derived: what is held in memory

    private static readonly MethodInfo Table = typeof(BookCopy).GetMethod(nameof(TableAsync), BindingFlags.NonPublic | BindingFlags.Static)!;

    /// <summary>Copies, tables that others point to first. Both contexts bring the transaction that they are to be read and written in.</summary>
    public static async Task RowsAsync(BookContext from, BookContext to, CancellationToken cancel = default)
    {
        foreach (IEntityType kind in InOrder(from))
            await (Task)Table.MakeGenericMethod(kind.ClrType).Invoke(null, [from, to, kind, cancel])!;
    }

    /// <summary>Kinds of rows, each after those that it points to.</summary>
    internal static IReadOnlyList<IEntityType> InOrder(BookContext db)
    {
        List<IEntityType> ordered = [];
        List<IEntityType> left = [.. db.Model.GetEntityTypes().OrderBy(k => k.GetTableName(), StringComparer.Ordinal)];
        while (left.Count > 0)
        {
            IEntityType next = left.Find(k => k.GetForeignKeys().All(f => f.PrincipalEntityType == k || ordered.Contains(f.PrincipalEntityType)))
                ?? throw new InvalidOperationException($"The tables {string.Join(", ", left.Select(k => k.GetTableName()))} point at each other.");
            ordered.Add(next);
            left.Remove(next);
        }

        return ordered;
    }

    private static async Task TableAsync<T>(BookContext from, BookContext to, IEntityType kind, CancellationToken cancel)
        where T : class
    {
        int waiting = 0;
        to.ChangeTracker.AutoDetectChangesEnabled = false;
        await foreach (T row in from.InKeyOrder<T>(kind).AsAsyncEnumerable().WithCancellation(cancel))
        {
            to.Add(row);
            if (++waiting < AtOnce)
                continue;
            await FlushAsync(to, cancel);
            waiting = 0;
        }

        await FlushAsync(to, cancel);
        to.ChangeTracker.AutoDetectChangesEnabled = true;
    }

    private static async Task FlushAsync(BookContext to, CancellationToken cancel)
    {
        await to.SaveChangesAsync(cancel);
        to.ChangeTracker.Clear();
    }

    /// <summary>A table as it is read for copies and hashes: not tracked, by its key.</summary>
    internal static IQueryable<T> InKeyOrder<T>(this BookContext db, IEntityType kind)
        where T : class
    {
        string key = kind.FindPrimaryKey()!.Properties[0].Name;
        return db.Set<T>().AsNoTracking().OrderBy(row => EF.Property<object>(row, key));
    }
}
