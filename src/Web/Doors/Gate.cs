using System.Net;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Changes;
using Whetwright.Web.Serving;

namespace Whetwright.Web.Doors;

/// <summary>Who asks, and whether they may. Stands before every page and before a form's body is read.</summary>
internal static class Gate
{
    /// <summary>Name of the cookie's scheme.</summary>
    public const string Scheme = "device";

    /// <summary>Where one signs in.</summary>
    public const string SignInPath = "/sign-in";

    private const long MostFromStrangers = 64 * 1024; // bytes of a form before anybody is signed in: chosen, not derived

    private static readonly string[] ForwardedBy = ["Forwarded", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "X-Real-IP", "Via"];

    public static void UseGate(this IApplicationBuilder app, ServeOptions options) => app.Use(async (http, next) =>
    {
        Who? who = options.AsksWho ? await AskAsync(http) : AtTheMachine(http);
        if (who is null)
        {
            await Guards.Show(http, StatusCodes.Status403Forbidden,
                "This request came through another program (a proxy or a tunnel), so it may come from anywhere, and this shop takes whoever asks for the person at the machine. "
                + "To serve it through a proxy, start it with --sign-in always; see docs/security.md.");
            return;
        }

        http.RequestServices.GetRequiredService<WhoView>().Now = who;
        if (!IsOpen(http.Request.Path))
        {
            if (who.Role == Role.Nobody)
            {
                await TurnAwayAsync(http);
                return;
            }

            if (!May(who, http))
            {
                await Guards.Show(http, StatusCodes.Status403Forbidden);
                return;
            }
        }
        else if (who.Role == Role.Nobody && http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } size)
        {
            size.MaxRequestBodySize = MostFromStrangers;
        }

        Acting.Begin(new Acting(who.Name, http.TraceIdentifier));
        await next(http);
    });

    /// <summary>The claims of a sign-in; antiforgery binds forms to it.</summary>
    public static ClaimsPrincipal Principal(string id) => new(new ClaimsIdentity([new Claim(ClaimTypes.NameIdentifier, id)], Scheme));

    /// <summary>What anybody may ask for: how to come in, sheets and scripts, and whether the shop is well.</summary>
    private static bool IsOpen(PathString path) =>
        path.StartsWithSegments(SignInPath, StringComparison.Ordinal) || path.StartsWithSegments("/_a", StringComparison.Ordinal) || path == "/favicon.ico" || path == "/health";

    private static bool IsApi(HttpContext http) => http.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal);

    private static bool May(Who who, HttpContext http) => who.Role switch
    {
        Role.Master => true,
        Role.Program => IsApi(http),
        Role.Helper => !IsApi(http) && HelperMay.Ask(http.Request.Method, http.GetEndpoint()),
        _ => false,
    };

    /// <summary>Served on this machine alone: its person, unless another program passed the request on. What such headers say is never believed; that they are there is enough.</summary>
    private static Who? AtTheMachine(HttpContext http) =>
        (http.Connection.RemoteIpAddress is { } from && !IPAddress.IsLoopback(from)) || Array.Exists(ForwardedBy, http.Request.Headers.ContainsKey) ? null : Who.AtTheMachine;

    private static async Task<Who> AskAsync(HttpContext http)
    {
        DoorList doors = http.RequestServices.GetRequiredService<DoorList>();
        if (IsApi(http))
        {
            // Programs show their token; a browser's cookie does not open the interface, so no page can use it behind a person's back.
            string given = http.Request.Headers.Authorization.ToString();
            return given.StartsWith("Bearer ", StringComparison.OrdinalIgnoreCase) && doors.FindToken(given["Bearer ".Length..].Trim()) is { } program
                ? new Who(Role.Program, program.Id, program.Name) : Who.Nobody;
        }

        AuthenticateResult ticket = await http.AuthenticateAsync(Scheme);
        if (!ticket.Succeeded)
            return Who.Nobody;
        if (doors.Find(ticket.Principal.FindFirstValue(ClaimTypes.NameIdentifier)) is not { Role: Role.Helper or Role.Master } device)
        {
            await http.SignOutAsync(Scheme);
            return Who.Nobody;
        }

        http.User = ticket.Principal;
        return new Who(device.Role, device.Id, device.Name);
    }

    private static async Task TurnAwayAsync(HttpContext http)
    {
        if (IsApi(http))
        {
            http.Response.Headers.WWWAuthenticate = "Bearer";
            await Guards.Show(http, StatusCodes.Status401Unauthorized, "A program needs a token here: Kit, Devices, on the master's screen makes one. Send it as Authorization: Bearer TOKEN.");
            return;
        }

        if (HttpMethods.IsGet(http.Request.Method))
        {
            http.Response.StatusCode = StatusCodes.Status303SeeOther;
            http.Response.Headers.Location = $"{SignInPath}?to={Uri.EscapeDataString(http.Request.Path + http.Request.QueryString)}";
            return;
        }

        await Guards.Show(http, StatusCodes.Status401Unauthorized);
    }
}
