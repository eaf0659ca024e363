using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records.Backup;
using Whetwright.Records.Photos;

namespace Whetwright.Records.Health;

/// <summary>How a thing stands.</summary>
public enum Condition
{
    /// <summary>Nothing to do.</summary>
    Well = 0,

    /// <summary>Something to do soon.</summary>
    Mind = 1,

    /// <summary>Something is wrong now.</summary>
    Bad = 2,
}

/// <summary>One thing looked at.</summary>
/// <param name="What">"database", "photos", "backup", "clock", "space".</param>
/// <param name="How">How it stands.</param>
/// <param name="Found">What was found.</param>
/// <param name="ToDo">What to do about it; null for nothing.</param>
public sealed record Finding(string What, Condition How, string Found, string? ToDo = null);

/// <summary>Looks a book over: database, photos, backups, clock, free space. It changes nothing unless asked to clean up.</summary>
/// <param name="door">The database.</param>
/// <param name="books">Makes contexts.</param>
/// <param name="shelf">Bytes of photos.</param>
/// <param name="photos">Photos.</param>
/// <param name="backup">Looks backups through.</param>
/// <param name="options">Where the book lies.</param>
/// <param name="time">The machine's time.</param>
public sealed class BookDoctor(BookDoor door, IDbContextFactory<BookContext> books, IPhotoShelf shelf, IPhotoStore photos, BookBackup backup, BookOptions options, TimeProvider time)
{
    /// <summary>An orphan may be a photo whose form is still being saved; after a day it is not. Chosen, not derived.</summary>
    public static readonly TimeSpan OrphanAge = TimeSpan.FromDays(1);

    /// <summary>Space below which a shop should look for more, bytes: some weeks of photos. Chosen, not derived.</summary>
    public const long LittleSpace = 2_000_000_000;

    /// <summary>Space below which saves may soon fail, bytes. Chosen, not derived.</summary>
    public const long NoSpace = 200_000_000;

    /// <summary>Looks everything over.</summary>
    /// <param name="clean">Takes orphaned photos away.</param>
    /// <param name="passphrase">Of the last backup, where it has one; null leaves it unopened.</param>
    /// <param name="cancel">Gives up.</param>
    public async Task<IReadOnlyList<Finding>> LookAsync(bool clean, string? passphrase, CancellationToken cancel = default)
    {
        List<Finding> findings = [await DatabaseAsync(cancel)];
        if (findings[0].How != Condition.Bad)
        {
            await door.OpenAsync(cancel);
            findings.AddRange(await PhotosAsync(clean, cancel));
            findings.Add(await ClockAsync(cancel));
        }

        findings.Add(await BackupAsync(passphrase, cancel));
        findings.Add(Space());
        return findings;
    }

    private async Task<Finding> DatabaseAsync(CancellationToken cancel) =>
        await door.IntegrityAsync(cancel) is { } wrong
            ? new("database", Condition.Bad, $"damaged: {wrong}", "Stop the program, keep the data folder as it is, and restore the last backup: whetwright restore FILE --data DIR. The damaged book is kept beside the new one.")
            : new("database", Condition.Well, "whole: every page, row and index reads");

    private async Task<IEnumerable<Finding>> PhotosAsync(bool clean, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<string> hashes = await db.Photos.Select(p => p.Hash).Distinct().ToListAsync(cancel);
        List<string> gone = [], rotten = [];
        foreach (string hash in hashes)
        {
            byte[]? bytes = await ShelfBytes.ReadAsync(shelf, hash, cancel);
            if (bytes is null)
                gone.Add(hash);
            else if (ShelfBytes.HashOf(bytes) != hash)
                rotten.Add(hash);
        }

        List<Finding> findings = [];
        if (gone.Count + rotten.Count > 0)
        {
            string named = string.Join(", ", gone.Concat(rotten).Take(3).Select(h => h[..12] + "…"));
            findings.Add(new("photos", Condition.Bad, $"{gone.Count} of {hashes.Count} gone, {rotten.Count} changed ({named}) in {shelf.Where}",
                "Copy the files of these names back from a backup: it is a zip file, and they lie in its folder photos. Restoring the whole backup does it too."));
        }
        else
        {
            findings.Add(new("photos", Condition.Well, string.Create(CultureInfo.InvariantCulture, $"{hashes.Count}, each with the bytes that were kept, in {shelf.Where}")));
        }

        int orphans = clean ? await photos.DeleteOrphansAsync(OrphanAge, cancel) : (await photos.OrphansAsync(OrphanAge, cancel)).Count;
        if (orphans > 0 && clean)
            findings.Add(new("photos", Condition.Well, $"{orphans} that no entry names taken away"));
        else if (orphans > 0)
            findings.Add(new("photos", Condition.Mind, $"{orphans} that no entry names (a save that was given up)", "whetwright doctor --data DIR --clean takes them away."));
        return findings;
    }

    private async Task<Finding> BackupAsync(string? passphrase, CancellationToken cancel)
    {
        const string make = "whetwright backup --data DIR --out FILE, onto a disk that is not this one; once a week is little, once a day is right.";
        if (LastBackup.Read(options.DataFolder) is not { } last)
            return new("backup", Condition.Mind, "none was made of this book by this program", make);
        double days = (time.GetUtcNow().UtcDateTime - last.MadeAt).TotalDays;
        string age = string.Create(CultureInfo.InvariantCulture, $"the last is {Math.Max(0, days):0.0} days old");
        if (File.Exists(last.File) && (!last.Sealed || passphrase is not null))
        {
            try
            {
                await backup.VerifyAsync(last.File, last.Sealed ? passphrase : null, cancel);
                age += " and whole";
            }
            catch (BackupRefusedException e)
            {
                return new("backup", Condition.Bad, $"{age} and cannot be used: {e.Message}", "Make another now: " + make);
            }
        }
        else
        {
            age += File.Exists(last.File) ? ", under a passphrase, not opened" : ", no longer where it was written";
        }

        return days > 7 ? new("backup", Condition.Mind, age, make) : new("backup", Condition.Well, age);
    }

    private async Task<Finding> ClockAsync(CancellationToken cancel)
    {
        DateTime now = time.GetUtcNow().UtcDateTime;
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        DateTime? latest = await db.Submissions.MaxAsync(s => (DateTime?)s.EnteredAt, cancel);
        string shown = string.Create(CultureInfo.InvariantCulture, $"{now:yyyy-MM-dd HH:mm} UTC");
        if (latest > now.AddMinutes(5))
            return new("clock", Condition.Bad, string.Create(CultureInfo.InvariantCulture, $"it says {shown}, but something was entered at {latest:yyyy-MM-dd HH:mm} UTC"), "Set the machine's clock (timedatectl set-ntp true); entries made meanwhile carry the wrong time.");
        return now.Year < 2025 ? new("clock", Condition.Bad, $"it says {shown}", "Set the machine's clock (timedatectl set-ntp true).") : new("clock", Condition.Well, shown);
    }

    private Finding Space()
    {
        long free = new DriveInfo(Path.GetFullPath(options.DataFolder)).AvailableFreeSpace;
        string shown = string.Create(CultureInfo.InvariantCulture, $"{free / 1e9:0.0} GB free where {options.DataFolder} lies");
        const string make = "Move old backups and other files to another disk; where the disk is full, forms are refused and say so.";
        return free < NoSpace ? new("space", Condition.Bad, shown, make) : free < LittleSpace ? new("space", Condition.Mind, shown, make) : new("space", Condition.Well, shown);
    }
}
