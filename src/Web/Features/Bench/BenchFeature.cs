using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Bench;
using Whetwright.Web.Features.Bench.Steps;

namespace Whetwright.Web.Features.Bench;

/// <summary>The room Bench: its services and addresses.</summary>
internal static class BenchFeature
{
    public static void AddBench(this IServiceCollection services) => services.AddSingleton<BenchDesk>();

    public static void MapBench(this IEndpointRouteBuilder app)
    {
        app.MapGet("/bench", BenchRoom.ShowAsync);
        app.MapGet("/bench/{tag}", BenchRoom.NextAsync);
        foreach (string what in new[] { "skip", "open" })
        {
            app.MapGet("/bench/{tag}/{step}/" + what, (string tag, string step, BenchVisitQuery visits, CancellationToken cancel) => StepMarking.AskAsync(tag, step, what, visits, cancel));
            app.MapPost("/bench/{tag}/{step}/" + what, (string tag, string step, HttpContext http, BenchVisitQuery visits, BenchDesk desk, CancellationToken cancel) =>
                StepMarking.SaveAsync(tag, step, what, http, visits, desk, cancel));
        }

        app.MapPost("/bench/{tag}/{step}/done", StepMarking.DoneAsync);
        app.MapReadAndCheck();
        app.MapChoose();
    }
}
