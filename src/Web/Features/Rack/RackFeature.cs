using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Whetwright.Web.Features.Rack;

/// <summary>The room Rack: its services and addresses.</summary>
internal static class RackFeature
{
    public static void AddRack(this IServiceCollection services) => services.AddSingleton<Day.DayDesk>().AddSingleton<Day.DaySearches>();

    public static void MapRack(this IEndpointRouteBuilder app)
    {
        app.MapGet("/rack", RackList.ShowAsync);
        app.MapGet("/rack/promises.ics", Promises.FeedAsync);
        app.MapGet("/rack/day", Day.DayOrderPage.ShowAsync);
        app.MapPost("/rack/day", Day.DayOrderPage.FindAsync);
        app.MapPost("/rack/day/stop", Day.DayOrderPage.StopAsync);
        app.MapPost("/rack/day/move", Day.DayOrderPage.MoveAsync);
        app.MapGet("/rack/{tag}", RackPlace.ShowAsync);
        app.MapPost("/rack/{tag}", RackPlace.SaveAsync);
    }
}
