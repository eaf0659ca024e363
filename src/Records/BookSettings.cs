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

    /// <summary>An S3-compatible store for the photos instead.</summary>
    public PhotoBucket? PhotoBucket { get; init; }

    /// <summary>The options for a folder.</summary>
    /// <param name="dataFolder">The data folder.</param>
    /// <param name="book">What the command was told; null for nothing.</param>
    /// <exception cref="FormatException">The file cannot be read as settings; the message names it and what would be right.</exception>
    public static BookOptions Options(string dataFolder, string? book = null)
    {
        BookSettings settings = Read(dataFolder);
        string? told = book ?? (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } set ? set : settings.Book);
        if (settings is { Photos: not null, PhotoBucket: not null })
            throw new FormatException($"{FileName}: photos lie in one place; either photos or photoBucket would be right");
        return new BookOptions
        {
            DataFolder = dataFolder,
            Store = string.IsNullOrWhiteSpace(told) ? BookStore.Sqlite : BookStore.Postgres,
            ConnectionString = string.IsNullOrWhiteSpace(told) ? null : told,
            PhotoFolder = settings.Photos is { } photos ? Path.GetFullPath(photos, Path.GetFullPath(dataFolder)) : null,
            PhotoBucket = settings.PhotoBucket,
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

/// <summary>An S3-compatible store of photos.</summary>
/// <param name="Url">Its address, such as <c>https://store.example.org</c>.</param>
/// <param name="Bucket">The bucket, which must be there.</param>
/// <param name="Region">Its region, as the store names it.</param>
/// <param name="KeyId">Key's name; null for the environment's <c>WHETWRIGHT_S3_KEY_ID</c>.</param>
/// <param name="Secret">Key; null for the environment's <c>WHETWRIGHT_S3_SECRET</c>.</param>
public sealed record PhotoBucket(string Url, string Bucket, string Region = "us-east-1", string? KeyId = null, string? Secret = null);
