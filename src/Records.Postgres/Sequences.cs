using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Whetwright.Records.Postgres;

/// <summary>Numbers that the server gives out.</summary>
internal static class Sequences
{
    /// <summary>After rows came with their keys: the next key given out is beyond them.</summary>
    internal static async Task CatchUpAsync(BookContext db, CancellationToken cancel)
    {
        foreach (IEntityType kind in db.Model.GetEntityTypes())
        {
            if (kind.FindPrimaryKey()?.Properties is not [{ ValueGenerated: ValueGenerated.OnAdd } key] || key.ClrType != typeof(long))
                continue;
            string table = kind.GetTableName()!, column = key.GetColumnName();
#pragma warning disable EF1002 // names of our own model
            await db.Database.ExecuteSqlRawAsync(
                $"SELECT setval(pg_get_serial_sequence('\"{table}\"', '{column}'), (SELECT MAX(\"{column}\") FROM \"{table}\")) WHERE EXISTS (SELECT 1 FROM \"{table}\")", cancel);
#pragma warning restore EF1002
        }
    }
}
