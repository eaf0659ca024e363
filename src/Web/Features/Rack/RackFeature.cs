using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Rack;

/// <summary>The room Rack: its services and addresses.</summary>
internal static class RackFeature
{
    public static void AddRack(this IServiceCollection services)
    {
    }

    public static void MapRack(this IEndpointRouteBuilder app) =>
        app.MapGet("/rack", () => Page.Of<RackPage>("Rack", room: Room.Rack));
}
