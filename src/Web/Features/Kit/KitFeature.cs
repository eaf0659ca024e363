using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Features.Kit.Rigs;
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
        MapRigs(app);
        MapLists(app);
        MapInstruments(app);
        MapPapers(app);
    }

    private static void MapRigs(IEndpointRouteBuilder app)
    {
        app.MapGet("/kit/rigs", Rigs.RigShelf.ListAsync);
        app.MapGet("/kit/rigs/new", RigEdit.Kinds);
        app.MapGet("/kit/rigs/new/{kind}", RigEdit.New);
        app.MapPost("/kit/rigs/new/{kind}", RigEdit.AddAsync);
        app.MapGet("/kit/rigs/{id:long}", Rigs.RigShelf.ShowAsync);
        app.MapGet("/kit/rigs/{id:long}/edit", RigEdit.ShowAsync);
        app.MapPost("/kit/rigs/{id:long}/edit", RigEdit.SaveAsync);
        app.MapPost("/kit/rigs/{id:long}/stand", Rigs.RigShelf.StandAsync);
        app.MapGet("/kit/rigs/{rigId:long}/wheels/new", Wheels.WheelShelf.NewAsync);
        app.MapPost("/kit/rigs/{rigId:long}/wheels/new", Wheels.WheelShelf.AddAsync);
        app.MapGet("/kit/wheels/{id:long}", Wheels.WheelShelf.ShowAsync);
        app.MapPost("/kit/wheels/{id:long}", Wheels.WheelShelf.MeasureAsync);
        app.MapGet("/kit/wheels/{id:long}/edit", Wheels.WheelShelf.EditAsync);
        app.MapPost("/kit/wheels/{id:long}/edit", Wheels.WheelShelf.SaveAsync);
    }

    private static void MapLists(IEndpointRouteBuilder app)
    {
        app.MapGet("/kit/abrasives", Abrasives.AbrasiveShelf.ListAsync);
        app.MapGet("/kit/abrasives/new", Abrasives.AbrasiveShelf.NewAsync);
        app.MapPost("/kit/abrasives/new", Abrasives.AbrasiveShelf.AddAsync);
        app.MapGet("/kit/abrasives/{id:long}", Abrasives.AbrasiveShelf.ShowAsync);
        app.MapPost("/kit/abrasives/{id:long}", Abrasives.AbrasiveShelf.SaveAsync);
        app.MapGet("/kit/rules", Rules.RuleShelf.ListAsync);
        app.MapGet("/kit/rules/new", Rules.RuleShelf.NewAsync);
        app.MapPost("/kit/rules/new", Rules.RuleShelf.AddAsync);
        app.MapGet("/kit/rules/{id:long}", Rules.RuleShelf.ShowAsync);
        app.MapPost("/kit/rules/{id:long}", Rules.RuleShelf.SaveAsync);
        app.MapGet("/kit/prices", Prices.PriceShelf.ListAsync);
        app.MapGet("/kit/prices/new", Prices.PriceShelf.NewAsync);
        app.MapPost("/kit/prices/new", Prices.PriceShelf.AddAsync);
        app.MapGet("/kit/prices/{id:long}", Prices.PriceShelf.ShowAsync);
        app.MapPost("/kit/prices/{id:long}", Prices.PriceShelf.SaveAsync);
        app.MapGet("/kit/loans", () => Microsoft.AspNetCore.Http.Results.Redirect("/counter/loans", permanent: true)); // they are lent over the counter
    }

    private static void MapInstruments(IEndpointRouteBuilder app)
    {
        app.MapGet("/kit/instruments", Instruments.InstrumentShelf.ListAsync);
        app.MapGet("/kit/instruments/new", Instruments.InstrumentShelf.New);
        app.MapPost("/kit/instruments/new", Instruments.InstrumentShelf.AddAsync);
        app.MapGet("/kit/instruments/{id:long}", Instruments.InstrumentShelf.ShowAsync);
        app.MapPost("/kit/instruments/{id:long}/{how}", Instruments.InstrumentShelf.CalibrateAsync);
        app.MapGet("/kit/target.pdf", Instruments.InstrumentShelf.TargetPdf);
        app.MapGet("/kit/mat.pdf", Instruments.InstrumentShelf.MatPdf);
    }

    private static void MapPapers(IEndpointRouteBuilder app)
    {
        app.MapGet("/kit/papers", Papers.PaperShelf.ShowAsync);
        app.MapPost("/kit/papers", Papers.PaperShelf.SetAsideAsync);
        app.MapGet("/kit/papers/{id:long}/tags.pdf", Papers.PaperShelf.TagsAsync);
        app.MapGet("/kit/papers/{id:long}/receipts.pdf", Papers.PaperShelf.ReceiptsAsync);
        app.MapGet("/kit/wheels/{id:long}/chart.pdf", Papers.PaperShelf.WheelChartAsync);
        app.MapGet("/kit/rigs/{id:long}/chart.pdf", Papers.PaperShelf.RigChartAsync);
        app.MapGet("/kit/safe", Safe.Safekeeping.Show);
        app.MapPost("/kit/safe/backup", Safe.Safekeeping.BackupAsync);
        app.MapPost("/kit/safe/export", Safe.Safekeeping.ExportAsync);
        app.MapPost("/kit/safe/restore", Safe.Safekeeping.RestoreAsync);
        app.MapPost("/kit/safe/call-off", Safe.Safekeeping.CallOff);
    }
}
