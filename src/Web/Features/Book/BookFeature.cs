using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Book;

/// <summary>The room Book: its services and addresses.</summary>
internal static class BookFeature
{
    public static void AddBook(this IServiceCollection services)
    {
    }

    public static void MapBook(this IEndpointRouteBuilder app) =>
        app.MapGet("/book", () => Page.Of<BookPage>("Book", room: Room.Book));
}
