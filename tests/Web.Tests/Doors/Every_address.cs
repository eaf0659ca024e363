using System.Net;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.Routing.Patterns;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Doors;

namespace Whetwright.Web.Tests.Doors;

/// <summary>Once the shop is open to the network: each address that it maps, asked by those who may not. A new address is in here by itself.</summary>
public sealed class Every_address
{
    /// <summary>What anybody may send: coming in, and going out.</summary>
    private static readonly string[] Open = ["/sign-in/code", "/sign-in/passphrase", "/sign-in/out"];

    [Fact]
    public async Task That_takes_something_is_shut_to_who_is_not_signed_in_or_was_sent_away()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync(new DoorLimits { Burst = 100_000, PerSecond = 100_000 });
        using HttpClient stranger = opened.Stranger(), master = await opened.MasterAsync();
        using HttpClient sentAway = await opened.PairedAsync(master), masterSentAway = await opened.PairedAsync(master, "old phone", "Master");
        foreach (SignedIn device in opened.Doors.Devices.Where(d => d.Name is "bench tablet" or "old phone"))
            Assert.True(opened.Doors.Revoke(device.Id));
        (string Method, string Address)[] writes = [.. Asks(opened).Where(a => a.Method != "GET" && !Open.Contains(a.Address, StringComparer.Ordinal))];

        Assert.True(writes.Length > 70, $"only {writes.Length} addresses were found");
        foreach (HttpClient client in new[] { stranger, sentAway, masterSentAway })
        {
            foreach ((string method, string address) in writes)
            {
                using HttpResponseMessage answer = await SendAsync(client, method, address);
                Assert.True(answer.StatusCode == HttpStatusCode.Unauthorized, $"{method} {address} answered {(int)answer.StatusCode}");
            }
        }
    }

    [Fact]
    public async Task That_shows_something_leads_a_stranger_to_the_sign_in()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync(new DoorLimits { Burst = 100_000, PerSecond = 100_000 });
        using HttpClient stranger = opened.Stranger();

        foreach ((string method, string address) in Asks(opened).Where(a => a.Method == "GET" && !a.Address.StartsWith("/_a/", StringComparison.Ordinal) && a.Address is not ("/sign-in" or "/favicon.ico" or "/health")))
        {
            using HttpResponseMessage answer = await SendAsync(stranger, method, address);
            bool api = address.StartsWith("/api/", StringComparison.Ordinal);
            Assert.True(answer.StatusCode == (api ? HttpStatusCode.Unauthorized : HttpStatusCode.SeeOther), $"{address} answered {(int)answer.StatusCode}");
            Assert.True(api || answer.Headers.Location!.ToString().StartsWith("/sign-in?to=", StringComparison.Ordinal), address);
        }
    }

    [Fact]
    public async Task That_is_the_masters_is_shut_to_a_helper_and_the_rest_is_not()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync(new DoorLimits { Burst = 100_000, PerSecond = 100_000 });
        using HttpClient master = await opened.MasterAsync(), helper = await opened.PairedAsync(master);
        (string Method, string Address)[] writes = [.. Asks(opened).Where(a => a.Method != "GET" && !Open.Contains(a.Address, StringComparer.Ordinal))];
        List<string> shut = [];

        foreach ((string method, string address) in writes)
        {
            using HttpResponseMessage answer = await SendAsync(helper, method, address);
            bool api = address.StartsWith("/api/", StringComparison.Ordinal);
            if (answer.StatusCode == HttpStatusCode.Forbidden || (api && answer.StatusCode == HttpStatusCode.Unauthorized))
                shut.Add(address);
            else // past the gate: the form has no token, so nothing is saved either
                Assert.True(answer.StatusCode == HttpStatusCode.BadRequest, $"{method} {address} answered {(int)answer.StatusCode}");
        }

        // Opened one by one: counter, rack and bench. Whatever is added elsewhere stays the master's until it is listed in HelperMay.
        string[] masters = [.. writes.Select(w => w.Address).Where(a => !a.StartsWith("/counter", StringComparison.Ordinal) && !a.StartsWith("/rack", StringComparison.Ordinal) && !a.StartsWith("/bench", StringComparison.Ordinal))
            .Except(["/preferences", "/book/owners/1/edit", "/book/pieces/1/edit", "/book/visits/1", "/kit/rigs/1/stand", "/kit/wheels/1", "/kit/instruments/1/1"], StringComparer.Ordinal)];
        Assert.Empty(masters.Except(shut, StringComparer.Ordinal));
        Assert.Contains("/counter/back/1/done/1", shut);
        Assert.Contains("/kit/prices/new", shut);
        Assert.Contains("/kit/safe/backup", shut);
        Assert.DoesNotContain("/bench/1/grind/pass", shut);
        foreach (string address in new[] { "/book/takings", "/book/export", "/book/owners/1/statement", "/kit/prices", "/kit/safe", "/kit/devices", "/kit/changes", "/kit/tax" })
        {
            using HttpResponseMessage answer = await SendAsync(helper, "GET", address);
            Assert.True(answer.StatusCode == HttpStatusCode.Forbidden, $"{address} answered {(int)answer.StatusCode}");
        }
    }

    [Fact]
    public async Task That_saves_is_shut_to_a_page_from_elsewhere_and_to_a_form_without_its_token()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync(new DoorLimits { Burst = 100_000, PerSecond = 100_000, SignInsPerMinute = 1000 });
        using HttpClient master = await opened.MasterAsync();

        foreach ((string method, string address) in Asks(opened).Where(a => a.Method != "GET" && !a.Address.StartsWith("/api/", StringComparison.Ordinal)))
        {
            using HttpResponseMessage answer = await SendAsync(master, method, address);
            Assert.True(answer.StatusCode == HttpStatusCode.BadRequest, $"{method} {address} answered {(int)answer.StatusCode}");
        }
    }

    /// <summary>Every address with its method, parameters filled with 1.</summary>
    private static IEnumerable<(string Method, string Address)> Asks(OpenedShop opened) =>
        (from endpoint in opened.Shop.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
         from method in endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["POST", "GET"]
         select (method, Fill(endpoint.RoutePattern))).Distinct();

    private static string Fill(RoutePattern pattern) => "/" + string.Join('/', pattern.PathSegments.Select(s => string.Concat(s.Parts.Select(p => p switch
    {
        RoutePatternLiteralPart literal => literal.Content,
        RoutePatternSeparatorPart separator => separator.Content,
        RoutePatternParameterPart { Name: "documentName" } => "v1",
        _ => "1",
    }))));

    private static Task<HttpResponseMessage> SendAsync(HttpClient client, string method, string address)
    {
        HttpRequestMessage request = new(new HttpMethod(method), address);
        if (method != "GET")
        {
            request.Content = address.StartsWith("/api/", StringComparison.Ordinal)
                ? new StringContent("{}", System.Text.Encoding.UTF8, "application/json")
                : new FormUrlEncodedContent([new("name", "x")]);
        }

        return client.SendAsync(request);
    }
}
