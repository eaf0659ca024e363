using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Web.Features.Bench.Finish;
using Whetwright.Web.Features.Bench.Grind;
using Whetwright.Web.Features.Bench.LastTime;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Bench.Set;

/// <summary>Services and addresses of Set, Grind, Finish and As last time.</summary>
internal static class SetRoutes
{
    public static IServiceCollection AddSetting(this IServiceCollection services) =>
        services.AddSingleton<WorkDoor>().AddSingleton<SettingMaker>().AddSingleton<SetDesk>();

    public static void MapSetting(this IEndpointRouteBuilder app)
    {
        const string set = "/bench/{tag}/set", grind = "/bench/{tag}/grind", finish = "/bench/{tag}/finish", last = "/bench/{tag}/last-time";
        app.MapGet(set, SetStep.ShowAsync);
        app.MapPost(set, SetStep.DialAsync);
        app.MapPost(set + "/redial", SetStep.RedialAsync);
        app.MapPost(set + "/clamp", SetStep.ClampAsync);
        app.MapPost(set + "/touch", TouchOffStep.MeasureAsync);
        app.MapPost(set + "/touch/accept", TouchOffStep.AcceptAsync);
        app.MapGet(set + "/sheet.pdf", SetFiles.SheetAsync);
        foreach (string file in new[] { "blade", "rig" })
        {
            app.MapGet($"{set}/{file}.json", (string tag, HttpContext http, SetDesk desk, UnitsView units, ViewPreferences preferences, CancellationToken cancel) =>
                SetFiles.InputAsync(tag, file, http, desk, units, preferences, cancel));
        }

        app.MapGet(grind, GrindStep.ShowAsync);
        app.MapPost(grind + "/pass", GrindStep.PassAsync);
        app.MapPost(grind + "/undo", GrindStep.UndoAsync);
        app.MapPost(grind + "/event", GrindStep.EventAsync);
        app.MapGet(grind + "/slip", SlipStep.AskAsync);
        app.MapPost(grind + "/slip", SlipStep.SaveAsync);
        app.MapGet(grind + "/pen", PenTestStep.ShowAsync);
        app.MapPost(grind + "/pen", PenTestStep.SaveAsync);

        app.MapGet(finish, FinishStep.ShowAsync);
        app.MapPost(finish + "/event", FinishStep.EventAsync);

        app.MapGet(last, LastTimeStep.ShowAsync);
        app.MapPost(last, LastTimeStep.SaveAsync);
    }
}
