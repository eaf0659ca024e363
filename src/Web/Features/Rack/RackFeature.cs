using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Whetwright.Web.Features.Rack;

/// <summary>The room Rack: its services and addresses.</summary>
internal static class RackFeature
{
    public static void AddRack(this IServiceCollection services)
    {
    }

    public static void MapRack(this IEndpointRouteBuilder app)
    {
        app.MapGet("/rack", RackList.ShowAsync);
        app.MapGet("/rack/promises.ics", Promises.FeedAsync);
        app.MapGet("/rack/{tag}", RackPlace.ShowAsync);
        app.MapPost("/rack/{tag}", RackPlace.SaveAsync);
    }
}
