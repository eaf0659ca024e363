using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Csv;

namespace Whetwright.Records.Copying;

/// <summary>A table in short.</summary>
/// <param name="Table">Its name.</param>
/// <param name="Rows">Its rows.</param>
/// <param name="Sha256">Hash of all its values in the order of its keys, lower-case hexadecimal; the same whichever database holds them.</param>
public sealed record TableDigest(string Table, long Rows, string Sha256);

/// <summary>A book in short: what two copies are compared by.</summary>
public static class BookDigest
{
    private static readonly MethodInfo Table = typeof(BookDigest).GetMethod(nameof(TableAsync), BindingFlags.NonPublic | BindingFlags.Static)!;

    /// <summary>Reads every table.</summary>
    public static async Task<IReadOnlyList<TableDigest>> OfAsync(BookContext db, CancellationToken cancel = default)
    {
        List<TableDigest> tables = [];
        foreach (IEntityType kind in db.Model.GetEntityTypes().OrderBy(k => k.GetTableName(), StringComparer.Ordinal))
            tables.Add(await (Task<TableDigest>)Table.MakeGenericMethod(kind.ClrType).Invoke(null, [db, kind, cancel])!);
        return tables;
    }

    /// <summary>Null where both are the same; else the first table that differs, in words.</summary>
    public static string? Difference(IReadOnlyList<TableDigest> expected, IReadOnlyList<TableDigest> found)
    {
        foreach (TableDigest table in expected)
        {
            TableDigest? other = found.FirstOrDefault(t => t.Table == table.Table);
            if (other != table)
                return $"{table.Table} has {table.Rows} rows here and {other?.Rows ?? 0} there{(other?.Rows == table.Rows ? ", but other values" : "")}.";
        }

        return null;
    }

    private static async Task<TableDigest> TableAsync<T>(BookContext db, IEntityType kind, CancellationToken cancel)
        where T : class
    {
        PropertyInfo[] columns = [.. kind.GetProperties().OrderBy(p => p.Name, StringComparer.Ordinal).Select(p => p.PropertyInfo!)];
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        long rows = 0;
        await foreach (T row in db.InKeyOrder<T>(kind).AsAsyncEnumerable().WithCancellation(cancel))
        {
            foreach (PropertyInfo column in columns)
            {
                object? value = column.GetValue(row);
                string text = value is string plain ? plain : BookExport.Text(value);
                hash.AppendData(Encoding.UTF8.GetBytes(value is null ? "\u0001" : $"{text.Length}:{text}"));
            }

            rows++;
        }

        return new TableDigest(kind.GetTableName()!, rows, Convert.ToHexStringLower(hash.GetHashAndReset()));
    }
}
