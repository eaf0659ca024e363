using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Showing;

namespace Whetwright.Web.Features.Kit;

/// <summary>Shows and saves the shop's card: the worked example of our form pattern.</summary>
internal static class Shop
{
    public static async Task<IResult> ShowAsync(IDbContextFactory<BookContext> books, UnitsView units, CancellationToken cancel) =>
        Of(new ShopForm(await CardAsync(books, cancel), units));

    public static async Task<IResult> SaveAsync(
        HttpContext http, IDbContextFactory<BookContext> books, BookWriter writer, UnitsView units, CancellationToken cancel)
    {
        ShopForm form = new(await CardAsync(books, cancel), units);
        if (!await form.ReadAsync(http))
            return Of(form);

        switch (await writer.SubmitAsync(form.Once, db => db.EditAsync<ShopCard>(1, form.SeenVersion, form.Put, cancel), _ => "/kit/shop", cancel))
        {
            case Submitted<ShopCard>.Done done:
                return Page.SeeOther(done.LedTo, "Saved.");
            case Submitted<ShopCard>.Conflict { Theirs: var theirs }:
                form.Meet(new ShopForm(theirs, units), theirs.Version);
                return Of(form);
            case Submitted<ShopCard>.Refused refused:
                form.Refuse(refused.Problems);
                return Of(form);
            default:
                throw new InvalidOperationException("Outcomes are a closed set.");
        }
    }

    private static async Task<ShopCard> CardAsync(IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Shop.AsNoTracking().SingleAsync(cancel);
    }

    private static IResult Of(ShopForm form) => Page.Of<ShopPage>("The shop", form, Room.Kit, form.Status);
}
