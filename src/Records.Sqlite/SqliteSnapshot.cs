using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Backup;

namespace Whetwright.Records.Sqlite;

/// <summary>Snapshots of the file: SQLite's own copy at one moment (VACUUM INTO), and one rename back.</summary>
internal sealed class SqliteSnapshot(IDbContextFactory<BookContext> books, BookOptions options) : IBookSnapshot
{
    public string EntryName => SqliteBook.FileName;

    public async Task TakeAsync(string file, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        await db.Database.ExecuteSqlAsync($"VACUUM INTO {file}", cancel);
    }

    public async Task<SnapshotContent> InspectAsync(string file, CancellationToken cancel)
    {
        try
        {
            await using SqliteConnection connection = Open(file, SqliteOpenMode.ReadOnly);
            await connection.OpenAsync(cancel);
            List<string> found = await TextsAsync(connection, "PRAGMA integrity_check", cancel);
            if (found is not ["ok"])
                throw new BackupRefusedException($"The database in it is damaged: {string.Join("; ", found.Take(3))}");
            if ((await TextsAsync(connection, "SELECT \"table\" FROM pragma_foreign_key_check", cancel)) is [var broken, ..])
                throw new BackupRefusedException($"The database in it is damaged: {broken} points to rows that are not there.");
            string model = (await TextsAsync(connection, "SELECT MAX(\"MigrationId\") FROM \"__EFMigrationsHistory\"", cancel))[0];
            await using BookContext db = await books.CreateDbContextAsync(cancel);
            if (!db.Database.GetMigrations().Contains(model, StringComparer.Ordinal))
                throw new BackupRefusedException($"It was made by another version of the program (model {model}); use that version or a newer one.");
            Dictionary<string, long> rows = [];
            foreach (string table in await TextsAsync(connection, "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite!_%' ESCAPE '!' AND name NOT LIKE '!_!_EF%' ESCAPE '!' ORDER BY name", cancel))
                rows[table] = long.Parse((await TextsAsync(connection, $"SELECT COUNT(*) FROM \"{table.Replace("\"", "\"\"", StringComparison.Ordinal)}\"", cancel))[0], System.Globalization.CultureInfo.InvariantCulture);
            return new SnapshotContent(model, rows, await TextsAsync(connection, "SELECT DISTINCT \"Hash\" FROM \"Photos\" ORDER BY 1", cancel));
        }
        catch (SqliteException e)
        {
            throw new BackupRefusedException($"The database in it cannot be read: {e.Message}", e);
        }
    }

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
            await using SqliteConnection connection = Open(place, SqliteOpenMode.ReadWrite);
            await connection.OpenAsync(cancel);
            if (await TextsAsync(connection, "PRAGMA busy_timeout=2000", cancel) is { } && await TextsAsync(connection, "PRAGMA journal_mode=DELETE", cancel) is not ["delete"])
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

    private static SqliteConnection Open(string file, SqliteOpenMode mode) =>
        new(new SqliteConnectionStringBuilder { DataSource = file, Mode = mode, Pooling = false, DefaultTimeout = 5 }.ConnectionString);

    private static async Task<List<string>> TextsAsync(SqliteConnection connection, string sql, CancellationToken cancel)
    {
        await using SqliteCommand command = connection.CreateCommand();
#pragma warning disable CA2100 // our own words and table names from the file's own list, quoted
        command.CommandText = sql;
#pragma warning restore CA2100
        List<string> texts = [];
        await using SqliteDataReader reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
            texts.Add(reader.IsDBNull(0) ? "" : reader.GetString(0));
        return texts;
    }
}
