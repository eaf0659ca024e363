using System.Data;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Storage;
using Whetwright.Records.Backup;
using Whetwright.Records.Copying;
using Whetwright.Records.Photos;

namespace Whetwright.Records.Postgres;

/// <summary>What was moved.</summary>
/// <param name="Tables">Each table with its rows and their hash: the same on both sides.</param>
/// <param name="Photos">Photos, each read back and its hash compared.</param>
public sealed record Moved(IReadOnlyList<TableDigest> Tables, int Photos);

/// <summary>Moves a whole book into another place and proves it: the rows in one transaction, counts and hashes compared before it is committed.</summary>
public static class BookMove
{
    /// <summary>Moves. The book it came from stays as it is.</summary>
    /// <param name="from">Where it lies.</param>
    /// <param name="fromPhotos">Its photos.</param>
    /// <param name="to">An opened book with nothing entered in it yet.</param>
    /// <param name="toPhotos">Where photos go.</param>
    /// <param name="cancel">Gives up; nothing is left but photos that no row names.</param>
    /// <exception cref="BackupRefusedException">There is something in it already, a photo is missing or damaged, or what was written did not read back. No row was written.</exception>
    public static async Task<Moved> MoveAsync(
        IDbContextFactory<BookContext> from, IPhotoShelf fromPhotos, IDbContextFactory<BookContext> to, IPhotoShelf toPhotos, CancellationToken cancel = default)
    {
        await using BookContext source = await from.CreateDbContextAsync(cancel);
        await using IDbContextTransaction moment = await source.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancel);
        await using BookContext target = await to.CreateDbContextAsync(cancel);
        await using IDbContextTransaction whole = await target.Database.BeginTransactionAsync(IsolationLevel.Serializable, cancel);
        if ((await BookDigest.OfAsync(target, cancel)).FirstOrDefault(t => t.Rows > (t.Table == "Shop" ? 1 : 0)) is { } filled)
            throw new BackupRefusedException($"The book there is not empty: {filled.Rows} rows in {filled.Table}. A database with no book in it would be right; nothing was touched.");

        List<string> hashes = await source.Photos.Select(p => p.Hash).Distinct().OrderBy(h => h).ToListAsync(cancel);
        foreach (string hash in hashes)
            await PhotoAsync(hash, fromPhotos, toPhotos, cancel);

        await target.Shop.ExecuteDeleteAsync(cancel);
        await BookCopy.RowsAsync(source, target, cancel);
        await Sequences.CatchUpAsync(target, cancel);
        IReadOnlyList<TableDigest> before = await BookDigest.OfAsync(source, cancel), after = await BookDigest.OfAsync(target, cancel);
        if (BookDigest.Difference(before, after) is { } different)
            throw new BackupRefusedException($"What was written did not read back: {different} Nothing was kept.");
        await whole.CommitAsync(cancel);
        return new Moved(after, hashes.Count);
    }

    private static async Task PhotoAsync(string hash, IPhotoShelf from, IPhotoShelf to, CancellationToken cancel)
    {
        byte[] bytes = await ShelfBytes.ReadAsync(from, hash, cancel) ?? throw new BackupRefusedException($"The photo {hash} is in the book, but its file is gone.");
        if (ShelfBytes.HashOf(bytes) != hash)
            throw new BackupRefusedException($"The photo {hash} is damaged: its bytes are no longer those that were kept.");
        await to.KeepAsync(hash, bytes, cancel);
        if (await ShelfBytes.ReadAsync(to, hash, cancel) is not { } back || ShelfBytes.HashOf(back) != hash)
            throw new BackupRefusedException($"The photo {hash} did not read back where it was put.");
    }
}
