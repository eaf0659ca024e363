using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Records.Shop;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>An empty book asks for what the first knife needs; afterwards the first page is the day.</summary>
public sealed class The_first_run(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Asks_four_numbers_and_leads_to_the_counter(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);

        await visitor.GoAsync("/");
        await visitor.PictureAsync("first-run" + (scripts ? "" : "-no-scripts"));
        await visitor.TypeAsync("Name of the shop", "Ufer & Stein");
        await visitor.TypeAsync("Diameter of the wheel, today", "247,6");
        await visitor.TypeAsync("Jaw's front to the bar", "46");
        await visitor.TapAsync("To the counter");
        await visitor.Page.WaitForURLAsync("**/counter");

        Assert.Equal("Ufer & Stein", await visitor.WordsAsync(".sign span"));
        Assert.Equal(247.6, (await shop.BookAsync(book => book.Diameters.SingleAsync())).DiameterMm);
        Assert.Equal(15, (await shop.BookAsync(book => book.HouseRules.SingleAsync())).AngleDeg, 9);
        RigWhole whole = (await shop.Services.GetRequiredService<KitQuery>().RigsAsync()).Single();
        Assert.IsType<Workbench.Composed<Core.Fixtures.Rig>.Ready>(Workbench.RigOnBench.Compose(whole.Rig, whole.Diameters, [.. whole.Stands], whole.Corrections).Rig);
        await visitor.GoAsync("/");
        Assert.Contains("0 pieces here", await visitor.WordsAsync(".lead"), StringComparison.Ordinal);
        await visitor.PictureAsync("day" + (scripts ? "" : "-no-scripts"));
        if (scripts)
        {
            await visitor.AssertNoSeriousAxe();
            await visitor.AssertNoHorizontalScroll();
            await visitor.AssertRoomForThumbs();
        }
    }

    [Theory]
    [InlineData("guided-rod")]
    [InlineData("bench-stone")]
    public async Task Another_rig_asks_for_its_own_numbers(string kind)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts: false);

        await visitor.GoAsync("/?rig=" + kind);
        await visitor.TypeAsync("Name of the shop", "Ufer & Stein");
        if (kind == "guided-rod")
        {
            await visitor.TypeAsync("Jaw's front to under the rod's pivot", "120");
            await visitor.TypeAsync("Lowest the pivot goes, over the blade's middle", "30");
            await visitor.TypeAsync("Highest", "90");
        }

        await visitor.TapAsync("To the counter");
        await visitor.Page.WaitForURLAsync("**/counter");

        Assert.Contains(kind, (await shop.BookAsync(book => book.Rigs.SingleAsync())).RigJson, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Keeps_what_was_typed_and_says_what_would_be_right()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);

        await visitor.GoAsync("/");
        await visitor.TypeAsync("Name of the shop", "Ufer & Stein");
        await visitor.TypeAsync("Diameter of the wheel, today", "wide");
        await visitor.TapAsync("To the counter");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");

        string summary = await visitor.WordsAsync(".notice.wrong");
        Assert.Contains("Diameter of the wheel, today: 'wide'", summary, StringComparison.Ordinal);
        Assert.Contains("Jaw's front to the bar: is empty", summary, StringComparison.Ordinal);
        Assert.Equal("wide", await visitor.Page.GetByLabel("Diameter of the wheel, today").InputValueAsync());
        Assert.Equal("", (await shop.BookAsync(book => book.Shop.SingleAsync())).Name);
        await visitor.PictureAsync("first-run-wrong");
    }

    [Theory]
    [InlineData("phone", true)]
    [InlineData("phone", false)]
    [InlineData("tablet", true)]
    public async Task A_receipt_written_on_paper_is_entered_with_when_it_happened(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        TagNumbers tags = shop.Services.GetRequiredService<TagNumbers>();
        var block = (SaveOutcome<TagBlock>.Saved)await writer.WriteAsync(db => tags.SetAsideAsync(db, 10));
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);

        await visitor.GoAsync("/counter/late");
        await visitor.Page.Locator("#f-happenedAt").FillAsync("2026-03-14T10:30");
        await visitor.Page.Locator("#f-owner").FillAsync("Ines Maru");
        await visitor.Page.Locator("[name='p0.tag']").FillAsync("1047-1");
        await visitor.Page.Locator("[name='p0.length']").FillAsync("210");
        await visitor.TapAsync("Enter it");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");
        Assert.Contains("check digit does not fit", await visitor.WordsAsync(".notice.wrong"), StringComparison.Ordinal);
        await visitor.PictureAsync("late-wrong" + (scripts ? "" : "-no-scripts"));
        await visitor.Page.Locator("[name='p0.tag']").FillAsync(TagNumber.Format(block.Value.From));
        await visitor.TapAsync("Enter it");
        await visitor.Page.WaitForSelectorAsync(".told");

        Visit visit = await shop.BookAsync(book => book.Visits.SingleAsync());
        Assert.Equal(new DateTime(2026, 3, 14, 10, 30, 0, DateTimeKind.Utc), visit.HappenedAt);
        Assert.True(visit.EnteredAt > visit.HappenedAt.AddDays(1));
        Assert.Equal(block.Value.From, visit.Tag);
    }
}
