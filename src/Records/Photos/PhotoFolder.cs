namespace Whetwright.Records.Photos;

/// <summary>Photos in a folder, the book's own or one that several stations share: <c>ab/cdef…</c>, named by SHA-256.</summary>
/// <param name="options">Where they lie.</param>
public sealed class PhotoFolder(BookOptions options) : IPhotoShelf
{
    /// <summary>Name of the folder in the data folder, and of photos in a backup.</summary>
    public const string FolderName = "photos";

    private string Root => options.PhotoFolder ?? Path.Combine(options.DataFolder, FolderName);

    /// <inheritdoc/>
    public string Where => Root;

    /// <inheritdoc/>
    public Stream? Open(string hash) => PathOf(hash) is { } path ? new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete) : null;

    /// <inheritdoc/>
    public string? PathOf(string hash) => IsHash(hash) && File.Exists(Place(hash)) ? Place(hash) : null;

    /// <inheritdoc/>
    public IEnumerable<ShelvedPhoto> List()
    {
        if (!Directory.Exists(Root))
            yield break;
        foreach (string path in Directory.EnumerateFiles(Root, "*", SearchOption.AllDirectories))
        {
            string hash = Path.GetFileName(Path.GetDirectoryName(path)!) + Path.GetFileName(path);
            if (IsHash(hash))
                yield return new ShelvedPhoto(hash, File.GetLastWriteTimeUtc(path)); // the file system's clock, not the book's
        }
    }

    /// <inheritdoc/>
    public Task DeleteAsync(string hash, CancellationToken cancel = default)
    {
        if (PathOf(hash) is { } path)
            File.Delete(path);
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    public Task<int> DeleteHalvesAsync(DateTime before, CancellationToken cancel = default)
    {
        int deleted = 0;
        foreach (string half in Directory.Exists(Root) ? Directory.EnumerateFiles(Root, "*.coming").ToList() : [])
        {
            if (File.GetLastWriteTimeUtc(half) >= before)
                continue;
            File.Delete(half);
            deleted++;
        }

        return Task.FromResult(deleted);
    }

    /// <summary>A new name only for whole bytes that are on the disk: a file of ours, flushed, then renamed.</summary>
    public async Task KeepAsync(string hash, byte[] bytes, CancellationToken cancel = default)
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
}
