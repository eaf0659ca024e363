using Whetwright.Records.Saving;

namespace Whetwright.Records.Photos;

/// <summary>What comes with a photo.</summary>
/// <param name="Subject">What it shows.</param>
/// <param name="VisitId">The visit; null for none.</param>
/// <param name="HappenedAt">When it was taken, UTC; null for now.</param>
public sealed record PhotoForm(PhotoSubject Subject, long? VisitId = null, DateTime? HappenedAt = null);

/// <summary>Bounds of a photo, looked at before anything is decoded. Chosen, not derived: the largest phones fit twice.</summary>
/// <param name="Bytes">Bytes at most.</param>
/// <param name="Pixels">Pixels at most.</param>
public sealed record PhotoBounds(long Bytes = 40_000_000, long Pixels = 120_000_000);

/// <summary>Photos beside the database, each under the hash of its bytes.</summary>
public interface IPhotoStore
{
    /// <summary>
    /// Keeps a photo: looked at for content and bounds, its location taken off, written and on the disk before its row is.
    /// Part of the write that <paramref name="db"/> belongs to: without its commit the bytes are an orphan and no photo.
    /// </summary>
    Task<SaveOutcome<Photo>> PutAsync(BookContext db, Stream content, PhotoForm form, CancellationToken cancel = default);

    /// <summary>The bytes of a photo; null where they are not there.</summary>
    Stream? Open(string hash);

    /// <summary>Where the bytes lie, for programs that read a file; null where they are not there.</summary>
    string? PathOf(string hash);

    /// <summary>Hashes of all bytes kept.</summary>
    IEnumerable<string> List();

    /// <summary>Deletes bytes that no row names and that are older than this; returns how many.</summary>
    Task<int> DeleteOrphansAsync(TimeSpan olderThan, CancellationToken cancel = default);

    /// <summary>Hashes of bytes that no row names and that are older than this.</summary>
    Task<IReadOnlyList<string>> OrphansAsync(TimeSpan olderThan, CancellationToken cancel = default);

    /// <summary>Deletes these bytes where no row names them any more; returns how many.</summary>
    Task<int> DeleteUnnamedAsync(IEnumerable<string> hashes, CancellationToken cancel = default);
}
