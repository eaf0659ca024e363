using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Features.Counter.Back;
using Whetwright.Web.Features.Counter.Lost;
using Whetwright.Web.Features.Counter.Papers;
using Whetwright.Web.Features.Counter.Sets;

namespace Whetwright.Web.Features.Counter;

/// <summary>The room Counter: its services and addresses.</summary>
internal static class CounterFeature
{
    public static void AddCounter(this IServiceCollection services)
    {
        services.AddScoped<HandingBack>().AddScoped<CountSet>();
    }

    public static void MapCounter(this IEndpointRouteBuilder app)
    {
        app.MapGet("/counter", Find.ShowAsync);
        app.MapGet("/counter/owners/new", NewOwner.Show);
        app.MapPost("/counter/owners/new", NewOwner.SaveAsync);
        app.MapGet("/counter/in/{ownerId:long}", TakeIn.ShowAsync);
        app.MapPost("/counter/in/{ownerId:long}", TakeIn.SaveAsync);
        app.MapGet("/counter/receipts/{intakeId:long}", Taken.ShowAsync);
        app.MapGet("/counter/receipts/{intakeId:long}/receipt.pdf", CounterPapers.ReceiptAsync);
        app.MapGet("/counter/receipts/{intakeId:long}/tags.pdf", CounterPapers.TagsAsync);
        app.MapGet("/counter/tags/{tag}/tag.pdf", CounterPapers.TagAsync);
        app.MapGet("/counter/notes/{tag}", Notes.ShowAsync);
        app.MapGet("/counter/notes/{tag}/note.pdf", Notes.PdfAsync);
        app.MapGet("/counter/back/{ownerId:long}", HandingBack.ShowAsync);
        app.MapPost("/counter/back/{ownerId:long}", HandingBack.SaveAsync);
        app.MapGet("/counter/back/{ownerId:long}/done/{handBackId:long}", BackDone.ShowAsync);
        app.MapPost("/counter/back/{ownerId:long}/done/{handBackId:long}", BackDone.UndoAsync);
        app.MapGet("/counter/ready/{ownerId:long}", ReadyMessage.ShowAsync);
        app.MapPost("/counter/ready/{ownerId:long}", ReadyMessage.SaveAsync);
        app.MapGet("/counter/sets/{ownerId:long}", OwnerSets.ShowAsync);
        app.MapPost("/counter/sets/{ownerId:long}", OwnerSets.SaveAsync);
        app.MapGet("/counter/sets/{ownerId:long}/{setId:long}/in", CountSet.ShowInAsync);
        app.MapPost("/counter/sets/{ownerId:long}/{setId:long}/in", CountSet.SaveInAsync);
        app.MapGet("/counter/sets/{ownerId:long}/{setId:long}/out", CountSet.ShowOutAsync);
        app.MapPost("/counter/sets/{ownerId:long}/{setId:long}/out", CountSet.SaveOutAsync);
        app.MapGet("/counter/loans", LoanSets.ShowAsync);
        app.MapPost("/counter/loans", LoanSets.MakeAsync);
        app.MapPost("/counter/loans/{loanSetId:long}/back", LoanSets.BackAsync);
        app.MapGet("/counter/lost", LostTag.ShowAsync);
        app.MapPost("/counter/lost", LostTag.FindAsync);
    }
}
