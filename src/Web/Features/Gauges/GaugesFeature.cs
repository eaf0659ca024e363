using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Whetwright.Web.Features.Gauges;

/// <summary>The room Gauges: its services and addresses.</summary>
internal static class GaugesFeature
{
    public static void AddGauges(this IServiceCollection services) => services.AddSingleton<GaugeBook>().AddSingleton<RatesKept>().AddSingleton<WearKept>().AddSingleton<Wear.WearBook>();

    public static void MapGauges(this IEndpointRouteBuilder app)
    {
        app.MapGet("/gauges", GaugesHall.ShowAsync);
        app.MapGet("/gauges/rigs/{rigId:long}/{wheelId:long}", Rigs.RigGauge.ShowAsync);
        app.MapPost("/gauges/rigs/{rigId:long}/{wheelId:long}", Rigs.RigGauge.ApplyAsync);
        app.MapGet("/gauges/studies", Studies.StudyShelf.ListAsync);
        app.MapGet("/gauges/studies/new", Studies.StudyShelf.New);
        app.MapPost("/gauges/studies/new", Studies.StudyShelf.AddAsync);
        app.MapPost("/gauges/studies/csv", Studies.StudyShelf.BringAsync);
        app.MapGet("/gauges/studies/{id:long}", Studies.StudyShelf.ShowAsync);
        app.MapGet("/gauges/wheels", Wear.WearShelf.ShowAsync);
        app.MapGet("/gauges/checks", Checks.CheckShelf.ShowAsync);
        app.MapPost("/gauges/checks", Checks.CheckShelf.AddAsync);
    }
}
