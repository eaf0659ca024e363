using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace Whetwright.Web.Features.Api;

/// <summary>
/// For programs and other instruments: readings, pieces and settings under /api/v1. Degrees and millimetres, invariant numbers, whatever the device prefers.
/// On this machine without more; where the shop is open to the network, with a token that the master made.
/// </summary>
internal static class ApiFeature
{
    public static void AddApi(this IServiceCollection services) => services.AddOpenApi("v1", api =>
    {
        api.AddDocumentTransformer((document, _, _) =>
        {
            document.Info.Title = "Whetwright";
            document.Info.Version = "1";
            document.Info.Description =
                "Readings, pieces and settings of one shop. Angles in degrees per side from the mid-plane (from the back for pieces with one), lengths in millimetres, "
                + "uncertainties are standard uncertainties (k = 1), times are UTC. What is wrong comes as application/problem+json that names field, value and what would be right. "
                + "Documents in our own formats (marks, instrument, blade, rig) are described by the JSON Schemas in docs/formats.";
            document.Servers?.Clear();
            return Task.CompletedTask;
        });
        api.ShouldInclude = description => description.RelativePath?.StartsWith("api/v1/", StringComparison.Ordinal) == true;
    });

    public static void MapApi(this IEndpointRouteBuilder app)
    {
        app.MapOpenApi("/api/{documentName}/openapi.json");
        RouteGroupBuilder api = app.MapGroup("/api/v1").ProducesProblem(StatusCodes.Status401Unauthorized).ProducesProblem(StatusCodes.Status403Forbidden);

        api.MapGet("/pieces", ApiPieces.FindAsync).WithName("findPieces").WithTags("pieces")
            .WithSummary("Finds pieces").WithDescription("By any part of name, slot, steel or owner's name, or by the tag; without q the first by name.")
            .Produces<PiecesFound>().ProducesProblem(StatusCodes.Status422UnprocessableEntity);
        api.MapGet("/pieces/{id:long}", ApiPieces.OneAsync).WithName("getPiece").WithTags("pieces")
            .WithSummary("One piece").WithDescription("With its blade as a document in our blade format and its open visit.")
            .Produces<PieceOut>().ProducesProblem(StatusCodes.Status404NotFound);
        api.MapPost("/pieces/{id:long}/readings", ApiReadings.PostAsync).WithName("postReading").WithTags("readings")
            .WithSummary("A reading for the piece's open visit")
            .WithDescription("Marks in our marks format, or the finished measurement of another instrument with its uncertainty and method. Needs the header Idempotency-Key: the same key again saves nothing and gives the first answer.")
            .Accepts<ReadingIn>("application/json").Produces<ReadingOut>(StatusCodes.Status201Created).Produces<ReadingOut>()
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict).ProducesProblem(StatusCodes.Status415UnsupportedMediaType)
            .ProducesProblem(StatusCodes.Status422UnprocessableEntity);
        api.MapGet("/readings/{id:long}", ApiReadings.OneAsync).WithName("getReading").WithTags("readings")
            .WithSummary("One reading").WithDescription("As it was stored, with its result as read --json writes it.")
            .Produces<ReadingOut>().ProducesProblem(StatusCodes.Status404NotFound);
        api.MapPost("/settings", ApiSettings.PostAsync).WithName("postSetting").WithTags("settings")
            .WithSummary("What to dial").WithDescription("For a blade and a rig as documents, or for a piece and a rig of the shop. Answers with the document that set --json writes; nothing is stored.")
            .Accepts<SettingIn>("application/json").Produces(StatusCodes.Status200OK, contentType: "application/json")
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status415UnsupportedMediaType).ProducesProblem(StatusCodes.Status422UnprocessableEntity);
    }
}
