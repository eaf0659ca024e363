using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Photos;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Taking in: three pieces in under two minutes, with one hand.</summary>
public sealed class The_counter(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Three_pieces_of_a_new_owner_are_taken_in_within_twelve_taps(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await PriceAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);
        await visitor.GoAsync("/");

        await visitor.TapAsync(visitor.Page.Locator("nav").GetByRole(AriaRole.Link, new() { Name = "Counter", Exact = true }).Locator("visible=true").First);
        await visitor.Page.Locator("#who").WaitForAsync();
        await visitor.TapAsync(visitor.Page.Locator("#who"));
        await visitor.TypeAsync("Who is it?", "Oda Lindqvist");
        if (!scripts)
            await visitor.TapAsync("Find");
        await Assertions.Expect(visitor.Page.Locator("#found")).ToContainTextAsync("Nobody fits");
        await visitor.TapAsync("New owner");
        await visitor.TypeAsync("Phone", "0170 555 01 22");
        await visitor.TapAsync("Take in pieces");
        await visitor.Page.Locator("#f-p0\\.length").WaitForAsync();
        await visitor.PictureAsync($"counter-take-in{(scripts ? "" : "-plain")}");
        if (scripts)
            await visitor.AssertNoSeriousAxe(); // axe is a script itself
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        await TypeAsync(visitor, "p0", "210", "Kitchen knife, black handle");
        await TypeAsync(visitor, "p1", "90", "Paring knife");
        await TypeAsync(visitor, "p2", "180", "Broad knife");
        await visitor.TapAsync("Take in");
        await visitor.Page.Locator(".counter-tags").WaitForAsync();

        Assert.InRange(visitor.Taps, 1, 12);
        await visitor.PictureAsync("counter-taken");
        if (scripts)
            await visitor.AssertNoSeriousAxe(); // axe is a script itself
        await visitor.AssertNoHorizontalScroll();
        Assert.Equal(3, await visitor.Page.Locator(".counter-tag").CountAsync());
        string words = await visitor.WordsAsync("main");
        Assert.Contains(TagNumber.Format(1001), words, StringComparison.Ordinal);
        // 21 cm: 14.00; 9 cm: 8.00; 18 cm: 8.00.
        Assert.Contains("€30.00", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_typed_stays_when_something_is_not_right_and_the_field_is_named()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);
        await visitor.GoAsync("/counter/owners/new?name=Bo");
        await visitor.TapAsync("Take in pieces");
        await visitor.Page.Locator("#f-p0\\.length").WaitForAsync();

        await TypeAsync(visitor, "p0", "1,250", "Long one");
        await visitor.TapAsync("Take in");

        await Assertions.Expect(visitor.Page.Locator(".notice.wrong")).ToContainTextAsync("Length of the edge");
        Assert.Equal("1,250", await visitor.Page.Locator("#f-p0\\.length").InputValueAsync());
        Assert.Equal("Long one", await visitor.Page.Locator("#f-p0\\.name").InputValueAsync());
    }

    [Fact]
    public async Task Damage_is_photographed_and_acknowledged()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);
        await visitor.GoAsync("/counter/owners/new?name=Bo");
        await visitor.TapAsync("Take in pieces");
        await visitor.Page.Locator("#f-p0\\.length").WaitForAsync();
        await TypeAsync(visitor, "p0", "200", "Chipped one");
        await visitor.TapAsync(visitor.Page.Locator("summary").First);
        await visitor.Page.Locator("#f-p0\\.damage").FillAsync("chip near the tip");
        await visitor.Page.Locator("#f-p0\\.acknowledged").CheckAsync();
        await visitor.Page.Locator("#f-p0\\.photo").SetInputFilesAsync(Path.Combine(Repository.Root, "samples", "photos", "normal", "photo.jpg"));

        await visitor.TapAsync("Take in");
        await visitor.Page.Locator(".counter-tags").WaitForAsync();

        Assert.Contains("they know of: chip near the tip", await visitor.WordsAsync("main"), StringComparison.Ordinal);
        await using BookContext db = await shop.Services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync(TestContext.Current.CancellationToken);
        Photo photo = await db.Photos.SingleAsync(TestContext.Current.CancellationToken);
        Assert.Equal(PhotoSubject.Damage, photo.Subject);
        Assert.NotNull(shop.Services.GetRequiredService<IPhotoStore>().PathOf(photo.Hash));
    }

    [Fact]
    public async Task One_more_piece_adds_a_row_and_keeps_what_was_typed_without_scripts()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts: false);
        await visitor.GoAsync("/counter/owners/new?name=Bo");
        await visitor.TapAsync("Take in pieces");
        await TypeAsync(visitor, "p0", "200", "First");

        await visitor.TapAsync("One more piece");

        await Assertions.Expect(visitor.Page.Locator(".counter-new")).ToHaveCountAsync(4);
        Assert.Equal("First", await visitor.Page.Locator("#f-p0\\.name").InputValueAsync());
    }

    private static async Task TypeAsync(Visitor visitor, string row, string length, string name)
    {
        await visitor.Page.Locator($"#f-{row}\\.length").FillAsync(length);
        await visitor.Page.Locator($"#f-{row}\\.name").FillAsync(name);
    }

    /// <summary>Invented prices: 8.00 to 20 cm, 14.00 from there.</summary>
    private static async Task PriceAsync(RunningShop shop)
    {
        await using BookContext db = await shop.Services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        db.Prices.AddRange(
            new PriceLine { Name = "Knife to 20 cm", ToLengthMm = 200, AmountMinor = 800, Minutes = 12 },
            new PriceLine { Name = "Knife from 20 cm", FromLengthMm = 200, AmountMinor = 1400, Minutes = 18 },
            new PriceLine { Name = "Chip", Extra = true, AmountMinor = 500, Minutes = 15 });
        await db.SaveChangesAsync();
    }
}
