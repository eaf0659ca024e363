using System.Security.Cryptography;

namespace Whetwright.Records.Photos;

/// <summary>Bytes on a shelf.</summary>
/// <param name="Hash">Their SHA-256, lower-case hexadecimal: their name.</param>
/// <param name="KeptAt">When they were last put there, by the shelf's own clock, UTC.</param>
public sealed record ShelvedPhoto(string Hash, DateTime KeptAt);

/// <summary>Where the bytes of photos lie: a folder, or a store on the network. It knows nothing of the book.</summary>
public interface IPhotoShelf
{
    /// <summary>Where it is, in words for the person.</summary>
    string Where { get; }

    /// <summary>Keeps bytes under their hash, whole or not at all, and lasting when it returns. Bytes that are there already become young again.</summary>
    Task KeepAsync(string hash, byte[] bytes, CancellationToken cancel = default);

    /// <summary>The bytes; null where they are not there.</summary>
    Stream? Open(string hash);

    /// <summary>A file with the bytes, for programs that read one; null where they are not there.</summary>
    string? PathOf(string hash);

    /// <summary>All that is there.</summary>
    IEnumerable<ShelvedPhoto> List();

    /// <summary>Deletes; nothing happens where there is none.</summary>
    Task DeleteAsync(string hash, CancellationToken cancel = default);

    /// <summary>Deletes what a program that died left half-written before this time; returns how many.</summary>
    Task<int> DeleteHalvesAsync(DateTime before, CancellationToken cancel = default);
}

/// <summary>Whole photos from a shelf.</summary>
public static class ShelfBytes
{
    /// <summary>The bytes; null where they are not there.</summary>
    public static async Task<byte[]?> ReadAsync(IPhotoShelf shelf, string hash, CancellationToken cancel = default)
    {
        await using Stream? from = shelf.Open(hash);
        if (from is null)
            return null;
        using MemoryStream all = new();
        await from.CopyToAsync(all, cancel);
        return all.ToArray();
    }

    /// <summary>SHA-256, lower-case hexadecimal.</summary>
    public static string HashOf(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));
}
