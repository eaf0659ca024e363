using System.Globalization;
using Microsoft.AspNetCore.Http;
using Whetwright.Paper.Drawings;
using Whetwright.Paper.Shop;
using Whetwright.Records.Shop;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Counter.Papers;

/// <summary>What all papers of the counter share: the shop's head, its culture and currency, the address in the codes.</summary>
internal static class ShopPapers
{
    /// <summary>The shop as it stands on its papers.</summary>
    public static ShopHead Head(ShopCard card) => new(string.IsNullOrWhiteSpace(card.Name) ? "Sharpening" : card.Name)
    {
        Address = [.. (card.Address ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)],
        Conditions = card.Conditions,
        Invented = card.Invented,
    };

    /// <summary>Numbers, dates and money as the shop writes them, whatever the device prefers.</summary>
    public static ShopPrint Print(ShopCard card) => new(CultureInfo.GetCultureInfo(card.Culture), Currency.Of(card.Currency), card.Units == "in");

    /// <summary>The address that a tag's code leads to; null where the shop has no base address.</summary>
    public static string? AddressOf(ShopView shop, string tag) => shop.BaseAddress is { } start ? start.ToString().TrimEnd('/') + "/t/" + tag : null;

    /// <summary>What is wrong with the codes; null where nothing is.</summary>
    public static string? CodeWarning(ShopView shop) => shop.BaseAddress switch
    {
        null => "The tags carry no code: the shop has no base address yet.",
        { IsLoopback: true } start => $"The codes on the tags lead to {start.Host}, which only this machine can open.",
        _ => null,
    };

    /// <summary>The paper asked for; null where there is none of that name.</summary>
    public static PaperFormat? Paper(string? name, PaperFormat usual) =>
        string.IsNullOrWhiteSpace(name) ? usual : PaperFormat.All.FirstOrDefault(f => f.Name.Equals(name.Trim(), StringComparison.OrdinalIgnoreCase));

    /// <summary>A PDF to look at and print.</summary>
    public static IResult Pdf(HttpContext http, IReadOnlyList<Drawing> pages, string name)
    {
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
        return Results.Bytes(PdfWriter.Write(pages), "application/pdf");
    }

    /// <summary>The names of the papers, for refusals.</summary>
    public static string PaperNames => string.Join(", ", PaperFormat.All.Select(f => f.Name));
}
