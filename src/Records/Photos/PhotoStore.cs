using System.Globalization;
using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Saving;

namespace Whetwright.Records.Photos;

/// <summary>Looks at photos as they come, and keeps their bytes on the shelf that was chosen.</summary>
/// <param name="books">Makes contexts.</param>
/// <param name="shelf">Where the bytes lie.</param>
/// <param name="clock">The time.</param>
/// <param name="bounds">How large a photo may be.</param>
/// <param name="options">Where small copies lie.</param>
public sealed class PhotoStore(IDbContextFactory<BookContext> books, IPhotoShelf shelf, BookClock clock, PhotoBounds bounds, BookOptions options) : IPhotoStore
{
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

        if (PhotoEnd.Check(bytes, header) is not { } end)
            return new SaveOutcome<Photo>.Refused("Photo", "broken off, moving, or something else beside a picture", "a whole photo, as the phone took it, would be right");
        byte[] kept = LocationStrip.From(bytes[..end], header);
        string hash = Convert.ToHexStringLower(SHA256.HashData(kept));
        await shelf.KeepAsync(hash, kept, cancel);
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
    public Stream? Open(string hash) => shelf.Open(hash);

    /// <inheritdoc/>
    public string? PathOf(string hash) => shelf.PathOf(hash);

    /// <inheritdoc/>
    public IEnumerable<string> List() => shelf.List().Select(p => p.Hash);

    /// <inheritdoc/>
    public async Task<int> DeleteOrphansAsync(TimeSpan olderThan, CancellationToken cancel = default)
    {
        DateTime before = DateTime.UtcNow - olderThan;
        IReadOnlyList<string> orphans = await OrphansAsync(olderThan, cancel);
        foreach (string hash in orphans)
            await DeleteAsync(hash, cancel);
        return orphans.Count + await shelf.DeleteHalvesAsync(before, cancel);
    }

    /// <inheritdoc/>
    public async Task<IReadOnlyList<string>> OrphansAsync(TimeSpan olderThan, CancellationToken cancel = default)
    {
        DateTime before = DateTime.UtcNow - olderThan;
        List<string> old = [.. shelf.List().Where(p => p.KeptAt < before).Select(p => p.Hash)]; // listed first: what a row names since then is not taken
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        HashSet<string> named = [.. await db.Photos.Select(p => p.Hash).Distinct().ToListAsync(cancel)];
        return [.. old.Where(h => !named.Contains(h))];
    }

    /// <inheritdoc/>
    public async Task<int> DeleteUnnamedAsync(IEnumerable<string> hashes, CancellationToken cancel = default)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        int deleted = 0;
        foreach (string hash in hashes.Distinct(StringComparer.Ordinal))
        {
            if (await db.Photos.AnyAsync(p => p.Hash == hash, cancel))
                continue; // the same bytes are somebody else's photo, too
            await DeleteAsync(hash, cancel);
            deleted++;
        }

        return deleted;
    }

    /// <summary>The bytes, and the small copy that pages made of them.</summary>
    private async Task DeleteAsync(string hash, CancellationToken cancel)
    {
        await shelf.DeleteAsync(hash, cancel);
        string small = Path.Combine(options.DataFolder, BookOptions.SmallPhotos, hash + ".jpg");
        if (File.Exists(small))
            File.Delete(small);
    }

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
