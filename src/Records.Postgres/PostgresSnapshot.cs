using System.Data;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.EntityFrameworkCore.Storage;
using Npgsql;
using Whetwright.Records.Backup;
using Whetwright.Records.Copying;
using Whetwright.Records.Sqlite;

namespace Whetwright.Records.Postgres;

/// <summary>
/// Snapshots of the server's book: one moment of it, copied into a file of the other kind. So a backup made here restores into a folder, and the
/// other way round. The way back replaces the tables in one transaction; those before stay beside them in a schema of their own.
/// </summary>
internal sealed class PostgresSnapshot(IDbContextFactory<BookContext> books) : IBookSnapshot
{
    public string EntryName => SqliteBook.FileName;

    public async Task TakeAsync(string file, CancellationToken cancel)
    {
        await using BookContext to = SqliteFile.Context(file);
        await to.Database.MigrateAsync(cancel);
        await using BookContext from = await books.CreateDbContextAsync(cancel);
        await using IDbContextTransaction moment = await from.Database.BeginTransactionAsync(IsolationLevel.RepeatableRead, cancel);
        await BookCopy.RowsAsync(from, to, cancel);
        await SqliteFile.CloseAsync(to, cancel);
    }

    public Task<SnapshotContent> InspectAsync(string file, CancellationToken cancel) => SqliteFile.InspectAsync(file, cancel);

    public async Task<string?> PutInPlaceAsync(string file, CancellationToken cancel)
    {
        NpgsqlConnection.ClearAllPools();
        await using BookContext from = SqliteFile.Context(file);
        await using BookContext to = await books.CreateDbContextAsync(cancel);
        if (!await to.GetService<IRelationalDatabaseCreator>().ExistsAsync(cancel))
            await to.GetService<IRelationalDatabaseCreator>().CreateAsync(cancel);
        await using IDbContextTransaction whole = await to.Database.BeginTransactionAsync(IsolationLevel.ReadCommitted, cancel);
        int others = await to.Database.SqlQueryRaw<int>(
            "SELECT COUNT(*)::int AS \"Value\" FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid() AND backend_type = 'client backend'").SingleAsync(cancel);
        if (others > 0)
            throw new BackupRefusedException($"The book is in use: {others} other connection{(others == 1 ? "" : "s")} to its database. Stop the programs that serve it, then restore; nothing was touched.");
        string? before = null;
        if (await to.Database.SqlQueryRaw<int>("SELECT COUNT(*)::int AS \"Value\" FROM pg_tables WHERE schemaname = 'public'").SingleAsync(cancel) > 0)
        {
            before = string.Create(CultureInfo.InvariantCulture, $"before_restore_{DateTime.UtcNow:yyyyMMdd_HHmmss}_{Guid.NewGuid().ToString("N")[..6]}");
#pragma warning disable EF1002 // a name of our own making
            await to.Database.ExecuteSqlRawAsync($"ALTER SCHEMA public RENAME TO {before}; CREATE SCHEMA public", cancel);
#pragma warning restore EF1002
        }

        string tables = to.GetService<IMigrator>().GenerateScript(options: MigrationsSqlGenerationOptions.NoTransactions);
        await using (NpgsqlCommand make = new(tables, (NpgsqlConnection)to.Database.GetDbConnection(), (NpgsqlTransaction)whole.GetDbTransaction()))
            await make.ExecuteNonQueryAsync(cancel);
        await BookCopy.RowsAsync(from, to, cancel);
        await Sequences.CatchUpAsync(to, cancel);
        IReadOnlyList<TableDigest> here = await BookDigest.OfAsync(to, cancel), there = await BookDigest.OfAsync(from, cancel);
        if (BookDigest.Difference(there, here) is { } different)
            throw new BackupRefusedException($"What was put in place did not read back: {different} Nothing was changed.");
        await whole.CommitAsync(cancel);
        await SqliteFile.CloseAsync(from, cancel);
        return before is null ? null : $"the schema {before} of the same database";
    }
}
