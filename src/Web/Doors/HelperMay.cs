using System.Collections.Frozen;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Whetwright.Web.Doors;

/// <summary>
/// What a helper may ask for, by the address as it is mapped. Whatever is not here is the master's: a new page is closed to helpers until somebody opens it here.
/// </summary>
internal static class HelperMay
{
    /// <summary>Rooms where a helper works: all that is shown and sent there.</summary>
    private static readonly string[] Rooms = ["/counter", "/rack", "/bench"];

    /// <summary>In those rooms, what is still the master's: it takes back money or makes and lends what costs.</summary>
    private static readonly FrozenSet<string> NotIn = Set(
        "POST /counter/back/{ownerId:long}/done/{handBackId:long}");

    private static readonly FrozenSet<string> Besides = Set(
        "GET /", "GET /preferences", "POST /preferences", "GET /gauges",
        "GET /book", "GET /t/{tag}", "GET /photos/{hash}", "GET /photos/{hash}/small",
        "GET /book/owners/{id:long}", "GET /book/owners/{id:long}/edit", "POST /book/owners/{id:long}/edit",
        "GET /book/pieces/{id:long}", "GET /book/pieces/{id:long}/edit", "POST /book/pieces/{id:long}/edit",
        "GET /book/visits/{id:long}", "POST /book/visits/{id:long}",
        "GET /kit", "GET /kit/rigs", "GET /kit/rigs/{id:long}", "POST /kit/rigs/{id:long}/stand", "GET /kit/wheels/{id:long}", "POST /kit/wheels/{id:long}",
        "GET /kit/abrasives", "GET /kit/abrasives/{id:long}", "GET /kit/rules", "GET /kit/instruments", "GET /kit/instruments/{id:long}", "POST /kit/instruments/{id:long}/{how}",
        "GET /kit/target.pdf", "GET /kit/mat.pdf", "GET /kit/wheels/{id:long}/chart.pdf", "GET /kit/rigs/{id:long}/chart.pdf");

    /// <summary>A helper may.</summary>
    /// <param name="method">HTTP method.</param>
    /// <param name="endpoint">Where the request was routed; null for an address that is none, which anybody may be told.</param>
    public static bool Ask(string method, Endpoint? endpoint)
    {
        if (endpoint is not RouteEndpoint { RoutePattern.RawText: { } raw })
            return endpoint is null;
        string pattern = raw.StartsWith('/') ? raw : "/" + raw;
        string asked = $"{(HttpMethods.IsHead(method) ? HttpMethods.Get : method)} {pattern}";
        if (!HttpMethods.IsGet(method) && !HttpMethods.IsHead(method) && !HttpMethods.IsPost(method))
            return false;
        bool looksAtGauges = !HttpMethods.IsPost(method) && pattern.StartsWith("/gauges/", StringComparison.Ordinal);
        return looksAtGauges || Besides.Contains(asked) || (Rooms.Any(r => pattern == r || pattern.StartsWith(r + "/", StringComparison.Ordinal)) && !NotIn.Contains(asked));
    }

    private static FrozenSet<string> Set(params string[] all) => all.ToFrozenSet(StringComparer.Ordinal);
}
