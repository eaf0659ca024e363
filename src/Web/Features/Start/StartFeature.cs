using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Start;

/// <summary>The first page and the preferences of a device.</summary>
internal static class StartFeature
{
    public static void AddStart(this IServiceCollection services)
    {
    }

    public static void MapStart(this IEndpointRouteBuilder app)
    {
        app.MapGet("/", DayGlance.ShowAsync);
        app.MapGet("/first", FirstRun.Show);
        app.MapPost("/first", FirstRun.SaveAsync);
        app.MapGet("/preferences", Preferences.Show);
        app.MapPost("/preferences", Preferences.SaveAsync);
    }
}
