using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Counter;

/// <summary>The room Counter: its services and addresses.</summary>
internal static class CounterFeature
{
    public static void AddCounter(this IServiceCollection services)
    {
    }

    public static void MapCounter(this IEndpointRouteBuilder app) =>
        app.MapGet("/counter", () => Page.Of<CounterPage>("Counter", room: Room.Counter));
}
