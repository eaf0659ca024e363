using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Shop;
using Whetwright.Records;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Papers;

/// <summary>Receipts and tags as PDF.</summary>
internal static class CounterPapers
{
    /// <summary>The receipt: <c>paper</c> is a5, a4, letter, half-letter or roll-80.</summary>
    public static async Task<IResult> ReceiptAsync(long intakeId, string? paper, HttpContext http, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        if (ShopPapers.Paper(paper, PaperFormat.A5) is not { } format)
            return Page.NotFound($"There is no paper '{paper}'; one of {ShopPapers.PaperNames} would be right.");
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        if (await ReceiptOfIntake.ReadAsync(db, intakeId, cancel) is not { } receipt)
            return Page.NotFound("There is no receipt of that number in the book.");
        long[] about = [.. receipt.Visits.Select(v => v.ComplaintAboutId).OfType<long>()];
        Dictionary<long, int> tags = await db.Visits.Where(v => about.Contains(v.Id)).ToDictionaryAsync(v => v.Id, v => v.Tag, cancel);
        return ShopPapers.Pdf(http, ReceiptPaper.Draw(receipt.Paper(tags), format, ShopPapers.Print(receipt.Card)), string.Create(CultureInfo.InvariantCulture, $"receipt-{intakeId}.pdf"));
    }

    /// <summary>All tags of a receipt: <c>on</c> is roll, a4 or letter; <c>width</c>, <c>height</c> in mm; <c>skip</c> places of the first sheet that are used already.</summary>
    public static async Task<IResult> TagsAsync(
        long intakeId, string? on, double? width, double? height, int? skip, HttpContext http, IDbContextFactory<BookContext> books, ShopView shop, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<Visit> visits = await Visits(db).Where(v => v.IntakeId == intakeId).OrderBy(v => v.Id).ToListAsync(cancel);
        return visits.Count == 0
            ? Page.NotFound("There is no receipt of that number in the book.")
            : await PrintAsync(db, visits, on, width, height, skip, http, shop, string.Create(CultureInfo.InvariantCulture, $"tags-{intakeId}.pdf"), cancel);
    }

    /// <summary>One tag again.</summary>
    public static async Task<IResult> TagAsync(
        string tag, string? on, double? width, double? height, int? skip, HttpContext http, IDbContextFactory<BookContext> books, ShopView shop, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        List<Visit> visits = TagNumber.TryParse(tag, out int number) ? await Visits(db).Where(v => v.Tag == number).OrderByDescending(v => v.Id).Take(1).ToListAsync(cancel) : [];
        return visits.Count == 0
            ? Page.NotFound($"There is no tag '{tag}' in the book; a number with its check digit such as {TagNumber.Format(1047)} would be right.")
            : await PrintAsync(db, visits, on, width, height, skip, http, shop, $"tag-{TagNumber.Format(number)}.pdf", cancel);
    }

    private static IQueryable<Visit> Visits(BookContext db) => db.Visits.AsNoTracking().Include(v => v.Piece!.Owner);

    private static async Task<IResult> PrintAsync(
        BookContext db, IReadOnlyList<Visit> visits, string? on, double? width, double? height, int? skip, HttpContext http, ShopView shop, string name, CancellationToken cancel)
    {
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        ShopPrint print = ShopPapers.Print(card);
        LabelSize label = new(width ?? LabelSize.Usual.WidthMm, height ?? LabelSize.Usual.HeightMm);
        Tag[] tags = [.. visits.Select(v => Of(v, shop, card))];
        try
        {
            IReadOnlyList<Drawing> pages = on switch
            {
                null or "" or "roll" => TagSheet.Roll(tags, label, print),
                "a4" => TagSheet.Sheets(tags, PaperFormat.A4, label, print, skip ?? 0),
                "letter" => TagSheet.Sheets(tags, PaperFormat.Letter, label, print, skip ?? 0),
                _ => throw new ArgumentException($"Tags are printed on roll, a4 or letter, not on '{on}'.", nameof(on)),
            };
            return ShopPapers.Pdf(http, pages, name);
        }
        catch (ArgumentException e)
        {
            return Page.Of<Layout.ProblemPage>("Not printed", new Problem(StatusCodes.Status422UnprocessableEntity, "Not printed", e.Message.Split(" (Parameter", StringSplitOptions.None)[0]), Layout.Room.Counter, StatusCodes.Status422UnprocessableEntity);
        }
    }

    private static Tag Of(Visit visit, ShopView shop, ShopCard card) => new(TagNumber.Format(visit.Tag))
    {
        Address = ShopPapers.AddressOf(shop, TagNumber.Format(visit.Tag)),
        Owner = visit.Piece!.Owner!.Name,
        Piece = visit.Piece.Slot is { } slot ? $"{visit.Piece.Name}, slot {slot}" : visit.Piece.Name,
        Promise = visit.PromisedFor,
        Invented = card.Invented,
    };
}
