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

    /// <summary>Ask everybody who they are, at this machine too: needed where a proxy or tunnel passes requests on.</summary>
    public bool AlwaysSignIn { get; init; }

    /// <summary>Names under which the shop is opened, beside addresses in figures and the machine's own name.</summary>
    public IReadOnlyList<string> Hosts { get; init; } = [];

    /// <summary>Certificate with its key for HTTPS, a PKCS #12 file; null for none.</summary>
    public string? CertificateFile { get; init; }

    /// <summary>File whose first line is the certificate's password; null for none.</summary>
    public string? CertificatePasswordFile { get; init; }

    /// <summary>Where metrics and traces go by OpenTelemetry's protocol (OTLP over HTTP); null for nowhere.</summary>
    public Uri? Telemetry { get; init; }

    /// <summary>Whoever comes signs in first; otherwise the person at the machine is the master.</summary>
    public bool AsksWho => AlwaysSignIn || !LoopbackOnly;

    /// <summary>Every address is on this machine only.</summary>
    public bool LoopbackOnly => Urls.All(IsLoopback);

    /// <summary>The address is on this machine only.</summary>
    /// <exception cref="FormatException">It is no address; the message says what would be right.</exception>
    public static bool IsLoopback(string url) => Plain(url).IsLoopback;

    /// <summary>The address as one, with 0.0.0.0 where every card of the machine is meant.</summary>
    /// <exception cref="FormatException">It is no address; the message says what would be right.</exception>
    public static Uri Plain(string url)
    {
        string plain = url.Replace("://*", "://0.0.0.0", StringComparison.Ordinal).Replace("://+", "://0.0.0.0", StringComparison.Ordinal);
        return Uri.TryCreate(plain, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https"
            ? uri!
            : throw new FormatException($"'{url}' is not an address to serve at; {DefaultUrl} would be right");
    }
}
