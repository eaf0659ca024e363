using System.Net;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Doors;
using Whetwright.Web.Serving;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Doors;

/// <summary>A shop that is open to the network, on a free port of this machine, with a passphrase of the master.</summary>
internal sealed class OpenedShop : IAsyncDisposable
{
    /// <summary>The master's, invented.</summary>
    public const string Passphrase = "seven blunt spoons on a wall";

    // Hashing a passphrase is slow on purpose: once is enough for all tests.
    private static readonly Lazy<byte[]> PassphraseFile = new(() =>
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        try
        {
            Assert.Null(new DoorList(folder, TimeProvider.System, new DoorLimits()).SetPassphrase(Passphrase));
            return File.ReadAllBytes(Path.Combine(folder, DoorList.FileName));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    });

    private OpenedShop(RunningShop shop) => Shop = shop;

    public RunningShop Shop { get; }

    public DoorList Doors => Shop.Services.GetRequiredService<DoorList>();

    /// <summary>Opens one. It listens on all cards, as a shop's network needs.</summary>
    public static async Task<OpenedShop> OpenAsync(DoorLimits? limits = null, Action<WebApplicationBuilder>? adjust = null, Func<ServeOptions, ServeOptions>? also = null)
    {
        RunningShop shop = await RunningShop.OpenAsync(
            builder =>
            {
                if (limits is not null)
                    builder.Services.AddSingleton(limits);
                adjust?.Invoke(builder);
            },
            options: folder =>
            {
                File.WriteAllBytes(Path.Combine(folder, DoorList.FileName), PassphraseFile.Value);
                ServeOptions options = new(folder, ["http://0.0.0.0:0"]);
                return also?.Invoke(options) ?? options;
            });
        return new(shop);
    }

    /// <summary>A device that is not signed in.</summary>
    public HttpClient Stranger() => Shop.Client();

    /// <summary>A device that came in by the master's passphrase.</summary>
    public async Task<HttpClient> MasterAsync()
    {
        HttpClient client = Shop.Client();
        using HttpResponseMessage answer = await client.SendFormAsync("/sign-in", "/sign-in/passphrase", ("passphrase", Passphrase));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        return client;
    }

    /// <summary>A device that was paired by a code.</summary>
    public async Task<HttpClient> PairedAsync(HttpClient master, string name = "bench tablet", string role = "Helper")
    {
        string code = await CodeAsync(master, name, role);
        HttpClient client = Shop.Client();
        using HttpResponseMessage answer = await client.SendFormAsync("/sign-in", "/sign-in/code", ("code", code));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        return client;
    }

    /// <summary>The code as the master's screen shows it.</summary>
    public static async Task<string> CodeAsync(HttpClient master, string name, string role)
    {
        using HttpResponseMessage made = await master.SendFormAsync("/kit/devices", "/kit/devices/code", ("name", name), ("role", role));
        Assert.Equal(HttpStatusCode.SeeOther, made.StatusCode);
        string page = await master.GetStringAsync(new Uri("/kit/devices/code", UriKind.Relative));
        return Regex.Match(page, "dial-value\">(?<code>[0-9]{3} [0-9]{3})<", RegexOptions.None, TimeSpan.FromSeconds(1)).Groups["code"].Value;
    }

    public ValueTask DisposeAsync() => Shop.DisposeAsync();
}

/// <summary>Forms sent by hand.</summary>
internal static class SentForms
{
    /// <summary>Reads a page for its token and sends fields to an address.</summary>
    public static async Task<HttpResponseMessage> SendFormAsync(this HttpClient client, string page, string action, params (string Name, string Value)[] fields)
    {
        string html = await client.GetStringAsync(new Uri(page, UriKind.Relative));
        Dictionary<string, string> form = new(StringComparer.Ordinal) { ["_form"] = Token(html), ["_once"] = Guid.NewGuid().ToString("N") };
        foreach ((string name, string value) in fields)
            form[name] = value;
        using FormUrlEncodedContent content = new(form);
        return await client.PostAsync(new Uri(action, UriKind.Relative), content);
    }

    public static string Token(string html) => WebUtility.HtmlDecode(Regex.Match(html, "name=\"_form\" value=\"(?<token>[^\"]+)\"", RegexOptions.None, TimeSpan.FromSeconds(5)).Groups["token"].Value);
}

/// <summary>A clock that is set by hand.</summary>
internal sealed class SetClock : TimeProvider
{
    private DateTimeOffset now = TimeProvider.System.GetUtcNow();

    public override DateTimeOffset GetUtcNow() => now;

    public void Pass(TimeSpan time) => now += time;
}
