using System.IO.Compression;
using System.Security.Cryptography;
using System.Text.Json;
using Whetwright.Records.Photos;

namespace Whetwright.Records.Backup;

/// <summary>What a restore did.</summary>
/// <param name="Manifest">What was restored.</param>
/// <param name="BookBefore">Where the book before lies now; null where there was none.</param>
public sealed record Restored(BackupManifest Manifest, string? BookBefore);

/// <summary>One verified file with the whole book, made while the program runs; and the way back.</summary>
/// <param name="snapshot">The database's part.</param>
/// <param name="photos">The photos.</param>
/// <param name="options">Where the book lies.</param>
/// <param name="clock">The time.</param>
public sealed class BookBackup(IBookSnapshot snapshot, IPhotoShelf photos, BookOptions options, BookClock clock)
{
    /// <summary>Writes a backup, reads it back whole, and only then gives it its name.</summary>
    /// <param name="file">The file to make; replaced where it is there.</param>
    /// <param name="cancel">Gives up; nothing is left behind.</param>
    /// <exception cref="BackupRefusedException">A photo is missing or damaged in the book, or what was written did not read back.</exception>
    public Task<BackupManifest> WriteAsync(string file, CancellationToken cancel = default) => WriteAsync(file, passphrase: null, cancel);

    /// <summary>The same under a passphrase; null for none.</summary>
    public async Task<BackupManifest> WriteAsync(string file, string? passphrase, CancellationToken cancel = default)
    {
        string place = Path.GetFullPath(file);
        Directory.CreateDirectory(Path.GetDirectoryName(place)!);
        string coming = $"{place}.{Guid.NewGuid():N}.coming";
        try
        {
            using WorkFolder work = new(options.DataFolder);
            string copy = Path.Combine(work.Path, snapshot.EntryName);
            DateTime madeAt = clock.Now();
            await snapshot.TakeAsync(copy, cancel);
            SnapshotContent content = await snapshot.InspectAsync(copy, cancel);
            string plain = passphrase is null ? coming : Path.Combine(work.Path, "plain.zip");
            await using (FileStream stream = new(plain, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None))
            {
                await using (ZipArchive zip = await ZipArchive.CreateAsync(stream, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, cancel))
                {
                    List<BackupFile> files = [await AddAsync(zip, snapshot.EntryName, () => File.OpenRead(copy), CompressionLevel.Fastest, cancel)];
                    foreach (string hash in content.PhotoHashes)
                    {
                        BackupFile photo = await AddAsync(zip, PhotoName(hash), () => photos.Open(hash) ?? throw new BackupRefusedException($"The photo {hash} is in the book, but its file is gone."), CompressionLevel.NoCompression, cancel);
                        if (photo.Sha256 != hash)
                            throw new BackupRefusedException($"The photo {hash} is damaged: its bytes are no longer those that were kept.");
                        files.Add(photo);
                    }

                    BackupManifest manifest = new(BackupManifest.CurrentFormat, madeAt, content.Model, content.Rows, files);
                    await using Stream entry = await zip.CreateEntry(BackupManifest.EntryName).OpenAsync(cancel);
                    await entry.WriteAsync(manifest.ToJson(), cancel);
                }

                stream.Flush(flushToDisk: true);
            }

            if (passphrase is not null)
                await Task.Run(() => SealedFile.Seal(plain, coming, passphrase), cancel);
            BackupManifest verified = await UnpackAsync(coming, work.Sub("again"), passphrase, cancel);
            File.Move(coming, place, overwrite: true);
            DiskFolder.Flush(Path.GetDirectoryName(place)!);
            new LastBackup(place, madeAt, passphrase is not null).Note(options.DataFolder);
            return verified;
        }
        finally
        {
            File.Delete(coming);
        }
    }

    /// <summary>Looks a backup through without restoring it.</summary>
    /// <exception cref="BackupRefusedException">It is damaged or no backup of ours.</exception>
    public Task<BackupManifest> VerifyAsync(string file, CancellationToken cancel = default) => VerifyAsync(file, passphrase: null, cancel);

    /// <summary>The same for one under a passphrase.</summary>
    public async Task<BackupManifest> VerifyAsync(string file, string? passphrase, CancellationToken cancel = default)
    {
        using WorkFolder work = new(options.DataFolder);
        return await UnpackAsync(file, work.Path, passphrase, cancel);
    }

    /// <summary>Verifies a backup whole, and only then puts it in the book's place.</summary>
    /// <exception cref="BackupRefusedException">It is damaged, or the book is in use. Nothing was touched.</exception>
    public Task<Restored> RestoreAsync(string file, CancellationToken cancel = default) => RestoreAsync(file, passphrase: null, cancel);

    /// <summary>The same for one under a passphrase.</summary>
    public async Task<Restored> RestoreAsync(string file, string? passphrase, CancellationToken cancel = default)
    {
        using WorkFolder work = new(options.DataFolder);
        BackupManifest manifest = await UnpackAsync(file, work.Path, passphrase, cancel);
        // Photos first: a name that is there already has the same bytes, and one too many harms nobody.
        foreach (BackupFile photo in manifest.Files.Where(f => f.Name != snapshot.EntryName))
        {
            string hash = HashOf(photo.Name);
            if (await ShelfBytes.ReadAsync(photos, hash, cancel) is { } there && ShelfBytes.HashOf(there) != hash)
                await photos.DeleteAsync(hash, cancel); // rotted since: the whole one takes its place
            await photos.KeepAsync(hash, await File.ReadAllBytesAsync(Path.Combine(work.Path, hash), cancel), cancel);
        }

        string? before = await snapshot.PutInPlaceAsync(Path.Combine(work.Path, snapshot.EntryName), cancel);
        return new Restored(manifest, before);
    }

    /// <summary>Unpacks into a folder, every file checked against the manifest and the snapshot against its own rows.</summary>
    private async Task<BackupManifest> UnpackAsync(string file, string folder, string? passphrase, CancellationToken cancel)
    {
        try
        {
            string plain = file;
            if (SealedFile.IsSealed(file))
            {
                plain = Path.Combine(folder, "opened.zip");
                await Task.Run(() => SealedFile.Open(file, plain, passphrase), cancel);
            }

            await using FileStream stream = new(plain, FileMode.Open, FileAccess.Read, FileShare.Read);
            await using ZipArchive zip = await ZipArchive.CreateAsync(stream, ZipArchiveMode.Read, leaveOpen: true, entryNameEncoding: null, cancel);
            BackupManifest manifest = await ManifestAsync(zip, cancel);
            foreach (BackupFile listed in manifest.Files)
            {
                ZipArchiveEntry entry = zip.GetEntry(listed.Name) ?? throw new BackupRefusedException($"{file}: {listed.Name} is on its list and not in it.");
                string place = Path.Combine(folder, listed.Name == snapshot.EntryName ? snapshot.EntryName : HashOf(listed.Name));
                await using Stream content = await entry.OpenAsync(cancel);
                (long bytes, string hash) = await CopyAsync(content, place, listed.Bytes, cancel);
                if (bytes != listed.Bytes || hash != listed.Sha256)
                    throw new BackupRefusedException($"{file}: {listed.Name} is not as it was written ({bytes} bytes, listed {listed.Bytes}; hash {hash[..12]}…, listed {listed.Sha256[..Math.Min(12, listed.Sha256.Length)]}…).");
            }

            SnapshotContent content2 = await snapshot.InspectAsync(Path.Combine(folder, snapshot.EntryName), cancel);
            if (content2.Model != manifest.Model || !Same(content2.Rows, manifest.Rows))
                throw new BackupRefusedException($"{file}: its tables are not those of its list.");
            HashSet<string> kept = [.. manifest.Files.Select(f => f.Name)];
            if (content2.PhotoHashes.FirstOrDefault(h => !kept.Contains(PhotoName(h))) is { } missing)
                throw new BackupRefusedException($"{file}: the photo {missing} is named by its rows and not in it.");
            return manifest;
        }
        catch (Exception e) when (e is InvalidDataException or JsonException or EndOfStreamException or FileNotFoundException or DirectoryNotFoundException)
        {
            throw new BackupRefusedException($"{file}: {(e is IOException and not EndOfStreamException ? "there is no such file" : "this is no whole backup of ours")} ({e.Message})", e);
        }
    }

    private async Task<BackupManifest> ManifestAsync(ZipArchive zip, CancellationToken cancel)
    {
        ZipArchiveEntry entry = zip.GetEntry(BackupManifest.EntryName) ?? throw new InvalidDataException("it has no list of its content");
        await using Stream json = await entry.OpenAsync(cancel);
        BackupManifest manifest = BackupManifest.FromJson(json) ?? throw new InvalidDataException("its list is empty");
        if (manifest.FormatVersion != BackupManifest.CurrentFormat)
            throw new BackupRefusedException($"Its format is version {manifest.FormatVersion}; this program reads version {BackupManifest.CurrentFormat}.");
        if (manifest.Files.Count(f => f.Name == snapshot.EntryName) != 1 || manifest.Files.DistinctBy(f => f.Name, StringComparer.Ordinal).Count() != manifest.Files.Count)
            throw new InvalidDataException("its list has no database, or a file twice");
        foreach (BackupFile listed in manifest.Files.Where(f => f.Name != snapshot.EntryName))
        {
            if (!PhotoFolder.IsHash(HashOf(listed.Name)) || listed.Name != PhotoName(HashOf(listed.Name)))
                throw new InvalidDataException($"its list names {listed.Name}, which has no place in a book");
        }

        return manifest;
    }

    private static async Task<BackupFile> AddAsync(ZipArchive zip, string name, Func<Stream> open, CompressionLevel level, CancellationToken cancel)
    {
        await using Stream from = open();
        await using Stream to = await zip.CreateEntry(name, level).OpenAsync(cancel);
        (long bytes, string hash) = await HashedCopyAsync(from, to, long.MaxValue, cancel);
        return new BackupFile(name, bytes, hash);
    }

    private static async Task<(long Bytes, string Hash)> CopyAsync(Stream from, string place, long most, CancellationToken cancel)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(place)!);
        await using FileStream to = new(place, FileMode.Create, FileAccess.Write, FileShare.None);
        (long, string) copied = await HashedCopyAsync(from, to, most, cancel);
        to.Flush(flushToDisk: true);
        return copied;
    }

    /// <summary>Copies and hashes; stops where more comes than was announced.</summary>
    private static async Task<(long Bytes, string Hash)> HashedCopyAsync(Stream from, Stream to, long most, CancellationToken cancel)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] part = new byte[131072];
        long bytes = 0;
        int read;
        while (bytes <= most && (read = await from.ReadAsync(part, cancel)) > 0)
        {
            hash.AppendData(part, 0, read);
            await to.WriteAsync(part.AsMemory(0, read), cancel);
            bytes += read;
        }

        return (bytes, Convert.ToHexStringLower(hash.GetHashAndReset()));
    }

    private static bool Same(IReadOnlyDictionary<string, long> a, IReadOnlyDictionary<string, long> b) =>
        a.Count == b.Count && a.All(pair => b.TryGetValue(pair.Key, out long other) && other == pair.Value);

    private static string PhotoName(string hash) => $"{PhotoFolder.FolderName}/{hash[..2]}/{hash[2..]}";

    private static string HashOf(string name) => name.Split('/') is [PhotoFolder.FolderName, var two, var rest] ? two + rest : "";

    /// <summary>A folder on the book's own disk, so that files can be renamed into it; gone afterwards.</summary>
    private sealed class WorkFolder : IDisposable
    {
        private readonly string? madeHere;

        public WorkFolder(string dataFolder)
        {
            madeHere = Directory.Exists(dataFolder) ? null : dataFolder;
            Path = System.IO.Path.Combine(dataFolder, $"work-{Guid.NewGuid():N}");
            Directory.CreateDirectory(Path);
        }

        public string Path { get; }

        public string Sub(string name) => Directory.CreateDirectory(System.IO.Path.Combine(Path, name)).FullName;

        public void Dispose()
        {
            Directory.Delete(Path, recursive: true);
            if (madeHere is not null && !Directory.EnumerateFileSystemEntries(madeHere).Any())
                Directory.Delete(madeHere);
        }
    }
}
