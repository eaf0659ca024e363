using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Doors;
using Whetwright.Web.Features.Api;
using Whetwright.Web.Features.Bench;
using Whetwright.Web.Features.Book;
using Whetwright.Web.Features.Counter;
using Whetwright.Web.Features.Counter.Late;
using Whetwright.Web.Features.Gauges;
using Whetwright.Web.Features.Kit;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Features.Start;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared;

namespace Whetwright.Web;

/// <summary>The contents page: what the web face is made of, a line each.</summary>
internal static class Contents
{
    public static void AddRooms(this IServiceCollection services, ServeOptions options)
    {
        services.AddPersonsView();
        services.AddDoors(options);
        services.AddStart();
        services.AddCounter();
        services.AddRack();
        services.AddBench();
        services.AddBook();
        services.AddKit();
        services.AddGauges();
        services.AddApi();
    }

    public static void MapRooms(this IEndpointRouteBuilder app)
    {
        app.MapDoors();
        app.MapStart();
        app.MapCounter();
        app.MapLate();
        app.MapRack();
        app.MapBench();
        app.MapBook();
        app.MapKit();
        app.MapGauges();
        app.MapApi();
    }
}
