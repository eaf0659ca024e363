using System.Text.Json;

namespace Whetwright.Records.Backup;

/// <summary>The last backup that was made of a book, noted in its data folder: what the doctor asks for.</summary>
/// <param name="File">Where it was written; for one that was sent to a browser, only its name in the data folder of then.</param>
/// <param name="MadeAt">When, UTC.</param>
/// <param name="Sealed">Under a passphrase.</param>
public sealed record LastBackup(string File, DateTime MadeAt, bool Sealed)
{
    private const string NoteName = "last-backup.json";

    internal void Note(string dataFolder) => System.IO.File.WriteAllText(Path.Combine(dataFolder, NoteName), JsonSerializer.Serialize(this, JsonSerializerOptions.Web));

    /// <summary>The note; null where there is none that can be read.</summary>
    public static LastBackup? Read(string dataFolder)
    {
        string place = Path.Combine(dataFolder, NoteName);
        try
        {
            return System.IO.File.Exists(place) ? JsonSerializer.Deserialize<LastBackup>(System.IO.File.ReadAllText(place), JsonSerializerOptions.Web) : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
