using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Text;

namespace Whetwright.Load;

/// <summary>One fuzzed request and its answer.</summary>
/// <param name="What">Method and address, shortened.</param>
/// <param name="Status">HTTP status; 0 where none came in time.</param>
/// <param name="Ms">How long it took.</param>
public sealed record Fuzzed(string What, int Status, double Ms)
{
    /// <summary>The program failed, or hung.</summary>
    public bool IsBad => Status is 0 or >= 500;
}

/// <summary>Sends what nobody should send: forms of real pages with fields turned around, addresses that are none, documents that are broken. Seeded.</summary>
/// <param name="client">A browser with cookies that does not follow redirects.</param>
/// <param name="crawl">What the shop has.</param>
/// <param name="random">Seeded.</param>
public sealed class Fuzz(HttpClient client, Crawl crawl, Random random)
{
    /// <summary>Longer than this is a hang.</summary>
    public static TimeSpan Patience { get; } = TimeSpan.FromSeconds(30);

    private static readonly string[] Nasty =
    [
        "", " ", "0", "-1", "1e308", "NaN", "1,000", "12,5", "99999999999999999999", "-0.0000000001", "0x10", "١٢٣", "½", "12°30′", "=1+1", "'; DROP TABLE \"Owners\"; --", "<script>alert(1)</script>",
        "../../../../etc/passwd", "%00", "\u0001", "\uFEFF", "\u202Etxt.exe", "🔪", "a\r\nSet-Cookie: x=1", "{{7*7}}", "${jndi:ldap://x}", "2026-02-30", "9999-12-31T23:59", "0001-01-01", "on", "null", "[]", "{\"a\":",
    ];

    private static readonly string[] Parts = ["bench", "book", "kit", "counter", "rack", "gauges", "api", "v1", "pieces", "owners", "photo", "cut", "edit", "new", "t", "..", "%2e%2e", "%00", "sheet.pdf", "1", "1001", "1001-0", "-1", "99999999999999999999"];

    private static readonly string[] QueryNames = ["q", "page", "by", "x", "y", "w", "h", "mount", "rig", "to", "from", "month", "ids", "paper", "_preview", "as"];

    /// <summary>Sends the next.</summary>
    public async Task<Fuzzed> NextAsync()
    {
        using HttpRequestMessage request = random.Next(10) switch
        {
            < 5 when crawl.Forms.Count > 0 => FormRequest(),
            < 8 => PageRequest(),
            8 => ApiRequest(),
            _ => OddRequest(),
        };
        return await SendAsync(request);
    }

    /// <summary>Sends one form with a file that only looks like a photo.</summary>
    public async Task<Fuzzed> ImageAsync(byte[] image)
    {
        SeenForm[] takers = [.. crawl.Forms.Where(f => f.Files.Count > 0 && !Crawl.IsHeavy(f.Action) && !f.Action.StartsWith("/book/import", StringComparison.Ordinal))];
        if (takers.Length == 0)
            throw new InvalidOperationException("No form of the shop takes a photo.");
        SeenForm form = takers[random.Next(takers.Length)];
        MultipartFormDataContent content = [];
        foreach ((string name, string value) in form.Fields)
            content.Add(new StringContent(name == "_once" ? Guid.NewGuid().ToString("N") : value), name);
        ByteArrayContent file = new(image);
        file.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        content.Add(file, form.Files[random.Next(form.Files.Count)], "photo.jpg");
        using HttpRequestMessage request = new(HttpMethod.Post, form.Action) { Content = content };
        return await SendAsync(request);
    }

    private async Task<Fuzzed> SendAsync(HttpRequestMessage request)
    {
        string what = $"{request.Method} {request.RequestUri}";
        what = what.Length > 160 ? what[..160] + "…" : what;
        long began = Stopwatch.GetTimestamp();
        using CancellationTokenSource limit = new(Patience);
        try
        {
            using HttpResponseMessage answer = await client.SendAsync(request, limit.Token);
            await answer.Content.CopyToAsync(Stream.Null, limit.Token);
            return new(what, (int)answer.StatusCode, Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
        catch (OperationCanceledException)
        {
            return new(what, 0, Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
        catch (HttpRequestException e)
        {
            // The server may hang up on a request that it will not read; refusing the next connection would show in the next request.
            return new($"{what} ({e.HttpRequestError})", (int)HttpStatusCode.BadRequest, Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }
    }

    private HttpRequestMessage FormRequest()
    {
        SeenForm form = crawl.Forms[random.Next(crawl.Forms.Count)];
        while (Crawl.IsHeavy(form.Action))
            form = crawl.Forms[random.Next(crawl.Forms.Count)];
        List<KeyValuePair<string, string>> fields = [.. form.Fields.Select(f => f.Key == "_once" ? new(f.Key, Guid.NewGuid().ToString("N")) : f)];
        for (int i = random.Next(1, 5); i > 0 && fields.Count > 0; i--)
        {
            int at = random.Next(fields.Count);
            bool guard = fields[at].Key == "_form";
            switch (random.Next(4))
            {
                case 0 when !guard:
                    fields.RemoveAt(at);
                    break;
                case 1:
                    fields.Add(new(fields[at].Key, Value()));
                    break;
                case 2:
                    fields.Add(new(Value(), Value()));
                    break;
                default:
                    if (!guard || random.Next(20) == 0)
                        fields[at] = new(fields[at].Key, Value());
                    break;
            }
        }

        if (random.Next(8) == 0)
            fields.Add(new("_preview", "1"));
        HttpContent content;
        if (form.Files.Count > 0 || random.Next(10) == 0)
        {
            MultipartFormDataContent many = [];
            foreach ((string name, string value) in fields)
                many.Add(new StringContent(value), string.Concat(name.Where(c => c is > ' ' and < '\u007F' and not '"')) is { Length: > 0 } plain ? plain : "x");
            content = many;
        }
        else
        {
            content = new FormUrlEncodedContent(fields);
        }

        return new(HttpMethod.Post, form.Action + (random.Next(10) == 0 ? Query() : "")) { Content = content };
    }

    private HttpRequestMessage PageRequest()
    {
        string at = crawl.Pages.Count > 0 && random.Next(2) == 0 ? crawl.Pages[random.Next(crawl.Pages.Count)].Split('?')[0] : "/" + string.Join('/', Enumerable.Range(0, random.Next(1, 6)).Select(_ => Parts[random.Next(Parts.Length)]));
        if (random.Next(3) == 0)
            at += "/" + Uri.EscapeDataString(Value());
        return new(HttpMethod.Get, Safe(at + (random.Next(2) == 0 ? Query() : "")));
    }

    private HttpRequestMessage ApiRequest()
    {
        string[] addresses = ["/api/v1/pieces/1/readings", "/api/v1/settings", "/api/v1/pieces", "/api/v1/readings/1", "/api/v1/nothing"];
        string[] bodies =
        [
            "{", "[]", "null", "{\"purpose\":\"found\",\"measured\":{\"method\":\"m\",\"leftDeg\":1e999}}", "{\"purpose\":\"found\",\"marks\":{}}", "{\"blade\":{},\"rig\":{},\"angleDeg\":13}",
            "{\"blade\":" + new string('[', 500), $"{{\"purpose\":\"{Value().Replace("\"", "", StringComparison.Ordinal)}\"}}", "{\"pieceId\":1,\"rigId\":1,\"angleDeg\":-5}",
        ];
        HttpRequestMessage request = new(HttpMethod.Post, addresses[random.Next(addresses.Length)])
        {
            Content = new StringContent(bodies[random.Next(bodies.Length)], Encoding.UTF8, random.Next(6) == 0 ? "text/plain" : "application/json"),
        };
        request.Headers.TryAddWithoutValidation("Idempotency-Key", random.Next(2) == 0 ? "k" : Value());
        return request;
    }

    private HttpRequestMessage OddRequest()
    {
        string[] methods = ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "HEAD", "POST"];
        HttpRequestMessage request = new(new HttpMethod(methods[random.Next(methods.Length)]), Safe(crawl.Pages[random.Next(crawl.Pages.Count)]));
        if (request.Method != HttpMethod.Head && request.Method != HttpMethod.Trace)
        {
            byte[] body = new byte[random.Next(2000)];
            random.NextBytes(body);
            request.Content = new ByteArrayContent(body);
            string[] types = ["application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "multipart/form-data", "application/json", "text/xml"];
            request.Content.Headers.TryAddWithoutValidation("Content-Type", types[random.Next(types.Length)]);
        }

        request.Headers.TryAddWithoutValidation("Cookie", $"ww-view={Uri.EscapeDataString(Value())}; ww-told=%{random.Next(16):X}; ww-form={Uri.EscapeDataString(Value())}");
        request.Headers.TryAddWithoutValidation("Accept-Language", Uri.EscapeDataString(Value()));
        return request;
    }

    private string Query() => "?" + string.Join('&', Enumerable.Range(0, random.Next(1, 4)).Select(_ => $"{QueryNames[random.Next(QueryNames.Length)]}={Uri.EscapeDataString(Value())}"));

    private string Value() => random.Next(12) switch
    {
        0 => new string((char)random.Next('a', 'z'), random.Next(1, 6000)),
        1 => random.NextInt64(long.MinValue, long.MaxValue).ToString(System.Globalization.CultureInfo.InvariantCulture),
        2 => (random.NextDouble() * Math.Pow(10, random.Next(-5, 9))).ToString("R", System.Globalization.CultureInfo.InvariantCulture),
        3 => string.Concat(Enumerable.Range(0, random.Next(1, 40)).Select(_ => char.ConvertFromUtf32(random.Next(2) == 0 ? random.Next(0x20, 0xD7FF) : random.Next(0x10000, 0x10FFFF)))),
        _ => Nasty[random.Next(Nasty.Length)],
    };

    /// <summary>Only what a program can put on the wire at all.</summary>
    private static Uri Safe(string at) => Uri.TryCreate(at, UriKind.Relative, out Uri? uri) && !at.StartsWith("//", StringComparison.Ordinal) ? uri : new Uri("/", UriKind.Relative);
}
