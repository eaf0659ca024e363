namespace Whetwright.Web.Serving;

/// <summary>Where the book lies and where the pages are served.</summary>
/// <param name="DataFolder">Folder of the book, photos and keys; made where it is missing.</param>
/// <param name="Urls">Addresses to listen on; loopback by default.</param>
public sealed record ServeOptions(string DataFolder, IReadOnlyList<string> Urls)
{
    /// <summary>Where nothing else is said.</summary>
    public const string DefaultUrl = "http://127.0.0.1:5210";

    /// <summary>How to reach the server that holds the book; null for what the folder's settings say.</summary>
    public string? Book { get; init; }

    /// <summary>Every address is on this machine only.</summary>
    public bool LoopbackOnly => Urls.All(IsLoopback);

    /// <summary>The address is on this machine only.</summary>
    /// <exception cref="FormatException">It is no address; the message says what would be right.</exception>
    public static bool IsLoopback(string url)
    {
        string plain = url.Replace("://*", "://0.0.0.0", StringComparison.Ordinal).Replace("://+", "://0.0.0.0", StringComparison.Ordinal);
        return Uri.TryCreate(plain, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https"
            ? uri!.IsLoopback
            : throw new FormatException($"'{url}' is not an address to serve at; {DefaultUrl} would be right");
    }
}
