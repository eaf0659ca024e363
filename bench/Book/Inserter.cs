using Microsoft.Data.Sqlite;

namespace Whetwright.Book;

/// <summary>Prepared inserts of one table; facts get their common columns by themselves.</summary>
internal sealed class Inserter : IDisposable
{
    private readonly SqliteCommand command;
    private readonly string[] columns;

    public Inserter(SqliteConnection connection, string table, string columnList, bool fact = false)
    {
        columns = [.. columnList.Split(' '), .. fact ? (string[])["HappenedAt", "EnteredAt", "Withdrawn"] : []];
        command = connection.CreateCommand();
#pragma warning disable CA2100 // our own table and column names
        command.CommandText = $"INSERT INTO \"{table}\" ({string.Join(',', columns.Select(c => $"\"{c}\""))}) VALUES ({string.Join(',', columns.Select((_, i) => $"$p{i}"))})";
#pragma warning restore CA2100
        for (int i = 0; i < columns.Length; i++)
            command.Parameters.Add(new SqliteParameter($"$p{i}", null));
    }

    public void Add(params object?[] values)
    {
        for (int i = 0; i < values.Length; i++)
            command.Parameters[i].Value = values[i] ?? DBNull.Value;
        command.ExecuteNonQuery();
    }

    public void AddFact(DateTime at, params object?[] values) => Add([.. values, at, at, 0]);

    public void Dispose() => command.Dispose();
}
