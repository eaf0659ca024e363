using Microsoft.AspNetCore.Builder;

namespace Whetwright.Web.Serving;

/// <summary>Makes the book ready before the first page.</summary>
internal static class BookStart
{
    public static Task PrepareBookAsync(this WebApplication app) => Task.CompletedTask;
}
