using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Whetwright.Web.Features.Counter;

/// <summary>The room Counter: its services and addresses.</summary>
internal static class CounterFeature
{
    public static void AddCounter(this IServiceCollection services)
    {
    }

    public static void MapCounter(this IEndpointRouteBuilder app)
    {
        app.MapGet("/counter", Find.ShowAsync);
        app.MapGet("/counter/owners/new", NewOwner.Show);
        app.MapPost("/counter/owners/new", NewOwner.SaveAsync);
        app.MapGet("/counter/in/{ownerId:long}", TakeIn.ShowAsync);
        app.MapPost("/counter/in/{ownerId:long}", TakeIn.SaveAsync);
        app.MapGet("/counter/receipts/{intakeId:long}", Taken.ShowAsync);
    }
}
