using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Backup;

namespace Whetwright.Records.Sqlite;

/// <summary>A book in a file of its own, looked at from outside: a snapshot, a copy.</summary>
public static class SqliteFile
{
    /// <summary>A context on this very file, without the pool.</summary>
    public static BookContext Context(string file) => new(new DbContextOptionsBuilder<BookContext>()
        .UseSqlite(
            new SqliteConnectionStringBuilder { DataSource = file, Mode = SqliteOpenMode.ReadWriteCreate, Pooling = false, ForeignKeys = true, DefaultTimeout = 30 }.ConnectionString,
            sqlite => sqlite.MigrationsAssembly(typeof(SqliteBook).Assembly.GetName().Name)).Options);

    /// <summary>Folds what its log holds into the file, so that the file alone is the book.</summary>
    public static Task CloseAsync(BookContext db, CancellationToken cancel) => db.Database.ExecuteSqlRawAsync("PRAGMA journal_mode=DELETE", cancel);

    /// <summary>Looks through a whole file: integrity, foreign keys, model, counts.</summary>
    /// <exception cref="BackupRefusedException">It is damaged, no book, or made by a newer program.</exception>
    public static async Task<SnapshotContent> InspectAsync(string file, CancellationToken cancel)
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
            await using BookContext db = Context(file);
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

    internal static SqliteConnection Open(string file, SqliteOpenMode mode) =>
        new(new SqliteConnectionStringBuilder { DataSource = file, Mode = mode, Pooling = false, DefaultTimeout = 5 }.ConnectionString);

    internal static async Task<List<string>> TextsAsync(SqliteConnection connection, string sql, CancellationToken cancel)
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
