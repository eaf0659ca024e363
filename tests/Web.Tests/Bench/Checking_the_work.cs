using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

public sealed class Checking_the_work(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Set_stands_against_got_and_a_cut_test_is_kept_without_any_photo(string screen, bool scripts)
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await shop.AddAsync((visit, now) => new AimChosen { VisitId = visit, HappenedAt = now, EnteredAt = now, Source = TargetSource.Own, LeftDeg = 15, RightDeg = 15, ToleranceDeg = 0.5 });
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts);
        await visitor.GoAsync(shop.Address + "/check");
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Read by eye" }));
        await visitor.TypeSampleMarksAsync();
        await visitor.TapAsync("Read the marks");

        await Assertions.Expect(visitor.Page.Locator(".verdict").First).ToContainTextAsync("too steep: out of ± 0.5°");
        Assert.Equal(2, await visitor.Page.Locator(".verdict").CountAsync());
        Assert.Equal(ReadingPurpose.Check, Assert.Single(await shop.FactsAsync<Reading>()).Purpose);

        await visitor.TapAsync("Keep the test");
        await Assertions.Expect(visitor.Page.Locator("#f-middle-error")).ToContainTextAsync("is not chosen");
        foreach ((string place, string how) in new[] { ("heel", "clean"), ("middle", "clean"), ("tip", "catches") })
            await visitor.TapAsync(visitor.Page.Locator("label.segment", new() { Has = visitor.Page.Locator($"input[name='{place}'][value='{how}']") }));
        await visitor.TapAsync("Keep the test");
        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("Cut test kept.");
        CutTest test = Assert.Single(await shop.FactsAsync<CutTest>());
        Assert.Equal(("newsprint", "clean", "clean", "catches"), (test.Medium, test.Heel, test.Middle, test.Tip));
        if (scripts)
            await visitor.LookAsync("check");

        await visitor.TapAsync("Checked: it is ready");
        await Assertions.Expect(visitor.Page.Locator(".steps li.closed [aria-current]")).ToContainTextAsync("Check");
        Assert.Contains(await shop.FactsAsync<StepMark>(), m => m is { Step: BenchStep.Check, State: StepState.Done });
    }

    [Fact]
    public async Task A_photo_of_the_edge_is_kept_and_shown()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/check");
        await visitor.Page.Locator("#f-photo").SetInputFilesAsync(BenchShop.Sample("mats", "photo.jpg"));

        await visitor.TapAsync("Keep the photo");

        await Assertions.Expect(visitor.Page.Locator(".photo-row img")).ToBeVisibleAsync();
        Assert.True(await visitor.Page.Locator(".photo-row img").EvaluateAsync<bool>("i => i.decode().then(() => i.naturalWidth > 100)"));
    }

    [Fact]
    public async Task A_step_is_skipped_with_a_why_and_gone_back_to()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address);
        await visitor.TapAsync("Skip this step");
        await visitor.TapAsync("Skip it");
        await Assertions.Expect(visitor.Page.Locator("#f-why-error")).ToContainTextAsync("is empty");

        await visitor.TypeAsync("Why", "known from last time");
        await visitor.TapAsync("Skip it");

        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Choose");
        await Assertions.Expect(visitor.Page.Locator(".steps li.skipped")).ToContainTextAsync("Read");
        await visitor.GoAsync(shop.Address + "/read");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("known from last time");
        await visitor.TapAsync("Do this step again");
        await visitor.TypeAsync("Why", "the owner asked");
        await visitor.TapAsync("Open it again");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Read");
        await visitor.GoAsync("/bench");
        await Assertions.Expect(visitor.Page.Locator(".bench-need").First).ToHaveTextAsync("Read the edge");
    }

    [Fact]
    public async Task Another_device_picks_the_piece_up_at_its_next_step()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor phone = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await using Visitor tablet = await browser.ComeAsync(shop.Shop, Screen.Tablet);
        await phone.GoAsync(shop.Address + "/read/marks");
        await phone.TypeAsync("Left, edge", "15");
        await phone.TypeAsync("Right, edge", "15");
        await phone.TapAsync("Read the marks");
        await Assertions.Expect(phone.Page.Locator(".dial-value").First).ToHaveTextAsync("30.0");

        await tablet.GoAsync(shop.Address);

        await Assertions.Expect(tablet.Page.Locator("h1")).ToHaveTextAsync("Choose");
        await Assertions.Expect(tablet.Page.Locator("#card-Found")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task A_wrong_tag_and_a_tag_of_nothing_are_told_apart()
    {
        await using BenchShop shop = await BenchShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);

        await visitor.GoAsync("/bench/1047-1");
        Assert.Contains("not the number of a tag", await visitor.WordsAsync("main"), StringComparison.Ordinal);
        await visitor.GoAsync("/bench/" + Records.Visits.TagNumber.Format(9999));
        Assert.Contains("No piece with the tag 9999-", await visitor.WordsAsync("main"), StringComparison.Ordinal);
    }
}
