using System.Globalization;
using System.Net;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Whetwright.Web.Serving;

namespace Whetwright.Web.Doors;

/// <summary>The doors of a shop that is open to the network: who is signed in, the codes, the limits, and their pages.</summary>
internal static class DoorsFeature
{
    private const string SignIns = "sign-ins";

    public static void AddDoors(this IServiceCollection services, ServeOptions options)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.TryAddSingleton(new DoorLimits());
        services.AddSingleton(provider => new DoorList(options.DataFolder, provider.GetRequiredService<TimeProvider>(), provider.GetRequiredService<DoorLimits>()));
        services.AddSingleton<PairCodes>().AddSingleton<LockOut>();
        services.AddScoped<WhoView>();
        services.AddAuthentication(Gate.Scheme).AddCookie(Gate.Scheme, cookie =>
        {
            cookie.Cookie.Name = "ww-device";
            cookie.Cookie.HttpOnly = true;
            cookie.Cookie.SameSite = SameSiteMode.Strict;
            cookie.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest; // Secure under HTTPS; the shop's own machine may be served without
            cookie.Cookie.IsEssential = true;
            cookie.SlidingExpiration = true;
            cookie.Events.OnRedirectToLogin = _ => Task.CompletedTask; // the gate says it
            cookie.Events.OnRedirectToAccessDenied = _ => Task.CompletedTask;
        });
        services.AddOptions<CookieAuthenticationOptions>(Gate.Scheme).Configure<DoorLimits>((cookie, limits) => cookie.ExpireTimeSpan = limits.DeviceIdle);
        services.AddRateLimiter(limiter =>
        {
            limiter.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
            limiter.OnRejected = async (context, _) =>
            {
                TimeSpan wait = context.Lease.TryGetMetadata(MetadataName.RetryAfter, out TimeSpan left) ? left : TimeSpan.FromSeconds(1);
                context.HttpContext.Response.Headers.RetryAfter = Math.Max(1, Math.Ceiling(wait.TotalSeconds)).ToString(CultureInfo.InvariantCulture);
                await Guards.Show(context.HttpContext, StatusCodes.Status429TooManyRequests);
            };
            limiter.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(http =>
            {
                DoorLimits limits = http.RequestServices.GetRequiredService<DoorLimits>();
                return RateLimitPartition.GetTokenBucketLimiter(From(http), _ => new TokenBucketRateLimiterOptions
                {
                    TokenLimit = limits.Burst, TokensPerPeriod = limits.PerSecond, ReplenishmentPeriod = TimeSpan.FromSeconds(1), QueueLimit = 0, AutoReplenishment = true,
                });
            });
            limiter.AddPolicy(SignIns, http =>
            {
                DoorLimits limits = http.RequestServices.GetRequiredService<DoorLimits>();
                return RateLimitPartition.GetFixedWindowLimiter(From(http), _ => new FixedWindowRateLimiterOptions { PermitLimit = limits.SignInsPerMinute, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 });
            });
        });
    }

    public static void MapDoors(this IEndpointRouteBuilder app)
    {
        app.MapGet(Gate.SignInPath, SignIn.Show);
        app.MapPost(Gate.SignInPath + "/code", SignIn.ByCodeAsync).RequireRateLimiting(SignIns);
        app.MapPost(Gate.SignInPath + "/passphrase", SignIn.ByPassphraseAsync).RequireRateLimiting(SignIns);
        app.MapPost(Gate.SignInPath + "/out", SignIn.OutAsync);

        app.MapGet("/kit/devices", Devices.Show);
        app.MapPost("/kit/devices/code", Devices.CodeAsync);
        app.MapGet("/kit/devices/code", Devices.ShowCode);
        app.MapPost("/kit/devices/code/void", Devices.VoidCode);
        app.MapPost("/kit/devices/passphrase", Devices.PassphraseAsync);
        app.MapPost("/kit/devices/token", Devices.TokenAsync);
        app.MapPost("/kit/devices/{id}/revoke", Devices.Revoke);
        app.MapGet("/kit/changes", ChangesList.ShowAsync);
    }

    /// <summary>The address that the connection really comes from; what headers say of it is never believed.</summary>
    private static string From(HttpContext http) => http.Connection.RemoteIpAddress is { } from ? (from.IsIPv4MappedToIPv6 ? from.MapToIPv4() : from).ToString() : IPAddress.None.ToString();
}
