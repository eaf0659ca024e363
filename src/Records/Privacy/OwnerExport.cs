using System.IO.Compression;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Whetwright.Records.Copying;
using Whetwright.Records.Photos;

namespace Whetwright.Records.Privacy;

/// <summary>Everything the book holds about one owner, for them to take along: <c>owner.json</c> with every row, corrected ones too, and their photos.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="shelf">The photos.</param>
/// <param name="clock">The time.</param>
public sealed class OwnerExport(IDbContextFactory<BookContext> books, IPhotoShelf shelf, BookClock clock)
{
    /// <summary>Name of the text in the file.</summary>
    public const string EntryName = "owner.json";

    private static readonly MethodInfo Table = typeof(OwnerExport).GetMethod(nameof(TableAsync), BindingFlags.NonPublic | BindingFlags.Static)!;

    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };

    /// <summary>Writes the file; false, and nothing written, where there is no such owner.</summary>
    /// <exception cref="Backup.BackupRefusedException">A photo of theirs is gone or damaged.</exception>
    public async Task<bool> WriteAsync(long ownerId, Stream to, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (!await db.Owners.AnyAsync(o => o.Id == ownerId, cancel))
            return false;
        Keys keys = await Keys.OfAsync(db, ownerId, cancel);
        JsonObject all = new() { ["formatVersion"] = 1, ["madeAt"] = clock.Now().ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", System.Globalization.CultureInfo.InvariantCulture) };
        foreach (IEntityType kind in BookCopy.InOrder(db))
        {
            if (await (Task<JsonArray?>)Table.MakeGenericMethod(kind.ClrType).Invoke(null, [db, kind, keys, cancel])! is { Count: > 0 } rows)
                all[Camel(kind.GetTableName()!)] = rows;
        }

        await using ZipArchive zip = await ZipArchive.CreateAsync(to, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, cancel);
        await using (Stream text = await zip.CreateEntry(EntryName).OpenAsync(cancel))
            await JsonSerializer.SerializeAsync(text, all, Indented, cancel);
        foreach (var photo in await db.Photos.Where(p => p.VisitId != null && keys.Visits.Contains(p.VisitId.Value)).Select(p => new { p.Hash, p.ContentType }).Distinct().ToListAsync(cancel))
        {
            byte[] bytes = await ShelfBytes.ReadAsync(shelf, photo.Hash, cancel) ?? throw new Backup.BackupRefusedException($"The photo {photo.Hash} is in the book, but its file is gone.");
            await using Stream entry = await zip.CreateEntry($"photos/{photo.Hash}{(photo.ContentType == "image/png" ? ".png" : ".jpg")}", CompressionLevel.NoCompression).OpenAsync(cancel);
            await entry.WriteAsync(bytes, cancel);
        }

        return true;
    }

    /// <summary>The rows of one kind that are about them; null where the kind is about nobody.</summary>
    private static async Task<JsonArray?> TableAsync<T>(BookContext db, IEntityType kind, Keys keys, CancellationToken cancel)
        where T : class
    {
        if (keys.Filter<T>(kind) is not { } theirs)
            return null;
        JsonArray rows = [];
        await foreach (T row in theirs(db.InKeyOrder<T>(kind)).AsAsyncEnumerable().WithCancellation(cancel))
        {
            JsonObject json = [];
            foreach (IProperty column in kind.GetProperties().OrderByDescending(p => p.IsPrimaryKey()).Where(p => p.Name is not ("SearchText" or "Version")))
                json[Camel(column.Name)] = Value(column.PropertyInfo!.GetValue(row));
            rows.Add((JsonNode)json);
        }

        return rows;
    }

    private static JsonNode? Value(object? value) => value switch
    {
        null => null,
        DateTime at => at.ToString("yyyy-MM-dd'T'HH:mm:ss.ffffff'Z'", System.Globalization.CultureInfo.InvariantCulture),
        Enum word => word.ToString(),
        _ => JsonSerializer.SerializeToNode(value),
    };

    private static string Camel(string name) => char.ToLowerInvariant(name[0]) + name[1..];

    /// <summary>The keys by which rows are about an owner.</summary>
    private sealed record Keys(long Owner, long[] Pieces, long[] Visits, long[] Sets)
    {
        public static async Task<Keys> OfAsync(BookContext db, long owner, CancellationToken cancel)
        {
            long[] pieces = await db.Pieces.Where(p => p.OwnerId == owner).Select(p => p.Id).ToArrayAsync(cancel);
            return new Keys(
                owner, pieces,
                await db.Visits.Where(v => pieces.Contains(v.PieceId)).Select(v => v.Id).ToArrayAsync(cancel),
                await db.PieceSets.Where(s => s.OwnerId == owner).Select(s => s.Id).ToArrayAsync(cancel));
        }

        public Func<IQueryable<T>, IQueryable<T>>? Filter<T>(IEntityType kind)
            where T : class
        {
            if (typeof(T) == typeof(Owners.Owner))
                return rows => rows.Where(r => EF.Property<long>(r, "Id") == Owner);
            if (kind.FindProperty("OwnerId") is { } owner)
                return owner.ClrType == typeof(long) ? rows => rows.Where(r => EF.Property<long>(r, "OwnerId") == Owner) : rows => rows.Where(r => EF.Property<long?>(r, "OwnerId") == Owner);
            if (kind.FindProperty("VisitId") is { } visit)
                return visit.ClrType == typeof(long) ? rows => rows.Where(r => Visits.Contains(EF.Property<long>(r, "VisitId"))) : rows => rows.Where(r => Visits.Contains(EF.Property<long?>(r, "VisitId") ?? 0));
            if (kind.FindProperty("PieceId") is not null)
                return rows => rows.Where(r => Pieces.Contains(EF.Property<long>(r, "PieceId")));
            return kind.FindProperty("SetId") is not null ? rows => rows.Where(r => Sets.Contains(EF.Property<long>(r, "SetId"))) : null;
        }
    }
}
