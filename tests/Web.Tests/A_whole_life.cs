using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Records.Money;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>One piece on the phone from the counter back to the counter, every step by its page; scripts or not, the book ends the same.</summary>
public sealed class A_whole_life(Browser browser)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_piece_is_taken_in_read_chosen_set_ground_finished_checked_told_of_and_handed_back_paid(bool scripts)
    {
        await using SetShop kit = await SetShop.OpenAsync(); // for its rig, wheels and abrasives; its own knife stays where it is
        RunningShop shop = kit.Shop;
        await shop.BookAsync(db =>
        {
            db.Prices.Add(new PriceLine { Name = "Knife from 20 cm", FromLengthMm = 200, AmountMinor = 1400, Minutes = 18 }); // invented
            return db.SaveChangesAsync(Cancel);
        });
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts);

        (long visit, long owner, string bench) = await TakeInAsync(visitor, shop);
        await ReadAndChooseAsync(visitor, bench);
        await SetAndGrindAsync(visitor);
        await FinishAndCheckAsync(visitor);
        await TellAndHandBackAsync(visitor, owner, visit);

        Assert.Equal(0, await shop.Services.GetRequiredService<AccountQuery>().OwedAsync(owner, Cancel));
        Assert.Equal(1400, await shop.BookAsync(db => db.Payments.Where(p => p.OwnerId == owner).SumAsync(p => p.AmountMinor, Cancel)));
        Assert.NotNull(await shop.BookAsync(db => db.Visits.Where(v => v.Id == visit).Select(v => v.HandBackId).SingleAsync(Cancel)));
        Assert.Equal(
            [ReadingPurpose.Found, ReadingPurpose.Check],
            await shop.BookAsync(db => db.Readings.Where(r => r.VisitId == visit).OrderBy(r => r.Id).Select(r => r.Purpose).ToArrayAsync(Cancel)));
        AimChosen aim = await shop.BookAsync(db => db.Set<AimChosen>().SingleAsync(a => a.VisitId == visit, Cancel));
        Assert.Equal((15.0, 15.0), (Math.Round(aim.LeftDeg, 9), Math.Round(aim.RightDeg, 9)));
        Assert.True((await shop.BookAsync(db => db.Set<TouchOff>().Where(t => t.VisitId == visit).OrderBy(t => t.Id).FirstAsync(Cancel))).Accepted);
        // The plan needs the fine wheel alone: the coarse one, the first stage, takes no part.
        Assert.Equal((int[])[2], await shop.BookAsync(db => db.Set<Passes>().Where(p => p.VisitId == visit).OrderBy(p => p.Id).Select(p => p.Stage).Distinct().Order().ToArrayAsync(Cancel)));
        visitor.AssertNoComplaints();
    }

    private static async Task<(long Visit, long Owner, string Bench)> TakeInAsync(Visitor visitor, RunningShop shop)
    {
        await visitor.GoAsync("/counter/owners/new?name=Oda%20Lindqvist");
        await visitor.TypeAsync("Phone", "0170 555 01 22");
        await visitor.TapAsync("Take in pieces");
        await visitor.Page.Locator("#f-p0\\.length").FillAsync("210");
        await visitor.Page.Locator("#f-p0\\.name").FillAsync("Kitchen knife, white handle");
        await visitor.TapAsync("Take in");
        await Assertions.Expect(visitor.Page.Locator(".counter-tags")).ToContainTextAsync("€14.00");
        Visit taken = await shop.BookAsync(db => db.Visits.OrderByDescending(v => v.Id).FirstAsync(Cancel));
        long owner = await shop.BookAsync(db => db.Pieces.Where(p => p.Id == taken.PieceId).Select(p => p.OwnerId).SingleAsync(Cancel));
        return (taken.Id, owner, "/bench/" + TagNumber.Format(taken.Tag));
    }

    private static async Task ReadAndChooseAsync(Visitor visitor, string bench)
    {
        await visitor.GoAsync(bench);
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "By eye" }));
        await visitor.TypeSampleMarksAsync();
        await visitor.TapAsync("Read the marks");
        await Assertions.Expect(visitor.Page.Locator(".dial-value").First).ToBeVisibleAsync();
        await visitor.GoAsync(bench + "/read/lengths");
        foreach ((string field, string typed) in new[] { ("behindEdge", "0,38"), ("primaryHalf", "2.2"), ("land", "0.03"), ("spine", "2.1"), ("height", "47") })
            await visitor.Page.Locator("#f-" + field).FillAsync(typed);
        await visitor.TapAsync("Save");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Read");

        await visitor.GoAsync(bench + "/choose");
        await visitor.TypeAsync("Angle, both sides", "15");
        await visitor.TapAsync("Choose my own");
        await visitor.Page.WaitForURLAsync("**/set");
    }

    private static async Task SetAndGrindAsync(Visitor visitor)
    {
        await visitor.TapAsync("Dialled");
        await visitor.Page.GetByText("Dialled. Now touch off.").WaitForAsync();
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");
        await PassAsync(visitor);
        await visitor.PictureAsync("life-grind");
        await visitor.TapAsync("Ground: on to Finish");
        await visitor.Page.WaitForURLAsync("**/finish");
    }

    private static async Task PassAsync(Visitor visitor)
    {
        await visitor.TapAsync(visitor.Page.Locator("button[name=side][value=both]"));
        await Assertions.Expect(visitor.Page.Locator("button[value=left] .pass-count")).ToHaveTextAsync("1");
    }

    private static async Task FinishAndCheckAsync(Visitor visitor)
    {
        await visitor.TapAsync("No burr left");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("✓ No burr left");
        await visitor.TapAsync("Cleaned and oiled");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("✓ Cleaned and oiled at");
        await visitor.TapAsync("Finished: on to Check");
        await visitor.Page.WaitForURLAsync("**/check");
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Read by eye" }));
        await visitor.TypeSampleMarksAsync();
        await visitor.TapAsync("Read the marks");
        await Assertions.Expect(visitor.Page.Locator(".verdict")).ToHaveCountAsync(2);
        await visitor.TapAsync("Checked: it is ready");
        await Assertions.Expect(visitor.Page.Locator(".steps li.closed [aria-current]")).ToContainTextAsync("Check");
    }

    private static async Task TellAndHandBackAsync(Visitor visitor, long owner, long visit)
    {
        await visitor.GoAsync(FormattableString.Invariant($"/counter/back/{owner}"));
        await visitor.TapAsync("Tell them it is ready");
        await Assertions.Expect(visitor.Page.Locator("#message a").First).ToContainTextAsync("SMS to");
        await visitor.GoAsync(FormattableString.Invariant($"/counter/back/{owner}"));
        await visitor.Page.Locator(FormattableString.Invariant($"#f-v{visit}\\.goes")).CheckAsync();
        await visitor.TapAsync("Hand back");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Handed back");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("€14.00");
    }
}
