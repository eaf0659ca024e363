using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging;
using Whetwright.Records;

namespace Whetwright.Web.Serving.Watching;

/// <summary>Whether the shop is well, for a watchdog: one word, no login, nothing about the shop.</summary>
internal static partial class Health
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    public static async Task<IResult> AskAsync(IDbContextFactory<BookContext> books, ILogger<ServeOptions> log, CancellationToken cancel)
    {
        using CancellationTokenSource limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(Patience);
        try
        {
            await using BookContext db = await books.CreateDbContextAsync(limit.Token);
            return await db.Shop.AnyAsync(limit.Token) ? Results.Text("well") : Results.Text("unwell", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
#pragma warning disable CA1031 // whatever keeps the book from being read is the answer
        catch (Exception e) when (!cancel.IsCancellationRequested)
#pragma warning restore CA1031
        {
            Unwell(log, e);
            return Results.Text("unwell", statusCode: StatusCodes.Status503ServiceUnavailable);
        }
    }

    [LoggerMessage(Level = LogLevel.Error, Message = "The book cannot be read")]
    private static partial void Unwell(ILogger logger, Exception exception);
}
