using Microsoft.EntityFrameworkCore;

namespace Whetwright.Records.Sqlite;

/// <summary>
/// Opens the file. The migration lock that the tables carry outlives a program that is killed while it holds it; a lock on a file does
/// not, so the file's lock decides and a lock left in the tables is cleared under it.
/// </summary>
internal sealed class SqliteDoor(IDbContextFactory<BookContext> books, BookOptions options) : BookDoor(books)
{
    protected override async Task MigrateAsync(CancellationToken cancel)
    {
        await using FileStream held = await HoldAsync(options.DataFolder, cancel);
        await using (BookContext db = await Books.CreateDbContextAsync(cancel))
        {
            bool left = await db.Database
                .SqlQueryRaw<int>("SELECT COUNT(*) AS \"Value\" FROM sqlite_master WHERE type = 'table' AND name = '__EFMigrationsLock'").SingleAsync(cancel) > 0;
            if (left)
                await db.Database.ExecuteSqlRawAsync("DELETE FROM \"__EFMigrationsLock\"", cancel);
        }

        await base.MigrateAsync(cancel);
    }

    public override async Task<string?> IntegrityAsync(CancellationToken cancel = default)
    {
        try
        {
            await using BookContext db = await Books.CreateDbContextAsync(cancel);
            List<string> found = await db.Database.SqlQueryRaw<string>("PRAGMA integrity_check").ToListAsync(cancel);
            if (found is not ["ok"])
                return string.Join("; ", found.Take(3));
            List<string> loose = await db.Database.SqlQueryRaw<string>("SELECT \"table\" AS \"Value\" FROM pragma_foreign_key_check").ToListAsync(cancel);
            return loose is [var table, ..] ? $"{table} points to rows that are not there" : null;
        }
        catch (Microsoft.Data.Sqlite.SqliteException e) when (e.SqliteErrorCode is 11 or 26)
        {
            return e.Message;
        }
    }

    /// <summary>Holds the folder for one who opens or replaces the book; others wait.</summary>
    internal static async Task<FileStream> HoldAsync(string dataFolder, CancellationToken cancel)
    {
        Directory.CreateDirectory(dataFolder);
        string path = Path.Combine(dataFolder, "opening.lock");
        while (true)
        {
            try
            {
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException) when (!cancel.IsCancellationRequested && File.Exists(path))
            {
                await Task.Delay(50, cancel);
            }
        }
    }
}
