using System.Globalization;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Photos;

/// <summary>Photos in a folder of the book: <c>photos/ab/cdef…</c>, named by SHA-256.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="options">Where the book lies.</param>
/// <param name="clock">The time.</param>
/// <param name="bounds">How large a photo may be.</param>
public sealed class PhotoFolder(IDbContextFactory<BookContext> books, BookOptions options, BookClock clock, PhotoBounds bounds) : IPhotoStore
{
    /// <summary>Name of the folder in the data folder.</summary>
    public const string FolderName = "photos";

    private string Root => Path.Combine(options.DataFolder, FolderName);

    /// <inheritdoc/>
    public async Task<SaveOutcome<Photo>> PutAsync(BookContext db, Stream content, PhotoForm form, CancellationToken cancel = default)
    {
        if (form.VisitId is { } visit && !await db.Visits.AnyAsync(v => v.Id == visit, cancel))
            return new SaveOutcome<Photo>.Refused(nameof(form.VisitId), visit.ToString(CultureInfo.InvariantCulture), "a visit in the book would be right");
        byte[]? bytes = await BoundedAsync(content, bounds.Bytes, cancel);
        if (bytes is null)
            return new SaveOutcome<Photo>.Refused("Photo", $"larger than {Shown(bounds.Bytes)} bytes", $"a JPEG or PNG of at most {Shown(bounds.Bytes)} bytes would be right");
        if (PhotoHeader.Read(bytes) is not { } header)
            return new SaveOutcome<Photo>.Refused("Photo", bytes.Length == 0 ? null : "neither a JPEG nor a PNG by its content", "a JPEG or PNG would be right; set the phone to its most compatible format");
        if ((long)header.WidthPx * header.HeightPx > bounds.Pixels)
            return new SaveOutcome<Photo>.Refused("Photo", $"{Shown(header.WidthPx)} × {Shown(header.HeightPx)} pixels", $"at most {Shown(bounds.Pixels)} pixels in all would be right");

        byte[] kept = LocationStrip.From(bytes, header);
        string hash = Convert.ToHexStringLower(SHA256.HashData(kept));
        await KeepAsync(hash, kept, cancel);
        DateTime now = clock.Now();
        Photo photo = new()
        {
            Hash = hash,
            ContentType = header.ContentType,
            Bytes = kept.Length,
            WidthPx = header.WidthPx,
            HeightPx = header.HeightPx,
            Subject = form.Subject,
            VisitId = form.VisitId,
            HappenedAt = form.HappenedAt ?? now,
            EnteredAt = now,
        };
        db.Photos.Add(photo);
        await db.SaveChangesAsync(cancel);
        return new SaveOutcome<Photo>.Saved(photo);
    }

    /// <inheritdoc/>
    public Stream? Open(string hash) => PathOf(hash) is { } path ? new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete) : null;

    /// <inheritdoc/>
    public string? PathOf(string hash) => IsHash(hash) && File.Exists(Place(hash)) ? Place(hash) : null;

    /// <inheritdoc/>
    public IEnumerable<string> List()
    {
        if (!Directory.Exists(Root))
            yield break;
        foreach (string path in Directory.EnumerateFiles(Root, "*", SearchOption.AllDirectories))
        {
            string hash = Path.GetFileName(Path.GetDirectoryName(path)!) + Path.GetFileName(path);
            if (IsHash(hash))
                yield return hash;
        }
    }

    /// <inheritdoc/>
    public async Task<int> DeleteOrphansAsync(TimeSpan olderThan, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        HashSet<string> named = [.. await db.Photos.Select(p => p.Hash).Distinct().ToListAsync(cancel)];
        DateTime before = DateTime.UtcNow - olderThan; // the file system's clock, not the book's
        int deleted = 0;
        foreach (string hash in List().Where(h => !named.Contains(h)).ToList())
        {
            if (File.GetLastWriteTimeUtc(Place(hash)) >= before)
                continue;
            File.Delete(Place(hash));
            deleted++;
        }

        return deleted;
    }

    /// <summary>A new name only for whole bytes that are on the disk: a file of ours, flushed, then renamed.</summary>
    private async Task KeepAsync(string hash, byte[] bytes, CancellationToken cancel)
    {
        string place = Place(hash);
        if (File.Exists(place) && new FileInfo(place).Length == bytes.Length)
        {
            File.SetLastWriteTimeUtc(place, DateTime.UtcNow); // young again: a clean-up under way must not take it
            return;
        }

        Directory.CreateDirectory(Path.GetDirectoryName(place)!);
        string coming = Path.Combine(Root, $"{Guid.NewGuid():N}.coming");
        try
        {
            await using (FileStream file = new(coming, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                await file.WriteAsync(bytes, cancel);
                file.Flush(flushToDisk: true);
            }

            File.Move(coming, place, overwrite: true);
            DiskFolder.Flush(Path.GetDirectoryName(place)!);
        }
        finally
        {
            File.Delete(coming);
        }
    }

    private string Place(string hash) => Path.Combine(Root, hash[..2], hash[2..]);

    internal static bool IsHash(string hash) => hash.Length == 64 && hash.All(c => c is (>= '0' and <= '9') or (>= 'a' and <= 'f'));

    private static async Task<byte[]?> BoundedAsync(Stream content, long most, CancellationToken cancel)
    {
        using MemoryStream all = new();
        byte[] part = new byte[81920];
        int read;
        while ((read = await content.ReadAsync(part, cancel)) > 0)
        {
            if (all.Length + read > most)
                return null;
            all.Write(part, 0, read);
        }

        return all.ToArray();
    }

    private static string Shown(long number) => number.ToString("N0", CultureInfo.InvariantCulture);
}
