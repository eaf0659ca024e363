using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Gauges;

/// <summary>The room Gauges: its services and addresses.</summary>
internal static class GaugesFeature
{
    public static void AddGauges(this IServiceCollection services)
    {
    }

    public static void MapGauges(this IEndpointRouteBuilder app) =>
        app.MapGet("/gauges", () => Page.Of<GaugesPage>("Gauges", room: Room.Gauges));
}
