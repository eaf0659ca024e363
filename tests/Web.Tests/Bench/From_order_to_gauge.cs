using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Records.Gauges;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

/// <summary>A bench day from its order to the gauge: settled, changed by hand, followed, ground, checked, and standing in the log.</summary>
public sealed class From_order_to_gauge(Browser browser)
{
    [Fact]
    public async Task A_day_is_ordered_followed_and_ends_in_the_log_of_its_rig()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");

        await visitor.GoAsync("/rack/day");
        await visitor.Page.Locator("label.tick").First.ClickAsync();
        await visitor.TapAsync("Find the order");
        await Assertions.Expect(visitor.Page.Locator(".day-line")).ToHaveCountAsync(2);
        await Assertions.Expect(visitor.Page.Locator(".facts").First).ToContainTextAsync("proved");
        await Assertions.Expect(visitor.Page.Locator(".day-line").First).ToContainTextAsync("guessed rates");
        await Assertions.Expect(visitor.Page.Locator(".day-line").Last).ToContainTextAsync("same piece, same angle, other wheel");
        await visitor.LookOverAsync("rack-day");
        await visitor.TapAsync(visitor.Page.Locator(".day-line").First.GetByRole(AriaRole.Button, new() { NameRegex = new("later$") }));
        await Assertions.Expect(visitor.Page.Locator(".notice.warn")).ToContainTextAsync("coarse before fine");
        Assert.False((await shop.Shop.BookAsync(db => db.BenchDays.SingleAsync())).ByHand);

        await visitor.GoAsync("/bench");
        await Assertions.Expect(visitor.Page.Locator(".day-next")).ToContainTextAsync("coarse");
        await visitor.TapAsync("Go on with it");
        await visitor.Page.WaitForURLAsync("**/grind");
        await visitor.TapAsync(visitor.Page.Locator("button[name=side][value=both]"));
        await Assertions.Expect(visitor.Page.Locator("button[value=left] .pass-count")).ToHaveTextAsync("1");
        await visitor.TapAsync("Next: fine");
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Dialled and touched off");
        await visitor.Page.WaitForURLAsync("**/grind?stage=2");
        await visitor.TapAsync(visitor.Page.Locator("button[name=side][value=both]"));
        await Assertions.Expect(visitor.Page.Locator("button[value=left] .pass-count")).ToHaveTextAsync("1");
        await visitor.TapAsync("Ground: on to Finish");
        await visitor.Page.WaitForURLAsync("**/finish");

        await visitor.GoAsync("/bench");
        await Assertions.Expect(visitor.Page.Locator(".day-next")).ToHaveCountAsync(0);
        await shop.AddAsync((visit, now) => new Reading
        {
            VisitId = visit, HappenedAt = now, EnteredAt = now, Purpose = ReadingPurpose.Check, MountIds = [], Method = "optics.bevel-from-mark", MethodVersion = "1", InputsJson = """{"marks":{}}""",
            ResultJson = "{}", Outcome = "read", IncludedDeg = 30.8, IncludedUDeg = 0.2, LeftDeg = 15.4, LeftUDeg = 0.2, RightDeg = 15.4, RightUDeg = 0.2,
        });
        await visitor.GoAsync("/gauges");
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { NameRegex = new("fine$") }));
        await Assertions.Expect(visitor.Page.Locator("table").First).ToContainTextAsync("+0.40°");
        CorrectionApplied[] none = await shop.Shop.BookAsync(db => db.Corrections.ToArrayAsync());
        Assert.Empty(none);
        await visitor.Page.Locator("#f-biasDeg").FillAsync("0,4");
        await visitor.TapAsync("Take it out from now on");
        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("Taken out: +0.40°");
        Assert.Equal(0.4, (await shop.Shop.BookAsync(db => db.Corrections.SingleAsync())).BiasDeg, 9);
        await visitor.LookOverAsync("gauges-rig");
    }
}
