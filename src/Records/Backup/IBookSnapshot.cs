namespace Whetwright.Records.Backup;

/// <summary>What a snapshot of the database holds, as read from the snapshot itself.</summary>
/// <param name="Model">The newest migration in it.</param>
/// <param name="Rows">Rows by table.</param>
/// <param name="PhotoHashes">The photos its rows name.</param>
public sealed record SnapshotContent(string Model, IReadOnlyDictionary<string, long> Rows, IReadOnlyList<string> PhotoHashes);

/// <summary>A database's own part of backup and restore.</summary>
public interface IBookSnapshot
{
    /// <summary>Name of the snapshot in a backup.</summary>
    string EntryName { get; }

    /// <summary>Writes the book as it is at one moment into a new file, while others go on writing.</summary>
    Task TakeAsync(string file, CancellationToken cancel);

    /// <summary>Looks through a whole snapshot.</summary>
    /// <exception cref="BackupRefusedException">It is damaged, no book, or made by a newer program.</exception>
    Task<SnapshotContent> InspectAsync(string file, CancellationToken cancel);

    /// <summary>Puts a snapshot in the book's place in one step. The book before is kept beside it; its name is returned, null where there was none.</summary>
    /// <exception cref="BackupRefusedException">The book is in use.</exception>
    Task<string?> PutInPlaceAsync(string file, CancellationToken cancel);

    /// <summary>Closes the connections that wait in this program's pool, where they would hold a file that is about to be replaced.</summary>
    void LetGo()
    {
    }
}
