using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Backup;

namespace Whetwright.Records.Sqlite;

/// <summary>Snapshots of the file: SQLite's own copy at one moment (VACUUM INTO), and one rename back.</summary>
internal sealed class SqliteSnapshot(IDbContextFactory<BookContext> books, BookOptions options) : IBookSnapshot
{
    public string EntryName => SqliteBook.FileName;

    public void LetGo() => SqliteConnection.ClearAllPools();

    public async Task TakeAsync(string file, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        await db.Database.ExecuteSqlAsync($"VACUUM INTO {file}", cancel);
    }

    public Task<SnapshotContent> InspectAsync(string file, CancellationToken cancel) => SqliteFile.InspectAsync(file, cancel);

    public async Task<string?> PutInPlaceAsync(string file, CancellationToken cancel)
    {
        await using FileStream held = await SqliteDoor.HoldAsync(options.DataFolder, cancel);
        string place = Path.Combine(options.DataFolder, SqliteBook.FileName);
        string? before = null;
        if (File.Exists(place))
        {
            await CloseAsync(place, cancel);
            before = Path.Combine(options.DataFolder, $"book-before-restore-{DateTime.UtcNow:yyyyMMdd-HHmmss}-{Guid.NewGuid().ToString("N")[..6]}.db");
            File.Copy(place, before);
        }

        File.Move(file, place, overwrite: true);
        DiskFolder.Flush(options.DataFolder);
        return before;
    }

    /// <summary>Folds the write-ahead log into the file and does away with it: only the one connection to a book can do that, so it tells whether it is in use.</summary>
    private static async Task CloseAsync(string place, CancellationToken cancel)
    {
        try
        {
            await using SqliteConnection connection = SqliteFile.Open(place, SqliteOpenMode.ReadWrite);
            await connection.OpenAsync(cancel);
            if (await SqliteFile.TextsAsync(connection, "PRAGMA busy_timeout=2000", cancel) is { } && await SqliteFile.TextsAsync(connection, "PRAGMA journal_mode=DELETE", cancel) is not ["delete"])
                throw InUse(null);
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 5 or 6)
        {
            throw InUse(e);
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 11 or 26)
        {
            // The book in place is damaged: that is what backups are for. Its logs go with it.
            foreach (string log in new[] { "-wal", "-shm", "-journal" })
            {
                if (File.Exists(place + log))
                    File.Move(place + log, $"{place}.damaged{log}", overwrite: true);
            }
        }
    }

    private static BackupRefusedException InUse(Exception? inner) =>
        new("The book is in use. Stop the program that serves it, then restore; nothing was touched.", inner);
}
