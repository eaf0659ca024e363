using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Web.Features.Bench.Check;
using Whetwright.Web.Features.Bench.Choose;
using Whetwright.Web.Features.Bench.Read;
using Whetwright.Web.Features.Bench.Set;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Bench;

/// <summary>The room Bench: its services and addresses.</summary>
internal static class BenchFeature
{
    public static void AddBench(this IServiceCollection services) => services.AddSingleton<BenchDesk>().AddSingleton<BenchPhotos>().AddSingleton<ChoiceQueries>().AddSetting();

    public static void MapBench(this IEndpointRouteBuilder app)
    {
        app.MapGet("/bench", BenchRoom.ShowAsync);
        app.MapGet("/bench/{tag}", BenchRoom.NextAsync);
        app.MapGet("/bench/{tag}/photo/{id:long}", BenchPhotos.WholeAsync);
        app.MapGet("/bench/{tag}/photo/{id:long}/cut", BenchPhotos.CutAsync);
        foreach (string what in new[] { "skip", "open" })
        {
            app.MapGet("/bench/{tag}/{step}/" + what, (string tag, string step, BenchVisitQuery visits, CancellationToken cancel) => StepMarking.AskAsync(tag, step, what, visits, cancel));
            app.MapPost("/bench/{tag}/{step}/" + what, (string tag, string step, HttpContext http, BenchVisitQuery visits, BenchDesk desk, CancellationToken cancel) =>
                StepMarking.SaveAsync(tag, step, what, http, visits, desk, cancel));
        }

        app.MapPost("/bench/{tag}/{step}/done", StepMarking.DoneAsync);

        app.MapGet("/bench/{tag}/read", ReadStep.ShowAsync);
        app.MapGet("/bench/{tag}/read/lengths", Lengths.ShowAsync);
        app.MapPost("/bench/{tag}/read/lengths", Lengths.SaveAsync);
        app.MapGet("/bench/{tag}/read/outline", Outline.ShowAsync);
        app.MapPost("/bench/{tag}/read/outline", Outline.SaveAsync);
        app.MapReading("read", ReadingPurpose.Found);

        app.MapGet("/bench/{tag}/choose", ChooseStep.ShowAsync);
        app.MapPost("/bench/{tag}/choose/take", ChooseStep.TakeAsync);
        app.MapPost("/bench/{tag}/choose/own", ChooseStep.OwnAsync);
        app.MapPost("/bench/{tag}/choose/steel", SteelStep.SaveAsync);
        app.MapPost("/bench/{tag}/choose/steel/forget", SteelStep.ForgetAsync);
        app.MapGet("/bench/{tag}/choose/repair", Repair.ShowAsync);
        app.MapPost("/bench/{tag}/choose/repair", Repair.SaveAsync);

        app.MapSetting();

        app.MapGet("/bench/{tag}/check", CheckStep.ShowAsync);
        app.MapPost("/bench/{tag}/check/cut", CheckStep.CutAsync);
        app.MapPost("/bench/{tag}/check/after", CheckStep.AfterAsync);
        app.MapReading("check", ReadingPurpose.Check);
    }

    /// <summary>Reading the edge, for what it came with and for what it got.</summary>
    private static void MapReading(this IEndpointRouteBuilder app, string step, ReadingPurpose purpose)
    {
        string at = "/bench/{tag}/" + step;
        app.MapGet(at + "/photo", (string tag, BenchVisitQuery visits, CancellationToken cancel) => ReadByPhoto.ShowAsync(tag, purpose, visits, cancel));
        app.MapPost(at + "/photo", (string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, BenchPhotos photos, IPhotoStore store, CancellationToken cancel) =>
            ReadByPhoto.SaveAsync(tag, purpose, http, visits, desk, photos, store, cancel));
        app.MapGet(at + "/photo/more", (string tag, BenchVisitQuery visits, CancellationToken cancel) => MorePhoto.ShowAsync(tag, purpose, visits, cancel));
        app.MapPost(at + "/photo/more", (string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, BenchPhotos photos, IPhotoStore store, CancellationToken cancel) =>
            MorePhoto.SaveAsync(tag, purpose, http, visits, desk, photos, store, cancel));
        app.MapGet(at + "/marks", (string tag, BenchVisitQuery visits, UnitsView units, CancellationToken cancel) => ReadByEye.ShowAsync(tag, purpose, visits, units, cancel));
        app.MapPost(at + "/marks", (string tag, HttpContext http, BenchVisitQuery visits, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
            ReadByEye.SaveAsync(tag, purpose, http, visits, desk, units, cancel));
        app.MapGet(at + "/mark/{mark}", (string tag, string mark, int? mount, BenchVisitQuery visits, CancellationToken cancel) => PlaceMark.ShowAsync(tag, mark, mount, purpose, visits, cancel));
        app.MapPost(at + "/mark/{mark}", (string tag, string mark, int? mount, HttpContext http, BenchVisitQuery visits, BenchDesk desk, UnitsView units, CancellationToken cancel) =>
            PlaceMark.SaveAsync(tag, mark, mount, purpose, http, visits, desk, units, cancel));
    }
}
