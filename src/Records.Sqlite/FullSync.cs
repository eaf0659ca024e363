using System.Data.Common;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace Whetwright.Records.Sqlite;

/// <summary>Every connection waits for the disk at each commit: an acknowledged save survives lost power. What is erased is written over, not only forgotten.</summary>
internal sealed class FullSync : DbConnectionInterceptor
{
    public static FullSync Instance { get; } = new();

    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => Set(connection);

    public override Task ConnectionOpenedAsync(DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
    {
        Set(connection);
        return Task.CompletedTask;
    }

    private static void Set(DbConnection connection)
    {
        using DbCommand command = connection.CreateCommand();
        command.CommandText = "PRAGMA busy_timeout=30000; PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA secure_delete=ON;";
        command.ExecuteNonQuery();
    }
}
