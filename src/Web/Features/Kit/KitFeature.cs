using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Kit;

/// <summary>The room Kit: its services and addresses.</summary>
internal static class KitFeature
{
    public static void AddKit(this IServiceCollection services)
    {
    }

    public static void MapKit(this IEndpointRouteBuilder app)
    {
        app.MapGet("/kit", () => Page.Of<KitPage>("Kit", room: Room.Kit));
        app.MapGet("/kit/shop", Shop.ShowAsync);
        app.MapPost("/kit/shop", Shop.SaveAsync);
        app.MapGet("/kit/tax", Tax.ShowAsync);
        app.MapPost("/kit/tax", Tax.SaveAsync);
    }
}
