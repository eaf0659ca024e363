namespace Whetwright.Records;

/// <summary>Which database holds the book.</summary>
public enum BookStore
{
    /// <summary>One file in the data folder.</summary>
    Sqlite = 0,

    /// <summary>A PostgreSQL server that several stations share.</summary>
    Postgres = 1,
}

/// <summary>Where the book lies.</summary>
public sealed record BookOptions
{
    /// <summary>Folder of the book: photos always, the database where it is a file.</summary>
    public required string DataFolder { get; init; }

    /// <summary>Which database.</summary>
    public BookStore Store { get; init; }

    /// <summary>For a server: how to reach it.</summary>
    public string? ConnectionString { get; init; }

    /// <summary>Name of the folder, in the data folder, of small copies of photos that pages made.</summary>
    public const string SmallPhotos = "small";

    /// <summary>Folder of the photos, where several stations share one; null for <c>photos</c> in the data folder.</summary>
    public string? PhotoFolder { get; init; }

    /// <summary>Where the book lies when nothing else is said: <c>whetwright</c> in the user's local application data.</summary>
    public static string DefaultDataFolder =>
        Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "whetwright");
}
