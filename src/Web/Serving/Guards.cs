using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Whetwright.Web.Doors;
using Whetwright.Web.Layout;
using Whetwright.Web.Serving.Watching;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Serving;

/// <summary>What stands before every page: headers, host names, size of forms, antiforgery, and problem pages.</summary>
internal static partial class Guards
{
    /// <summary>Nothing inline, nothing from elsewhere.</summary>
    internal const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; "
        + "form-action 'self'; base-uri 'none'; frame-ancestors 'none'; manifest-src 'self'";

    public static void UseGuards(this IApplicationBuilder app, ServeOptions options)
    {
        app.Use(RequestLog.Write);
        app.Use(Headers);
        app.Use(Problems);
        if (options.AsksWho)
            app.UseRateLimiter();
        app.UsePersonsView();
        app.Use((http, next) => KnownNamesOnly(http, next, options));
        app.UseGate(options);
        app.UseStatusCodePages(context => Show(context.HttpContext, context.HttpContext.Response.StatusCode));
        app.Use(CheckForms);
    }

    private static Task Headers(HttpContext http, RequestDelegate next)
    {
        IHeaderDictionary headers = http.Response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(self), microphone=(), geolocation=()";
        headers.XFrameOptions = "DENY"; // for browsers that do not know frame-ancestors
        if (http.Request.IsHttps)
            headers.StrictTransportSecurity = "max-age=31536000";
        headers.CacheControl = "no-cache, no-store";
        return next(http);
    }

    /// <summary>A page of another name that was made to point at this machine gets nothing.</summary>
    private static Task KnownNamesOnly(HttpContext http, RequestDelegate next, ServeOptions options)
    {
        string host = http.Request.Host.Host;
        if (HostNames.Knows(http.Request.Host, options, http.RequestServices.GetRequiredService<ShopView>()))
            return next(http);
        return Show(http, StatusCodes.Status400BadRequest, options.AsksWho
            ? $"This shop does not go by the name '{host}'. Open it by its address in figures, or start it with --host {(host.Length < 100 ? host : "NAME")}."
            : $"This shop is served on this machine only, not under the name '{host}'. Open it as http://127.0.0.1.");
    }

    /// <summary>Forms: bounded, whole, and from a page of ours. The programs' interface under /api has its own checks.</summary>
    private static async Task CheckForms(HttpContext http, RequestDelegate next)
    {
        if (!HttpMethods.IsPost(http.Request.Method) || http.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
        {
            await next(http);
            return;
        }

        if (!http.Request.HasFormContentType)
        {
            await Show(http, StatusCodes.Status415UnsupportedMediaType, "Only forms are taken here.");
            return;
        }

        if (http.Request.ContentLength > PhotoField.MaxFormBytes)
        {
            await Show(http, StatusCodes.Status413PayloadTooLarge);
            return;
        }

        try
        {
            await http.Request.ReadFormAsync(http.RequestAborted);
        }
        catch (BadHttpRequestException e) when (e.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            await Show(http, StatusCodes.Status413PayloadTooLarge);
            return;
        }
        catch (InvalidDataException e)
        {
            bool large = e.Message.Contains("limit", StringComparison.OrdinalIgnoreCase);
            await Show(http, large ? StatusCodes.Status413PayloadTooLarge : StatusCodes.Status400BadRequest, large ? null : "The form came incomplete. Go back and send it again.");
            return;
        }
        catch (IOException)
        {
            // A body that ends before it should, or is not what it says.
            await Show(http, StatusCodes.Status400BadRequest, "The form came incomplete. Go back and send it again.");
            return;
        }

        if (!await http.RequestServices.GetRequiredService<IAntiforgery>().IsRequestValidAsync(http))
        {
            await Show(http, StatusCodes.Status400BadRequest, "This form is no longer valid: its page is too old, or cookies are off. Load the page again, fill it in and send it; nothing was saved.");
            return;
        }

        await next(http);
    }

    private static async Task Problems(HttpContext http, RequestDelegate next)
    {
        try
        {
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            // The person went on to another page.
        }
        catch (BadHttpRequestException e) when (!http.Response.HasStarted)
        {
            await Show(http, e.StatusCode, e.StatusCode == StatusCodes.Status413PayloadTooLarge ? null : e.Message);
        }
        catch (Exception e) when (!http.Response.HasStarted && Records.DiskFull.Is(e))
        {
            OurFault(http.RequestServices.GetRequiredService<ILogger<ProblemPage>>(), e, http.Request.Method, http.Request.Path, http.TraceIdentifier);
            await Show(http, StatusCodes.Status507InsufficientStorage, Records.DiskFull.Words);
        }
        catch (Exception e) when (!http.Response.HasStarted && Records.ServerAway.Said(e) is not null)
        {
            OurFault(http.RequestServices.GetRequiredService<ILogger<ProblemPage>>(), e, http.Request.Method, http.Request.Path, http.TraceIdentifier);
            await Show(http, StatusCodes.Status503ServiceUnavailable, Records.ServerAway.Words);
        }
#pragma warning disable CA1031 // The edge of the program: whatever is left is our own fault and is said to be so.
        catch (Exception e) when (!http.Response.HasStarted)
#pragma warning restore CA1031
        {
            OurFault(http.RequestServices.GetRequiredService<ILogger<ProblemPage>>(), e, http.Request.Method, RequestLog.Route(http), http.TraceIdentifier);
            await Show(http, StatusCodes.Status500InternalServerError);
        }
    }

    internal static async Task Show(HttpContext http, int status, string? text = null)
    {
        Problem problem = status switch
        {
            StatusCodes.Status401Unauthorized => new(status, "Not signed in", text ?? "This device is not signed in, or the master has sent it away. Nothing was saved. Sign in, go back, and send it again; what you typed should still be there."),
            StatusCodes.Status403Forbidden => new(status, "The master's", text ?? "This is for the master of the shop; this device is signed in to help. Nothing was changed."),
            StatusCodes.Status429TooManyRequests => new(status, "Too often", text ?? "Too many requests came from this address. Nothing was saved; wait a minute and try again."),
            StatusCodes.Status404NotFound => new(status, "Not found", text ?? $"There is no page at {http.Request.Path}. The address may be mistyped, or what it showed is gone."),
            StatusCodes.Status405MethodNotAllowed => new(status, "Not here", text ?? "This address takes another kind of request. Go back and use the form."),
            StatusCodes.Status413PayloadTooLarge => new(status, "Too large",
                text ?? $"What was sent is larger than {PhotoField.MaxFormBytes / 1024 / 1024} MB, the limit for one form. Photos: {PhotoField.LimitWords}. Nothing was saved; send fewer or smaller photos."),
            StatusCodes.Status503ServiceUnavailable => new(status, "The book is not reached", text ?? Records.ServerAway.Words, http.TraceIdentifier),
            StatusCodes.Status507InsufficientStorage => new(status, "The disk is full", text ?? Records.DiskFull.Words, http.TraceIdentifier),
            >= 500 => new(status, "Our fault", text ?? "Something went wrong in the program, not in what you did. What was saved before is safe; what you just sent is not saved.", http.TraceIdentifier),
            _ => new(status, "Not understood", text ?? "The request was not understood. Go back and try again."),
        };
        http.Response.StatusCode = status;
        if (http.Request.Path.StartsWithSegments("/api", StringComparison.Ordinal))
        {
            await Results.Problem(problem.Text, statusCode: status, title: problem.Title, type: "about:blank",
                extensions: problem.RequestId is null ? null : new Dictionary<string, object?>(StringComparer.Ordinal) { ["requestId"] = problem.RequestId }).ExecuteAsync(http);
            return;
        }

        try
        {
            await Page.Of<ProblemPage>(problem.Title, problem, Room.None, status).ExecuteAsync(http);
        }
#pragma warning disable CA1031 // The page itself may be what is broken (the book cannot be read): say it without one.
        catch (Exception e) when (!http.Response.HasStarted)
#pragma warning restore CA1031
        {
            OurFault(http.RequestServices.GetRequiredService<ILogger<ProblemPage>>(), e, http.Request.Method, RequestLog.Route(http), http.TraceIdentifier);
            http.Response.ContentType = "text/plain; charset=utf-8";
            await http.Response.WriteAsync($"{problem.Title}. {problem.Text} {http.TraceIdentifier}", http.RequestAborted);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "{Method} {Route} failed; request {RequestId}")]
    private static partial void OurFault(ILogger logger, Exception exception, string method, string route, string requestId);
}
