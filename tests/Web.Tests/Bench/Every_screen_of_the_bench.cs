using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

/// <summary>What holds on every screen of Read, Choose and Check, on the phone in the light and the tablet in the dark.</summary>
public sealed class Every_screen_of_the_bench(Browser browser)
{
    [Theory]
    [InlineData("phone", false)]
    [InlineData("tablet", true)]
    public async Task Is_readable_reachable_and_fits(string screen, bool dark)
    {
        await using BenchShop shop = await BenchShop.OpenAsync(instrument: dark);
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), dark: dark);
        await visitor.GoAsync(shop.Address + "/read");
        await visitor.LookAsync("read-empty");
        await visitor.GoAsync(shop.Address + "/check");
        await visitor.LookAsync("check-empty");
        await visitor.SendPhotosAsync(shop);
        await shop.MeasureAsync();

        foreach ((string path, string name) in new[]
        {
            ("/read", "read"), ("/read/photo", "read-photo"), ("/read/photo/more", "read-photo-more"), ("/read/marks", "read-marks"), ("/read/lengths", "read-lengths"), ("/read/outline", "read-outline"),
            ("/read/mark/1", "read-mark"), ("/read/mark/new?mount=0", "read-mark-new"), ("/read/skip", "skip"), ("/choose/repair", "repair-empty"), ("/check/photo", "check-photo"),
        })
        {
            await visitor.GoAsync(shop.Address + path);
            await visitor.LookAsync(name);
        }

        await visitor.GoAsync(shop.Address + "/choose");
        await visitor.TypeAsync("Angle, both sides", "12.5");
        await Assertions.Expect(visitor.Page.Locator("#own-cost")).ToContainTextAsync("Steel off");
        await visitor.LookAsync("choose");
        await visitor.GoAsync("/bench");
        await visitor.LookAsync("room");
        Assert.Equal("read", Assert.Single(await shop.FactsAsync<Reading>()).Outcome);
    }
}
