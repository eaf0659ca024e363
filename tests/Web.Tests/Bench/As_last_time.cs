using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

public sealed class As_last_time(Browser browser)
{
    [Theory]
    [InlineData("tablet", true, true)]
    [InlineData("phone", false, false)]
    public async Task A_returning_piece_is_set_in_three_taps_from_the_rack_with_the_touch_off_measured(string screen, bool scripts, bool dark)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using (Visitor before = await browser.ComeAsync(shop.Shop, Screen.Tablet))
            await before.DialAsync(shop);
        SettingMade then = Assert.Single(await shop.FactsAsync<SettingMade>());
        await shop.ComeAgainAsync();
        await shop.DressAsync(244.9);
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts, dark);
        await visitor.GoAsync("/rack");

        await visitor.TapAsync("As last time");
        await Assertions.Expect(visitor.Page.Locator(".changed")).ToContainTextAsync("coarse: 247.6 → 244.9 mm");
        await Assertions.Expect(visitor.Page.Locator(".changed")).ToContainTextAsync("Bar to coarse");
        if (scripts)
            await visitor.LookOverAsync("last-time");
        await visitor.TypeTouchOffAsync(-0.3);
        await visitor.TapAsync("Dialled and touched off");
        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("Touched off: 0.3 mm shorter than expected, within tolerance");
        await visitor.TapAsync("On to Grind");
        await visitor.Page.WaitForURLAsync("**/grind");

        Assert.Equal(3, visitor.Taps);
        AimChosen aim = Assert.Single(await shop.FactsAsync<AimChosen>());
        Assert.Equal((TargetSource.LastTime, 15.0), (aim.Source, aim.LeftDeg));
        SettingMade now = Assert.Single(await shop.FactsAsync<SettingMade>());
        Assert.Equal(then.PivotXMm!.Value, now.PivotXMm!.Value, 1e-9);
        Assert.NotEqual(then.DiameterIds, now.DiameterIds);
        Assert.True(Assert.Single(await shop.FactsAsync<Records.Bench.TouchOff>()).Accepted);
        Assert.Equal(0, await visitor.Page.Locator(".stale-shout").CountAsync());
    }

    [Fact]
    public async Task Without_a_measured_touch_off_nothing_is_kept()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);
        await shop.ComeAgainAsync();
        await visitor.GoAsync(shop.Address + "/last-time");

        await visitor.TapAsync("Dialled and touched off");

        await Assertions.Expect(visitor.Page.Locator("#f-measured-error")).ToContainTextAsync("is empty; a length such as");
        Assert.Empty(await shop.FactsAsync<SettingMade>());
        Assert.Empty(await shop.FactsAsync<AimChosen>());
    }

    [Fact]
    public async Task A_piece_without_a_past_says_so_and_leads_on_step_by_step()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);

        await visitor.GoAsync(shop.Address + "/last-time");

        await Assertions.Expect(visitor.Page.Locator(".empty")).ToContainTextAsync("no setting was kept");
        await visitor.LookOverAsync("last-time-none");
    }
}
