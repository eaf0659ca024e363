using System.Data;
using System.Data.Common;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace Whetwright.Records.Postgres;

/// <summary>
/// Writes wait for each other, as in the file: nothing read inside a write can be out of date by its commit. The lock comes before the
/// transaction's first look at the tables (PostgreSQL 15, "LOCK": a snapshot is taken by the first query after it), readers never wait,
/// and a station that falls asleep in the middle of a write gives it up after a minute. Each commit waits for the server's disk.
/// </summary>
internal sealed class OneWriter : DbTransactionInterceptor
{
    private const string Wait =
        "SET LOCAL lock_timeout = '30s'; SET LOCAL idle_in_transaction_session_timeout = '60s'; SET LOCAL synchronous_commit = on; "
        + "LOCK TABLE \"Shop\" IN SHARE ROW EXCLUSIVE MODE";

    public static OneWriter Instance { get; } = new();

    public override DbTransaction TransactionStarted(DbConnection connection, TransactionEndEventData eventData, DbTransaction result)
    {
        if (result.IsolationLevel == IsolationLevel.Serializable)
        {
            using DbCommand command = Lock(connection, result);
            command.ExecuteNonQuery();
        }

        return result;
    }

    public override async ValueTask<DbTransaction> TransactionStartedAsync(
        DbConnection connection, TransactionEndEventData eventData, DbTransaction result, CancellationToken cancellationToken = default)
    {
        if (result.IsolationLevel == IsolationLevel.Serializable)
        {
            await using DbCommand command = Lock(connection, result);
            await command.ExecuteNonQueryAsync(cancellationToken);
        }

        return result;
    }

    private static DbCommand Lock(DbConnection connection, DbTransaction transaction)
    {
        DbCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = Wait;
        return command;
    }
}
