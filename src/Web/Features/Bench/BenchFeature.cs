using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Bench;

/// <summary>The room Bench: its services and addresses.</summary>
internal static class BenchFeature
{
    public static void AddBench(this IServiceCollection services)
    {
    }

    public static void MapBench(this IEndpointRouteBuilder app) =>
        app.MapGet("/bench", () => Page.Of<BenchPage>("Bench", room: Room.Bench));
}
