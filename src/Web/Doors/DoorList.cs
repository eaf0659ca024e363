using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace Whetwright.Web.Doors;

/// <summary>
/// The master's passphrase and who is signed in, in <c>doors.json</c> of the data folder, readable by its owner alone. Not in the book: so neither a backup
/// nor an export holds it, and no restore lets in again who was sent away. Read anew when the file changes, so another program's change counts at once.
/// </summary>
/// <param name="folder">The data folder.</param>
/// <param name="time">The time.</param>
/// <param name="limits">How patient.</param>
public sealed class DoorList(string folder, TimeProvider time, DoorLimits limits)
{
    /// <summary>Name of the file.</summary>
    public const string FileName = "doors.json";

    private static readonly TimeSpan SeenStep = TimeSpan.FromMinutes(5); // last seen is kept to this
    private static readonly TimeSpan KeptAfter = TimeSpan.FromDays(90); // who is no longer in stays listed this long
    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web) { WriteIndented = true, Converters = { new JsonStringEnumConverter() } };

    // PBKDF2 with HMAC-SHA512 and this many rounds: OWASP's password storage sheet for that hash (from memory).
    private static readonly PasswordHasher<DoorState> Hasher = new(Options.Create(new PasswordHasherOptions { IterationCount = 210_000 }));

    private readonly Lock gate = new();
    private DoorState state = new(null, []);
    private (DateTime At, long Length) stamp = (DateTime.MinValue, -1);

    private string Place => Path.Combine(folder, FileName);

    /// <summary>A passphrase is set.</summary>
    public bool HasPassphrase => Read().PassphraseHash is not null;

    /// <summary>Devices and programs, the newest first.</summary>
    public IReadOnlyList<SignedIn> Devices => [.. Read().Devices.Reverse()];

    /// <summary>Who has this sign-in; null where it does not open the door (any more).</summary>
    public SignedIn? Find(string? id)
    {
        DateTimeOffset now = time.GetUtcNow();
        if (id is null || Read().Devices.FirstOrDefault(d => d.Id == id) is not { } device || !device.IsIn(now, limits))
            return null;
        if (now - device.LastSeen >= SeenStep)
            Write(s => s with { Devices = [.. s.Devices.Select(d => d.Id == id ? d with { LastSeen = now } : d)] });
        return device;
    }

    /// <summary>Whose token this is; null where it is nobody's.</summary>
    public SignedIn? FindToken(string token)
    {
        string[] parts = token.Split('.');
        return parts is ["ww", var id, var secret] && Find(id) is { Role: Role.Program, TokenHash: { } hash } program
            && CryptographicOperations.FixedTimeEquals(Encoding.ASCII.GetBytes(Hash(secret)), Encoding.ASCII.GetBytes(hash)) ? program : null;
    }

    /// <summary>Lets a device in.</summary>
    /// <param name="name">What the master calls it.</param>
    /// <param name="role">Helper or master.</param>
    /// <param name="lasts">Asked again after this; null for a paired device.</param>
    public SignedIn LetIn(string name, Role role, TimeSpan? lasts = null)
    {
        DateTimeOffset now = time.GetUtcNow();
        SignedIn device = new() { Id = NewId(), Name = name, Role = role, Since = now, LastSeen = now, Until = now + lasts };
        Write(s => s with { Devices = [.. s.Devices.Where(d => d.IsIn(now, limits) || now - d.LastSeen < KeptAfter), device] });
        return device;
    }

    /// <summary>Makes a token for a program. It is shown once; only its hash is kept.</summary>
    public string MakeToken(string name)
    {
        DateTimeOffset now = time.GetUtcNow();
        string id = NewId(), secret = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));
        Write(s => s with { Devices = [.. s.Devices, new SignedIn { Id = id, Name = name, Role = Role.Program, Since = now, LastSeen = now, TokenHash = Hash(secret) }] });
        return $"ww.{id}.{secret}";
    }

    /// <summary>Sends a device or program away, at once; false where there is none of that id.</summary>
    public bool Revoke(string id)
    {
        bool found = false;
        Write(s => s with
        {
            Devices = [.. s.Devices.Select(d =>
            {
                if (d.Id != id || d.Revoked is not null)
                    return d;
                found = true;
                return d with { Revoked = time.GetUtcNow() };
            })],
        });
        return found;
    }

    /// <summary>Sets the passphrase. Whoever had signed in by the old one is asked again; paired devices stay.</summary>
    /// <returns>What is wrong with it and what would be right; null where it was set.</returns>
    public string? SetPassphrase(string passphrase)
    {
        if (Passphrase.Problem(passphrase) is { } problem)
            return problem;
        string hash = Hasher.HashPassword(state, passphrase.Normalize(NormalizationForm.FormKC));
        DateTimeOffset now = time.GetUtcNow();
        Write(s => new(hash, [.. s.Devices.Select(d => d.Until is not null && d.Revoked is null ? d with { Revoked = now } : d)]));
        return null;
    }

    /// <summary>It is the master's passphrase.</summary>
    public bool IsPassphrase(string passphrase) =>
        passphrase.Length <= DoorLimits.LongestPassphrase && Read() is { PassphraseHash: { } hash } now
        && Hasher.VerifyHashedPassword(now, hash, passphrase.Normalize(NormalizationForm.FormKC)) != PasswordVerificationResult.Failed;

    private static string NewId() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));

    private static string Hash(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(secret)));

    private DoorState Read()
    {
        lock (gate)
        {
            FileInfo file = new(Place);
            (DateTime, long) now = file.Exists ? (file.LastWriteTimeUtc, file.Length) : (DateTime.MinValue, -1);
            if (now == stamp)
                return state;
            state = file.Exists ? JsonSerializer.Deserialize<DoorState>(File.ReadAllBytes(Place), Json) ?? new(null, []) : new(null, []);
            stamp = now;
            return state;
        }
    }

    private void Write(Func<DoorState, DoorState> change)
    {
        lock (gate)
        {
            using FileStream held = Hold();
            DoorState next = change(Read());
            string coming = $"{Place}.{Guid.NewGuid():N}.coming";
            FileStreamOptions options = new() { Mode = FileMode.CreateNew, Access = FileAccess.Write, Share = FileShare.None };
            if (!OperatingSystem.IsWindows())
                options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
            try
            {
                using (FileStream file = new(coming, options))
                {
                    file.Write(JsonSerializer.SerializeToUtf8Bytes(next, Json));
                    file.Flush(flushToDisk: true);
                }

                File.Move(coming, Place, overwrite: true);
            }
            finally
            {
                File.Delete(coming);
            }

            FileInfo written = new(Place);
            (state, stamp) = (next, (written.LastWriteTimeUtc, written.Length));
        }
    }

    /// <summary>One writer at a time, of all programs: the lock goes with the program that holds it.</summary>
    private FileStream Hold()
    {
        Directory.CreateDirectory(folder);
        for (int attempt = 0; ; attempt++)
        {
            try
            {
                return new FileStream(Path.Combine(folder, "doors.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            }
            catch (IOException) when (attempt < 100)
            {
                Thread.Sleep(20);
            }
        }
    }
}
