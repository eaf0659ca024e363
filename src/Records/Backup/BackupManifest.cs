using System.Text.Json;
using System.Text.Json.Serialization;

namespace Whetwright.Records.Backup;

/// <summary>What a backup says it holds: the list that it is checked against.</summary>
/// <param name="FormatVersion">Version of this format.</param>
/// <param name="MadeAt">When the backup was begun, UTC.</param>
/// <param name="Model">The newest migration in it.</param>
/// <param name="Rows">Rows by table.</param>
/// <param name="Files">Every other file in the backup.</param>
public sealed record BackupManifest(
    int FormatVersion, DateTime MadeAt, string Model, IReadOnlyDictionary<string, long> Rows, IReadOnlyList<BackupFile> Files)
{
    /// <summary>Name of the manifest in the file.</summary>
    public const string EntryName = "manifest.json";

    /// <summary>The format's version now.</summary>
    public const int CurrentFormat = 1;

    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web) { WriteIndented = true, UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow, RespectNullableAnnotations = true, RespectRequiredConstructorParameters = true };

    internal byte[] ToJson() => JsonSerializer.SerializeToUtf8Bytes(this, Options);

    internal static BackupManifest? FromJson(Stream json) => JsonSerializer.Deserialize<BackupManifest>(json, Options);
}

/// <summary>One file in a backup.</summary>
/// <param name="Name">Its name, with forward slashes.</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Sha256">Hash of its bytes, lower-case hexadecimal.</param>
public sealed record BackupFile(string Name, long Bytes, string Sha256);

/// <summary>A backup that cannot be trusted or used; nothing was changed.</summary>
public sealed class BackupRefusedException(string message, Exception? inner = null) : Exception(message, inner);
