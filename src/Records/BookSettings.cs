using System.Text.Json;
using System.Text.Json.Serialization;

namespace Whetwright.Records;

/// <summary>
/// Where a book lies, as it was chosen: one setting. What a command was told wins over the environment's <c>WHETWRIGHT_BOOK</c>, that over
/// <c>whetwright.json</c> in the data folder; where nothing says otherwise, the book is a file in that folder.
/// </summary>
public sealed record BookSettings
{
    /// <summary>Name of the file in the data folder.</summary>
    public const string FileName = "whetwright.json";

    /// <summary>The environment's word for <see cref="Book"/>; it keeps a password out of the list of processes.</summary>
    public const string Variable = "WHETWRIGHT_BOOK";

    private static readonly JsonSerializerOptions Json = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        ReadCommentHandling = JsonCommentHandling.Skip,
        AllowTrailingCommas = true,
    };

    /// <summary>How to reach the PostgreSQL database that holds the book; null for a file in the data folder.</summary>
    public string? Book { get; init; }

    /// <summary>Folder of the photos that several stations share; null for <c>photos</c> in the data folder.</summary>
    public string? Photos { get; init; }

    /// <summary>The options for a folder.</summary>
    /// <param name="dataFolder">The data folder.</param>
    /// <param name="book">What the command was told; null for nothing.</param>
    /// <exception cref="FormatException">The file cannot be read as settings; the message names it and what would be right.</exception>
    public static BookOptions Options(string dataFolder, string? book = null)
    {
        BookSettings settings = Read(dataFolder);
        string? told = book ?? (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } set ? set : settings.Book);
        return new BookOptions
        {
            DataFolder = dataFolder,
            Store = string.IsNullOrWhiteSpace(told) ? BookStore.Sqlite : BookStore.Postgres,
            ConnectionString = string.IsNullOrWhiteSpace(told) ? null : told,
            PhotoFolder = settings.Photos is { } photos ? Path.GetFullPath(photos, Path.GetFullPath(dataFolder)) : null,
        };
    }

    private static BookSettings Read(string dataFolder)
    {
        string file = Path.Combine(dataFolder, FileName);
        if (!File.Exists(file))
            return new BookSettings();
        try
        {
            return JsonSerializer.Deserialize<BookSettings>(File.ReadAllText(file), Json) ?? new BookSettings();
        }
        catch (JsonException e)
        {
            throw new FormatException($"{file}: {e.Message} {{\"book\": \"Host=server;Database=shop;Username=shop;Password=…\", \"photos\": \"/srv/photos\"}} would be right", e);
        }
    }
}
