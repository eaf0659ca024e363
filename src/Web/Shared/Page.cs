using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Whetwright.Web.Layout;

namespace Whetwright.Web.Shared;

/// <summary>What a handler answers with: a page in the frame, a fragment, or a redirect after a saved form.</summary>
public static class Page
{
    /// <summary>A whole page: the component inside header, rooms and main.</summary>
    /// <typeparam name="TPage">The page; it has one parameter, <c>Model</c>.</typeparam>
    /// <param name="title">Title of the page, also its name in the browser's tab.</param>
    /// <param name="model">Goes to the page's <c>Model</c>.</param>
    /// <param name="room">The room it belongs to.</param>
    /// <param name="status">HTTP status: 200, 422 for a form with mistakes, 409 for a conflict.</param>
    public static IResult Of<TPage>(string title, object? model = null, Room room = Room.None, int status = StatusCodes.Status200OK)
        where TPage : IComponent =>
        new RazorComponentResult<Frame>(new Dictionary<string, object?>(StringComparer.Ordinal)
        {
            [nameof(Frame.Title)] = title,
            [nameof(Frame.Room)] = room,
            [nameof(Frame.Body)] = typeof(TPage),
            [nameof(Frame.Model)] = model,
        })
        { StatusCode = status, PreventStreamingRendering = true };

    /// <summary>No such thing: the problem page with status 404.</summary>
    /// <param name="what">What was looked for and what to do, a sentence: "There is no piece 4711-3; its number may have been mistyped."</param>
    public static IResult NotFound(string what) =>
        Of<ProblemPage>("Not found", new Problem(StatusCodes.Status404NotFound, "Not found", what), Room.None, StatusCodes.Status404NotFound);

    /// <summary>Redirect after post (303), with a line to tell at the top of the next page.</summary>
    /// <param name="address">A path of this app, beginning with one slash.</param>
    /// <param name="told">What was done, shown once: "Saved."</param>
    public static IResult SeeOther(string address, string? told = null) => new SeeOtherResult(address, told);

    private sealed class SeeOtherResult(string address, string? told) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            if (!address.StartsWith('/') || address.StartsWith("//", StringComparison.Ordinal) || address.Contains('\\', StringComparison.Ordinal))
                throw new InvalidOperationException($"A redirect stays in this app; '{address}' does not.");
            if (told is not null)
                Told.Leave(httpContext, told);
            httpContext.Response.StatusCode = StatusCodes.Status303SeeOther;
            httpContext.Response.Headers.Location = address;
            return Task.CompletedTask;
        }
    }
}
