using System.Diagnostics;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Whetwright.Web.Doors;

namespace Whetwright.Web.Serving.Watching;

/// <summary>
/// One line per request: the address as it is mapped, never as it was typed, and no query, since names are searched for there; the tag or number it is about;
/// who asked, by the sign-in's id.
/// </summary>
internal static partial class RequestLog
{
    public static async Task Write(HttpContext http, RequestDelegate next)
    {
        long began = Stopwatch.GetTimestamp();
        try
        {
            await next(http);
        }
        finally
        {
            ILogger log = http.RequestServices.GetRequiredService<ILogger<ServeOptions>>();
            if (!http.Request.Path.StartsWithSegments("/_a", StringComparison.Ordinal) && http.Request.Path != "/health")
            {
                string route = Route(http), method = Known(http.Request.Method), about = About(http);
                Who who = http.RequestServices.GetRequiredService<WhoView>().Now;
                string by = who.Id ?? who.Role.ToString();
                double ms = Stopwatch.GetElapsedTime(began).TotalMilliseconds;
                Served(log, method, route, about, http.Response.StatusCode, ms, http.TraceIdentifier, by);
            }
        }
    }

    /// <summary>The address as it is mapped; "none" for one that is not.</summary>
    public static string Route(HttpContext http) => (http.GetEndpoint() as RouteEndpoint)?.RoutePattern.RawText ?? "none";

    /// <summary>The tag, or the number of a row; nothing else of the address, which may be anything.</summary>
    private static string About(HttpContext http)
    {
        if (http.Request.RouteValues.TryGetValue("tag", out object? tag) && tag is string text && text.Length <= 12 && text.All(c => char.IsAsciiDigit(c) || c == '-'))
            return "tag " + text;
        foreach ((string name, object? value) in http.Request.RouteValues)
        {
            if (long.TryParse(value as string, NumberStyles.None, CultureInfo.InvariantCulture, out long number))
                return string.Create(CultureInfo.InvariantCulture, $"{name} {number}");
        }

        return "";
    }

    private static string Known(string method) => method is "GET" or "POST" or "HEAD" or "PUT" or "DELETE" or "PATCH" or "OPTIONS" ? method : "other";

    [LoggerMessage(Level = LogLevel.Information, Message = "{Method} {Route} {About} answered {Status} in {Ms:0.0} ms; request {RequestId} by {Who}")]
    private static partial void Served(ILogger logger, string method, string route, string about, int status, double ms, string requestId, string who);
}
