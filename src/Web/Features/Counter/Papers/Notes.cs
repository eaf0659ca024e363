using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Paper.Shop;
using Whetwright.Records;
using Whetwright.Records.History;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Papers;

/// <summary>An edge note to look at.</summary>
/// <param name="Tag">Tag with check digit.</param>
/// <param name="OwnerId">Whose.</param>
/// <param name="Note">The note.</param>
/// <param name="Print">How the shop writes.</param>
/// <param name="HandedBack">The piece is gone already.</param>
public sealed record NoteModel(string Tag, long OwnerId, EdgeNote Note, ShopPrint Print, bool HandedBack);

/// <summary>Edge notes, as a page and as a paper.</summary>
internal static class Notes
{
    public static async Task<IResult> ShowAsync(string tag, BookQuery book, IDbContextFactory<BookContext> books, BookClock clock, ShopView shop, CancellationToken cancel) =>
        await ModelAsync(tag, book, books, clock, shop, cancel) is { } model ? Page.Of<NotePage>($"Edge note {model.Tag}", model, Room.Counter) : Unknown(tag);

    public static async Task<IResult> PdfAsync(string tag, string? paper, HttpContext http, BookQuery book, IDbContextFactory<BookContext> books, BookClock clock, ShopView shop, CancellationToken cancel)
    {
        if (ShopPapers.Paper(paper, PaperFormat.A5) is not { } format)
            return Page.NotFound($"There is no paper '{paper}'; one of {ShopPapers.PaperNames} would be right.");
        return await ModelAsync(tag, book, books, clock, shop, cancel) is { } model
            ? ShopPapers.Pdf(http, EdgeNotePaper.Draw(model.Note, format, model.Print), $"edge-note-{model.Tag}.pdf")
            : Unknown(tag);
    }

    private static async Task<NoteModel?> ModelAsync(string tag, BookQuery book, IDbContextFactory<BookContext> books, BookClock clock, ShopView shop, CancellationToken cancel)
    {
        if (!TagNumber.TryParse(tag, out int number) || await book.ByTagAsync(number, cancel) is not { } found || await book.PieceAsync(found.PieceId, cancel) is not { } history)
            return null;
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        Dictionary<long, string> abrasives = await db.Abrasives.AsNoTracking().ToDictionaryAsync(a => a.Id, a => a.Name, cancel);
        VisitRecord visit = history.Visits.First(v => v.Visit.Id == found.VisitId);
        string shown = TagNumber.Format(number);
        return new(
            shown, history.Piece.OwnerId, EdgeNoteOf.Make(history, visit, card, abrasives, ShopPapers.AddressOf(shop, shown), clock.Today(card.Zone())), ShopPapers.Print(card), visit.HandBack is not null);
    }

    private static IResult Unknown(string tag) =>
        Page.NotFound($"There is no tag '{tag}' in the book; a number with its check digit such as {TagNumber.Format(1047)} would be right.");
}
