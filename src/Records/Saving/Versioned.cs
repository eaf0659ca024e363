using System.Globalization;
using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Saving;

/// <summary>Saves of rows that people edit in place.</summary>
public static class Versioned
{
    /// <summary>Changes the row where it still is as the form saw it.</summary>
    /// <param name="db">The write's context.</param>
    /// <param name="id">The row's key.</param>
    /// <param name="seen">The version that the form was filled from.</param>
    /// <param name="change">The change; the version is counted up by the context.</param>
    /// <param name="cancel">Gives up.</param>
    public static async Task<SaveOutcome<T>> EditAsync<T>(this BookContext db, long id, int seen, Action<T> change, CancellationToken cancel = default)
        where T : class, IVersioned
    {
        T? row = await db.Set<T>().FindAsync([id], cancel);
        if (row is null)
            return new SaveOutcome<T>.Refused("Id", id.ToString(CultureInfo.InvariantCulture), "it is no longer in the book; go back and look for it");
        if (row.Version != seen)
            return await TheirsAsync<T>(db, id, cancel);
        change(row);
        try
        {
            await db.SaveChangesAsync(cancel);
            return new SaveOutcome<T>.Saved(row);
        }
        catch (DbUpdateConcurrencyException)
        {
            return await TheirsAsync<T>(db, id, cancel);
        }
    }

    private static async Task<SaveOutcome<T>> TheirsAsync<T>(BookContext db, long id, CancellationToken cancel)
        where T : class, IVersioned
    {
        db.ChangeTracker.Clear();
        T theirs = await db.Set<T>().FindAsync([id], cancel) ?? throw new InvalidOperationException("The row went away inside a transaction.");
        db.Entry(theirs).State = EntityState.Detached;
        return new SaveOutcome<T>.Conflict(theirs);
    }
}
