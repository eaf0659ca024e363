using System.Collections.Frozen;
using System.IO.Compression;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Whetwright.Web.Serving;

/// <summary>
/// Style sheets, scripts and pictures, embedded in the assembly and served under an address that holds their hash, so that browsers keep
/// them for good. All <c>Assets/css</c> and <c>Features/**/*.css</c> make one sheet, all scripts one script.
/// </summary>
public sealed class SiteAssets
{
    private readonly FrozenDictionary<string, Asset> byName;
    private readonly FrozenDictionary<string, Asset> byAddress;

    /// <summary>Reads what is embedded.</summary>
    public SiteAssets()
    {
        Assembly assembly = typeof(SiteAssets).Assembly;
        string[] names = [.. assembly.GetManifestResourceNames().Order(StringComparer.Ordinal)];
        List<Asset> assets =
        [
            Make("site.css", "text/css; charset=utf-8", Joined(assembly, names, ".css")),
            Make("site.js", "text/javascript; charset=utf-8", Joined(assembly, names, ".js")),
        ];
        foreach (string name in names.Where(n => n.StartsWith("assets/", StringComparison.Ordinal) && n.EndsWith(".svg", StringComparison.Ordinal)))
            assets.Add(Make(name["assets/".Length..], "image/svg+xml", Bytes(assembly, name)));
        byName = assets.ToFrozenDictionary(a => a.Name, StringComparer.Ordinal);
        byAddress = assets.ToFrozenDictionary(a => a.Address, StringComparer.Ordinal);
    }

    /// <summary>Address of an asset.</summary>
    /// <exception cref="ArgumentException">There is none of that name.</exception>
    public string Address(string name) =>
        byName.TryGetValue(name, out Asset? asset) ? asset.Address : throw new ArgumentException($"No asset '{name}'.", nameof(name));

    /// <summary>Maps the addresses.</summary>
    public void Map(IEndpointRouteBuilder app)
    {
        app.MapGet("/favicon.ico", (HttpContext http) => Send(http, byName["favicon.svg"], lasting: false));
        app.MapGet("/_a/{hash}/{name}", (HttpContext http) => Send(http, byAddress.GetValueOrDefault(http.Request.Path.Value ?? ""), lasting: true));
    }

    private static async Task Send(HttpContext http, Asset? asset, bool lasting)
    {
        HttpResponse response = http.Response;
        if (asset is null)
        {
            response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }

        response.ContentType = asset.Type;
        response.Headers.CacheControl = lasting ? "public, max-age=31536000, immutable" : "public, max-age=3600";
        response.Headers.Vary = "Accept-Encoding";
        bool brotli = http.Request.Headers.AcceptEncoding.ToString().Contains("br", StringComparison.Ordinal);
        if (brotli)
            response.Headers.ContentEncoding = "br";
        byte[] body = brotli ? asset.Compressed : asset.Body;
        response.ContentLength = body.Length;
        await response.Body.WriteAsync(body, http.RequestAborted);
    }

    private static Asset Make(string name, string type, byte[] body)
    {
        string hash = Convert.ToHexStringLower(SHA256.HashData(body))[..16];
        using MemoryStream packed = new();
        using (BrotliStream brotli = new(packed, CompressionLevel.Optimal))
            brotli.Write(body);
        return new(name, $"/_a/{hash}/{name}", type, body, packed.ToArray());
    }

    private static byte[] Joined(Assembly assembly, IEnumerable<string> names, string ending)
    {
        StringBuilder all = new();
        foreach (string name in names.Where(n => n.EndsWith(ending, StringComparison.Ordinal)))
            all.Append(Encoding.UTF8.GetString(Bytes(assembly, name)).TrimStart('\uFEFF')).Append('\n');
        return Encoding.UTF8.GetBytes(all.ToString());
    }

    private static byte[] Bytes(Assembly assembly, string name)
    {
        using Stream stream = assembly.GetManifestResourceStream(name)!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private sealed record Asset(string Name, string Address, string Type, byte[] Body, byte[] Compressed);
}
