using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Features.Book.Importing;
using Whetwright.Web.Features.Book.Accounts;
using Whetwright.Web.Features.Book.Owners;
using Whetwright.Web.Features.Book.Pieces;
using Whetwright.Web.Features.Book.Privacy;
using Whetwright.Web.Features.Book.Visits;

namespace Whetwright.Web.Features.Book;

/// <summary>The room Book: its services and addresses.</summary>
internal static class BookFeature
{
    public static void AddBook(this IServiceCollection services) => services.AddSingleton<ImportShelf>().AddSingleton<PhotoCopies>();

    public static void MapBook(this IEndpointRouteBuilder app)
    {
        app.MapGet("/book", BookSearch.ShowAsync);
        app.MapGet("/t/{tag}", TagDoor.OpenAsync);
        app.MapGet("/photos/{hash}", PhotoCopies.WholeAsync);
        app.MapGet("/photos/{hash}/small", PhotoCopies.SmallAsync);

        app.MapGet("/book/owners/{id:long}", OwnerBook.ShowAsync);
        app.MapGet("/book/owners/{id:long}/edit", OwnerEdit.ShowAsync);
        app.MapPost("/book/owners/{id:long}/edit", OwnerEdit.SaveAsync);
        app.MapGet("/book/owners/{id:long}/statement", AccountMonth.ShowAsync);
        app.MapGet("/book/owners/{id:long}/statement.pdf", AccountMonth.PdfAsync);

        app.MapGet("/book/owners/{id:long}/everything.zip", OwnerPrivacy.ExportAsync);
        app.MapGet("/book/owners/{id:long}/erase", OwnerPrivacy.ShowAsync);
        app.MapPost("/book/owners/{id:long}/erase", OwnerPrivacy.EraseAsync);
        app.MapGet("/book/due", OwnerPrivacy.DueAsync);

        app.MapGet("/book/pieces/{id:long}", PieceBook.ShowAsync);
        app.MapGet("/book/pieces/{id:long}/edit", PieceEdit.ShowAsync);
        app.MapPost("/book/pieces/{id:long}/edit", PieceEdit.SaveAsync);

        app.MapGet("/book/visits/{id:long}", VisitBook.ShowAsync);
        app.MapPost("/book/visits/{id:long}", VisitBook.NoteAsync);

        app.MapGet("/book/takings", TakingsBook.ShowAsync);
        app.MapGet("/book/reminders", Reminders.RemindersBook.ShowAsync);
        app.MapGet("/book/again", Replaying.ReplayBook.ShowAsync);
        app.MapGet("/book/export", Exporting.ShowAsync);
        app.MapGet("/book/export/everything.zip", Exporting.AllAsync);
        app.MapGet("/book/export/{file}", Exporting.OneAsync);

        app.MapGet("/book/import", Import.ShowAsync);
        app.MapPost("/book/import", Import.LoadAsync);
        app.MapGet("/book/import/{token}", Import.PreviewAsync);
        app.MapPost("/book/import/{token}", Import.DecideAsync);
    }
}
