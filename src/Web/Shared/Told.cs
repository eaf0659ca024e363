using Microsoft.AspNetCore.Http;

namespace Whetwright.Web.Shared;

/// <summary>A line said once, at the top of the page that follows a saved form.</summary>
public static class Told
{
    private const string Cookie = "ww-told";

    /// <summary>Leaves the line for the next page.</summary>
    internal static void Leave(HttpContext http, string line) =>
        http.Response.Cookies.Append(Cookie, Uri.EscapeDataString(line), Options(http, TimeSpan.FromMinutes(1)));

    /// <summary>Takes the line, if one was left; a second page does not see it.</summary>
    internal static string? Take(HttpContext http)
    {
        if (http.Request.Cookies[Cookie] is not { Length: > 0 } left)
            return null;
        if (!http.Response.HasStarted)
            http.Response.Cookies.Append(Cookie, "", Options(http, TimeSpan.Zero));
        string line = Uri.UnescapeDataString(left);
        return line.Length <= 400 ? line : null;
    }

    private static CookieOptions Options(HttpContext http, TimeSpan age) =>
        new() { HttpOnly = true, Secure = http.Request.IsHttps, SameSite = SameSiteMode.Strict, MaxAge = age, Path = "/", IsEssential = true };
}
