using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Whetwright.Records.Backup;

/// <summary>
/// A file under a passphrase. AES-256-GCM (NIST SP 800-38D) in pieces of a mebibyte, each with its own nonce (random start, then a count) and bound to the
/// header, its number and whether it is the last: so a piece changed, moved, taken out or cut off is refused. The key comes from the passphrase by PBKDF2 with
/// SHA-512 (RFC 8018); the second half of what it yields tells a wrong passphrase from damage. Numbers stand in the header, so that they can be raised later.
/// <code>"WWSEALED" | version 1 | rounds, 4 bytes | salt, 16 | nonce start, 8 | piece, 4 | check of the passphrase, 32 | pieces: bytes, tag of 16 | …</code>
/// </summary>
public static class SealedFile
{
    /// <summary>Rounds for new files: 210,000 with SHA-512 (OWASP Password Storage Cheat Sheet, 2023, from memory).</summary>
    public const int Rounds = 210_000;

    private const int Piece = 1 << 20, Tag = 16, HeaderBytes = 8 + 1 + 4 + 16 + 8 + 4 + 32;

    private static ReadOnlySpan<byte> Magic => "WWSEALED"u8;

    /// <summary>True where the file begins as one of ours does.</summary>
    public static bool IsSealed(string file)
    {
        using FileStream stream = new(file, FileMode.Open, FileAccess.Read, FileShare.Read);
        Span<byte> start = stackalloc byte[8];
        return stream.ReadAtLeast(start, 8, throwOnEndOfStream: false) == 8 && start.SequenceEqual(Magic);
    }

    /// <summary>What is wrong with a passphrase for a new file; null where nothing is.</summary>
    public static string? Weakness(string passphrase) =>
        passphrase.Length is >= 12 and <= 1000 ? null : $"the passphrase has {passphrase.Length} characters; 12 or more would be right, such as four words";

    /// <summary>Seals a file into a new one.</summary>
    public static void Seal(string plain, string place, string passphrase)
    {
        byte[] header = new byte[HeaderBytes];
        Magic.CopyTo(header);
        header[8] = 1;
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(9), Rounds);
        RandomNumberGenerator.Fill(header.AsSpan(13, 24));
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(37), Piece);
        byte[] derived = Derive(passphrase, header);
        derived.AsSpan(32).CopyTo(header.AsSpan(41));
        using AesGcm aes = new(derived.AsSpan(0, 32), Tag);
        using FileStream from = new(plain, FileMode.Open, FileAccess.Read, FileShare.Read);
        using FileStream to = new(place, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        to.Write(header);
        byte[] bytes = new byte[Piece], sealedBytes = new byte[Piece + Tag];
        uint number = 0;
        bool last;
        do
        {
            int read = from.ReadAtLeast(bytes, Piece, throwOnEndOfStream: false);
            last = from.Position == from.Length;
            aes.Encrypt(Nonce(header, number), bytes.AsSpan(0, read), sealedBytes.AsSpan(0, read), sealedBytes.AsSpan(read, Tag), Bound(header, number, last));
            to.Write(sealedBytes, 0, read + Tag);
            number = checked(number + 1);
        }
        while (!last);
        to.Flush(flushToDisk: true);
        CryptographicOperations.ZeroMemory(derived);
    }

    /// <summary>Opens a sealed file into a new one.</summary>
    /// <exception cref="BackupRefusedException">The passphrase is wrong, or the file is damaged or cut short.</exception>
    public static void Open(string place, string plain, string? passphrase)
    {
        using FileStream from = new(place, FileMode.Open, FileAccess.Read, FileShare.Read);
        byte[] header = new byte[HeaderBytes];
        if (from.ReadAtLeast(header, HeaderBytes, throwOnEndOfStream: false) < HeaderBytes || !header.AsSpan(0, 8).SequenceEqual(Magic))
            throw new BackupRefusedException($"{place}: this is no whole sealed backup of ours.");
        int rounds = BinaryPrimitives.ReadInt32LittleEndian(header.AsSpan(9)), piece = BinaryPrimitives.ReadInt32LittleEndian(header.AsSpan(37));
        if (header[8] != 1 || rounds is < 10_000 or > 10_000_000 || piece is < 1024 or > 1 << 26)
            throw new BackupRefusedException($"{place}: its header is damaged, or a newer program made it.");
        if (string.IsNullOrEmpty(passphrase))
            throw new BackupRefusedException($"{place}: it is under a passphrase, and none was given.");
        byte[] derived = Derive(passphrase, header);
        if (!CryptographicOperations.FixedTimeEquals(derived.AsSpan(32), header.AsSpan(41)))
            throw new BackupRefusedException($"{place}: this is not its passphrase (or its first bytes are damaged). Nothing was touched.");
        using AesGcm aes = new(derived.AsSpan(0, 32), Tag);
        using FileStream to = new(plain, FileMode.Create, FileAccess.Write, FileShare.None);
        byte[] sealedBytes = new byte[piece + Tag], bytes = new byte[piece];
        uint number = 0;
        bool last;
        do
        {
            int read = from.ReadAtLeast(sealedBytes, sealedBytes.Length, throwOnEndOfStream: false);
            last = from.Position == from.Length;
            try
            {
                if (read < Tag)
                    throw new CryptographicException();
                aes.Decrypt(Nonce(header, number), sealedBytes.AsSpan(0, read - Tag), sealedBytes.AsSpan(read - Tag, Tag), bytes.AsSpan(0, read - Tag), Bound(header, number, last));
            }
            catch (CryptographicException e)
            {
                throw new BackupRefusedException($"{place}: it is damaged or cut short in its piece {number + 1}. Nothing was touched.", e);
            }

            to.Write(bytes, 0, read - Tag);
            number = checked(number + 1);
        }
        while (!last);
        CryptographicOperations.ZeroMemory(derived);
    }

    private static byte[] Derive(string passphrase, byte[] header) => Rfc2898DeriveBytes.Pbkdf2(
        Encoding.UTF8.GetBytes(passphrase.Normalize(NormalizationForm.FormC)), header.AsSpan(13, 16), BinaryPrimitives.ReadInt32LittleEndian(header.AsSpan(9)), HashAlgorithmName.SHA512, 64);

    private static byte[] Nonce(byte[] header, uint number)
    {
        byte[] nonce = new byte[12];
        header.AsSpan(29, 8).CopyTo(nonce);
        BinaryPrimitives.WriteUInt32LittleEndian(nonce.AsSpan(8), number);
        return nonce;
    }

    private static byte[] Bound(byte[] header, uint number, bool last)
    {
        byte[] bound = new byte[HeaderBytes + 5];
        header.CopyTo(bound, 0);
        BinaryPrimitives.WriteUInt32LittleEndian(bound.AsSpan(HeaderBytes), number);
        bound[^1] = last ? (byte)1 : (byte)0;
        return bound;
    }
}
