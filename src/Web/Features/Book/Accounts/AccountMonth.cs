using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Core.Quantities;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Shop;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Book.Owners;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;
using OnPaper = Whetwright.Paper.Shop.Statement;
using Statement = Whetwright.Records.Money.Statement;

namespace Whetwright.Web.Features.Book.Accounts;

/// <summary>An account's month.</summary>
/// <param name="Owner">Whose.</param>
/// <param name="Of">What happened.</param>
/// <param name="Taxes">The tax in the charges, per rate.</param>
/// <param name="Month">The month, <c>2026-03</c>.</param>
/// <param name="Today">The shop's day.</param>
public sealed record AccountMonthModel(Owner Owner, Statement Of, IReadOnlyList<TaxTaken> Taxes, string Month, DateOnly Today);

/// <summary>The monthly statement of an account, as a page and on paper.</summary>
internal static class AccountMonth
{
    public static async Task<IResult> ShowAsync(long id, string? month, AccountQuery accounts, OwnerQuery owners, BookClock clock, ShopView shop, CancellationToken cancel)
    {
        (AccountMonthModel? model, IResult? problem) = await ReadAsync(id, month, accounts, owners, clock, shop, cancel);
        return problem ?? Page.Of<AccountMonthPage>("Statement", model, Room.Book);
    }

    public static async Task<IResult> PdfAsync(
        long id, string? month, string? paper, AccountQuery accounts, OwnerQuery owners, BookClock clock, ShopView shop, UnitsView units, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        (AccountMonthModel? model, IResult? problem) = await ReadAsync(id, month, accounts, owners, clock, shop, cancel);
        if (model is null)
            return problem!;
        if (paper is not (null or "a4" or "letter"))
            return Page.NotFound($"A statement is printed on a4 or letter, not on “{paper}”.");
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        ShopCard card = await db.Shop.AsNoTracking().SingleAsync(cancel);
        ShopPrint print = new(units.Culture, Currency.Of(shop.Currency), units.Unit == LengthUnit.Inch);
        byte[] pdf = PdfWriter.Write(StatementPaper.Draw(Paper(model, card), PaperFormat.Named(paper ?? "a4"), print));
        return Results.File(pdf, "application/pdf", string.Create(CultureInfo.InvariantCulture, $"statement-{id}-{model.Month}.pdf"));
    }

    /// <summary>What goes on paper: the same numbers as on the page.</summary>
    internal static OnPaper Paper(AccountMonthModel model, ShopCard card) => new()
    {
        Shop = new ShopHead(card.Name.Length > 0 ? card.Name : "Whetwright") { Address = Lines(card.Address), Conditions = card.Conditions, Invented = card.Invented },
        Number = string.Create(CultureInfo.InvariantCulture, $"{model.Month}-{model.Owner.Id}"),
        Date = model.Today,
        Account = model.Owner.Name,
        AccountAddress = Lines(model.Owner.Address),
        From = model.Of.From,
        To = model.Of.To.AddDays(-1),
        OpeningMinor = model.Of.OpeningMinor,
        Entries =
        [
            .. model.Of.Lines.Select(l => new StatementEntry(
                l.Day, l.Tag is { } tag ? TagNumber.Format(tag) : null, Words(l), l.TaxMilliPercent is null ? 0 : l.AmountMinor, l.TaxMilliPercent is null ? -l.AmountMinor : 0)),
        ],
        Taxes = [.. model.Taxes.Select(t => new TaxShare("Tax", t.MilliPercent, t.ChargedMinor, t.TaxMinor))],
    };

    /// <summary>A line in words: the piece and what was done.</summary>
    internal static string Words(StatementLine line) => line.PieceName is { } piece ? $"{piece}: {line.Text}" : line.Text;

    private static string[] Lines(string? text) => (text ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private static async Task<(AccountMonthModel? Model, IResult? Problem)> ReadAsync(
        long id, string? month, AccountQuery accounts, OwnerQuery owners, BookClock clock, ShopView shop, CancellationToken cancel)
    {
        if (await owners.OneAsync(id, cancel) is not { } owner)
            return (null, OwnerBook.None(id));
        DateOnly today = clock.Today(shop.TimeZone);
        DateOnly day = today;
        if (!string.IsNullOrEmpty(month) && (!DateOnly.TryParseExact(month + "-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out day) || day.Year is < 1971 or > 9990))
            return (null, Page.NotFound($"“{month}” is no month; one such as {today.ToString("yyyy-MM", CultureInfo.InvariantCulture)} would be right."));
        Statement statement = await accounts.MonthAsync(id, day.Year, day.Month, shop.TimeZone, cancel);
        TaxTaken[] taxes =
        [
            .. statement.Lines.Where(l => l.TaxMilliPercent is not null).GroupBy(l => l.TaxMilliPercent!.Value).OrderBy(g => g.Key)
                .Select(g => new TaxTaken(g.Key, g.Sum(l => l.AmountMinor), Takings.TaxInside(g.Sum(l => l.AmountMinor), g.Key))),
        ];
        return (new(owner, statement, taxes, statement.From.ToString("yyyy-MM", CultureInfo.InvariantCulture), today), null);
    }
}
