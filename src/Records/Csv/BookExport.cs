using System.Collections;
using System.Data;
using System.Globalization;
using System.IO.Compression;
using System.Reflection;
using System.Text;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Storage;
using Whetwright.Records.Shop;

namespace Whetwright.Records.Csv;

/// <summary>Everything in the book as tables of text, one per kind of row, corrected facts too; as it was at one moment.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="options">Which store.</param>
public sealed class BookExport(IDbContextFactory<BookContext> books, BookOptions options)
{
    private static readonly MethodInfo WriteRows = typeof(BookExport).GetMethod(nameof(WriteTableAsync), BindingFlags.NonPublic | BindingFlags.Static)!;

    /// <summary>Writes all tables into a zip.</summary>
    public async Task ToZipAsync(Stream to, CancellationToken cancel = default)
    {
        await using ZipArchive zip = await ZipArchive.CreateAsync(to, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, cancel);
        await WriteAsync(async name => await zip.CreateEntry(name).OpenAsync(cancel), cancel);
    }

    /// <summary>Writes all tables into a folder; files of the same names are replaced.</summary>
    public async Task ToFolderAsync(string folder, CancellationToken cancel = default)
    {
        Directory.CreateDirectory(folder);
        await WriteAsync(name => Task.FromResult<Stream>(File.Create(Path.Combine(folder, name))), cancel);
    }

    /// <summary>Names of the files, such as <c>pieces.csv</c>.</summary>
    public async Task<IReadOnlyList<string>> FilesAsync(CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return [.. Kinds(db).Select(kind => $"{FileName(kind.GetTableName()!)}.csv")];
    }

    /// <summary>Writes one table; false, and nothing written, where there is no file of that name.</summary>
    public async Task<bool> ToStreamAsync(string file, Func<Stream> open, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (Kinds(db).FirstOrDefault(k => $"{FileName(k.GetTableName()!)}.csv" == file) is not { } kind)
            return false;
        await using StreamWriter writer = new(open(), new UTF8Encoding(encoderShouldEmitUTF8Identifier: true), leaveOpen: true);
        await (Task)WriteRows.MakeGenericMethod(kind.ClrType).Invoke(null, [db, kind, writer, cancel])!;
        return true;
    }

    private static IEnumerable<IEntityType> Kinds(BookContext db) =>
        db.Model.GetEntityTypes().Where(t => t.ClrType != typeof(Submission)).OrderBy(t => t.GetTableName(), StringComparer.Ordinal);

    /// <summary>Writes all tables, each to a stream of its own.</summary>
    /// <param name="open">Opens the stream for a file's name, such as <c>pieces.csv</c>.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task WriteAsync(Func<string, Task<Stream>> open, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        // One moment for all tables: SQLite reads from its snapshot without the write lock at the lowest level, a server at repeatable read.
        IsolationLevel level = options.Store == BookStore.Sqlite ? IsolationLevel.ReadUncommitted : IsolationLevel.RepeatableRead;
        await using IDbContextTransaction moment = await db.Database.BeginTransactionAsync(level, cancel);
        foreach (IEntityType kind in Kinds(db))
        {
            await using Stream stream = await open($"{FileName(kind.GetTableName()!)}.csv");
            await using StreamWriter writer = new(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: true));
            await (Task)WriteRows.MakeGenericMethod(kind.ClrType).Invoke(null, [db, kind, writer, cancel])!;
        }
    }

    private static async Task WriteTableAsync<T>(BookContext db, IEntityType kind, StreamWriter writer, CancellationToken cancel)
        where T : class
    {
        IProperty[] columns = [.. kind.GetProperties().OrderByDescending(p => p.IsPrimaryKey())];
        await writer.WriteAsync(CsvText.Line(columns.Select(c => Named(c.Name))));
        await foreach (T row in db.Set<T>().AsNoTracking().AsAsyncEnumerable().WithCancellation(cancel))
            await writer.WriteAsync(CsvText.Line(columns.Select(c => Text(c.PropertyInfo!.GetValue(row)))));
    }

    /// <summary>A value as text, the same in every culture and from every database.</summary>
    internal static string Text(object? value) => value switch
    {
        null => "",
        string text => CsvText.Neutral(text),
        bool yes => yes ? "true" : "false",
        DateTime at => at.ToString("yyyy-MM-dd'T'HH:mm:ss.ffffff'Z'", CultureInfo.InvariantCulture),
        DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
        IEnumerable list => string.Join(' ', list.Cast<object>().Select(Text)),
        IFormattable number => number.ToString(null, CultureInfo.InvariantCulture),
        _ => CsvText.Neutral(value.ToString() ?? ""),
    };

    private static string Named(string property) => char.ToLowerInvariant(property[0]) + property[1..];

    private static string FileName(string table) => string.Concat(table.Select((c, i) => char.IsUpper(c) ? (i > 0 ? "-" : "") + char.ToLowerInvariant(c) : c.ToString()));
}
