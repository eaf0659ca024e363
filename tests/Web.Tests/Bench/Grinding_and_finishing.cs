using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

public sealed class Grinding_and_finishing(Browser browser)
{
    [Theory]
    [InlineData("tablet", true, true)]
    [InlineData("phone", false, false)]
    public async Task Passes_are_counted_by_big_buttons_per_side_and_taken_back_by_a_correcting_fact(string screen, bool scripts, bool dark)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts, dark);
        await SetAsync(visitor, shop);
        await Assertions.Expect(visitor.Page.Locator(".pass-of").First).ToContainTextAsync("of about");
        await Assertions.Expect(visitor.Page.Locator(".grind-steps")).ToContainTextAsync("m/s at the surface");
        if (scripts)
            await visitor.LookOverAsync("grind");

        await PassAsync(visitor, "left", 1);
        await PassAsync(visitor, "left", 2);
        await PassAsync(visitor, "right", 1);
        await PassAsync(visitor, "both", 3);
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("Take back the last") }));
        await Assertions.Expect(visitor.Page.Locator("button[value=left] .pass-count")).ToHaveTextAsync("2");

        Passes[] facts = [.. await shop.FactsAsync<Passes>()];
        Assert.Equal(5, facts.Length);
        Assert.True(facts[4].Withdrawn);
        Assert.Equal(facts[3].Id, facts[4].CorrectsId);
        await visitor.TapAsync("Burr felt all along");
        await Assertions.Expect(visitor.Page.Locator(".stage-steps li").First).ToContainTextAsync("✓");
        await visitor.TapAsync("Next: fine");
        await Assertions.Expect(visitor.Page.Locator("#wheel-title")).ToContainTextAsync("Change to fine");
        if (scripts)
            await visitor.LookOverAsync("grind-change");
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Dialled and touched off");
        await visitor.Page.WaitForURLAsync("**/grind?stage=2");
        await Assertions.Expect(visitor.Page.Locator("#wheel-title")).ToHaveCountAsync(0);
        await PassAsync(visitor, "both", 1);
        await visitor.TapAsync("Ground: on to Finish");
        await visitor.Page.WaitForURLAsync("**/finish");
    }

    [Fact]
    public async Task Two_devices_count_at_once_and_a_form_sent_twice_counts_once()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor tablet = await browser.ComeAsync(shop.Shop, Screen.Tablet);
        await using Visitor phone = await browser.ComeAsync(shop.Shop, Screen.Phone, scripts: false);
        await SetAsync(tablet, shop);
        await phone.GoAsync(shop.Address + "/grind");
        await PassAsync(tablet, "left", 1);
        await PassAsync(phone, "right", 1);
        await Assertions.Expect(phone.Page.Locator("button[value=left] .pass-count")).ToHaveTextAsync("1");

        using HttpClient client = shop.Shop.Client();
        Dictionary<string, string> fields = await Forms.ReadAsync(client, shop.Address + "/grind");
        fields["side"] = "left";
        fields["stage"] = "1";
        for (int i = 0; i < 2; i++)
        {
            using FormUrlEncodedContent form = new(fields);
            using HttpResponseMessage answer = await client.PostAsync(new Uri(shop.Address + "/grind/pass", UriKind.Relative), form);
            Assert.Equal(303, (int)answer.StatusCode);
        }

        Assert.Equal(3, (await shop.FactsAsync<Passes>()).Count);
    }

    [Theory]
    [InlineData("phone")]
    public async Task A_slip_rolls_back_to_set_and_no_pass_counts_until_it_is_touched_off(string screen)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen));
        await SetAsync(visitor, shop);
        await PassAsync(visitor, "both", 1);
        await visitor.TapAsync("It slipped");
        await Assertions.Expect(visitor.Page.Locator("#f-atPass")).ToHaveValueAsync("1");
        await visitor.LookOverAsync("grind-slip");
        await visitor.TapAsync(visitor.Page.Locator("main").GetByRole(AriaRole.Button, new() { Name = "It slipped" }));

        await visitor.Page.WaitForURLAsync("**/set");
        await Assertions.Expect(visitor.Page.Locator(".stale-shout")).ToContainTextAsync("slipped at pass 1");
        await visitor.LookOverAsync("set-slipped");
        BenchEvent slipped = Assert.Single(await shop.FactsAsync<BenchEvent>());
        Assert.Equal((BenchEventKind.Slipped, 1, 1), (slipped.Kind, slipped.Stage, slipped.AtPass));
        await visitor.GoAsync(shop.Address + "/grind");
        Assert.Equal(0, await visitor.Page.Locator(".button.pass").CountAsync());
        await visitor.GoAsync(shop.Address + "/set");
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");
        Assert.Equal(0, await visitor.Page.Locator(".stale-shout").CountAsync());
        await PassAsync(visitor, "left", 2);
    }

    [Theory]
    [InlineData("phone", false)]
    [InlineData("tablet", true)]
    public async Task The_pen_test_forecasts_a_band_and_says_from_the_one_seen_how_far_the_setting_is_off(string screen, bool dark)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), dark: dark);
        await SetAsync(visitor, shop);
        await visitor.TapAsync("Pen test first");
        await Assertions.Expect(visitor.Page.Locator("#pen-left figcaption")).ToContainTextAsync("touches first at the shoulder; 2.4° flatter than the old facet");
        await visitor.LookOverAsync("grind-pen");
        await visitor.TapAsync("Read the ink");
        await Assertions.Expect(visitor.Page.Locator("#f-bare-error")).ToContainTextAsync("where the ink is gone would be right");

        await visitor.TapAsync(visitor.Page.Locator("label.segment", new() { Has = visitor.Page.Locator("input[value='apex']") }));
        await visitor.TapAsync("Read the ink");

        await Assertions.Expect(visitor.Page.Locator(".verdict-words")).ToContainTextAsync("too steep. Move the bar toward the wheel");
        BenchEvent test = Assert.Single(await shop.FactsAsync<BenchEvent>());
        Assert.Contains("\"seenBandMm\":[0,", test.DataJson, StringComparison.Ordinal);
        await visitor.LookOverAsync("grind-pen-said");
    }

    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task A_burr_that_stays_gets_its_next_steps_and_the_strop_its_own_angle(string screen, bool scripts)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts);
        await visitor.DialAsync(shop);
        await visitor.GoAsync(shop.Address + "/finish");
        await Assertions.Expect(visitor.Page.Locator(".set-wheel .dial-note").First).ToContainTextAsync("at 15.50°");
        await visitor.TapAsync("Stropped on leather");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("✓ Stropped"); // a tap on the page that is leaving is lost
        await visitor.TapAsync("It stays");
        await Assertions.Expect(visitor.Page.Locator(".burr-next")).ToContainTextAsync("Lighter, and alternate");
        await visitor.TapAsync("It still stays");
        await Assertions.Expect(visitor.Page.Locator(".burr-next")).ToContainTextAsync("Raise the angle a degree or two");
        if (scripts)
            await visitor.LookOverAsync("finish-burr");
        await visitor.TapAsync("No burr left");
        await Assertions.Expect(visitor.Page.Locator(".burr-next")).ToHaveCountAsync(0);
        await visitor.TapAsync("Cleaned and oiled");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("✓ Cleaned and oiled at");
        if (scripts)
            await visitor.LookOverAsync("finish");
        await visitor.TapAsync("Finished: on to Check");

        await visitor.Page.WaitForURLAsync("**/check");
        Assert.Equal(
            [BenchEventKind.Stropped, BenchEventKind.BurrStays, BenchEventKind.BurrStays, BenchEventKind.BurrOff, BenchEventKind.Cleaned],
            (await shop.FactsAsync<BenchEvent>()).Select(e => e.Kind));
    }

    private static async Task SetAsync(Visitor visitor, SetShop shop)
    {
        await visitor.DialAsync(shop);
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");
    }

    private static async Task PassAsync(Visitor visitor, string side, int then)
    {
        await visitor.TapAsync(visitor.Page.Locator($"button[name=side][value={side}]"));
        await Assertions.Expect(visitor.Page.Locator($"button[value={(side == "right" ? "right" : "left")}] .pass-count")).ToHaveTextAsync(then.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }
}
