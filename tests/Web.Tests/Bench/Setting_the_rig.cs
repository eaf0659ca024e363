using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Records.Kit;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

public sealed class Setting_the_rig(Browser browser)
{
    [Theory]
    [InlineData("tablet", true, true)]
    [InlineData("phone", false, true)]
    public async Task The_number_to_dial_is_shown_dialled_kept_and_touched_off(string screen, bool scripts, bool dark)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts, dark);
        await visitor.GoAsync(shop.Address + "/set");
        await Assertions.Expect(visitor.Page.Locator(".set-wheel").First).ToContainTextAsync("Coarse");
        await Assertions.Expect(visitor.Page.Locator(".set-clamp .facts").First).ToContainTextAsync("proved");
        await Assertions.Expect(visitor.Page.Locator(".set-clamp .facts").First).ToContainTextAsync("measure");
        await Assertions.Expect(visitor.Page.Locator("#rig-side svg")).ToBeVisibleAsync();
        await Assertions.Expect(visitor.Page.Locator("#edge-angles svg")).ToBeVisibleAsync();
        await Assertions.Expect(visitor.Page.Locator(".cautions")).ToContainTextAsync("no gloves");
        if (scripts)
            await visitor.LookOverAsync("set");

        await visitor.TapAsync("Dialled");

        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("Dialled. Now touch off.");
        SettingMade made = Assert.Single(await shop.FactsAsync<SettingMade>());
        Assert.Equal(3, made.DiameterIds.Length);
        RigStand stand = await shop.Shop.BookAsync(db => db.RigStands.OrderByDescending(s => s.Id).FirstAsync());
        using JsonDocument result = JsonDocument.Parse(made.ResultJson);
        Assert.Equal(result.RootElement.GetProperty("clamps")[0].GetProperty("settings")[0].GetProperty("barCentreToAxisMm").GetDouble(), stand.DialledMm, 1e-6);
        if (scripts)
            await visitor.LookOverAsync("set-dialled");
        await visitor.TypeTouchOffAsync(0.4);
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");
        Records.Bench.TouchOff touch = Assert.Single(await shop.FactsAsync<Records.Bench.TouchOff>());
        Assert.True(touch.Accepted);
        Assert.Equal(0.4, touch.MeasuredMm - touch.ExpectedMm, 0.051);
    }

    [Fact]
    public async Task A_touch_off_that_does_not_fit_is_told_in_degrees_kept_and_only_accepted_knowingly()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);
        await visitor.TypeTouchOffAsync(4);
        await visitor.TapAsync("Touched off");
        await Assertions.Expect(visitor.Page.Locator(".verdict.outside")).ToContainTextAsync("4.0 mm longer");
        await Assertions.Expect(visitor.Page.Locator(".verdict.outside")).ToContainTextAsync("° flatter than set on");
        await visitor.LookOverAsync("set-touch-wrong");
        Assert.False(Assert.Single(await shop.FactsAsync<Records.Bench.TouchOff>()).Accepted);

        await visitor.TapAsync("Accept it all the same");

        await Assertions.Expect(visitor.Page.Locator(".verdict-words")).ToContainTextAsync("Accepted as it is");
        Records.Bench.TouchOff[] touches = [.. await shop.FactsAsync<Records.Bench.TouchOff>()];
        Assert.Equal(2, touches.Length);
        Assert.Equal(touches[0].Id, touches[1].CorrectsId);
        Assert.True(touches[1].Accepted);
    }

    [Theory]
    [InlineData("phone", false)]
    [InlineData("tablet", true)]
    public async Task A_wheel_dressed_since_shouts_on_set_and_grind_with_the_change_and_is_dialled_again(string screen, bool dark)
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), dark: dark);
        await visitor.DialAsync(shop);
        string before = await visitor.WordsAsync(".set-wheel .dial-value");

        await shop.DressAsync(245.1);
        await visitor.GoAsync(shop.Address + "/set");

        await Assertions.Expect(visitor.Page.Locator(".stale-shout h2")).ToContainTextAsync("do not grind by what was dialled");
        await Assertions.Expect(visitor.Page.Locator(".stale-shout")).ToContainTextAsync("coarse: 247.60 mm when it was dialled, 245.10 mm now");
        await Assertions.Expect(visitor.Page.Locator(".stale-shout .dial-note").First).ToContainTextAsync("was " + before);
        await Assertions.Expect(visitor.Page.Locator(".stale-shout .dial-note").First).ToContainTextAsync("in");
        await Assertions.Expect(visitor.Page.Locator(".dial.stale").First).ToContainTextAsync("Stale.");
        await visitor.LookOverAsync("set-stale");
        await visitor.GoAsync(shop.Address + "/grind");
        await Assertions.Expect(visitor.Page.Locator(".stale-shout h2")).ToContainTextAsync("Stale");
        await visitor.LookOverAsync("grind-stale");
        string now = await visitor.WordsAsync(".stale-shout .dial-value");
        await visitor.TapAsync("Back to Set");
        await visitor.TapAsync("Dialled so");

        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("Dialled again");
        Assert.Equal(0, await visitor.Page.Locator(".stale-shout").CountAsync());
        Assert.Equal(now, await visitor.WordsAsync(".set-wheel .dial-value"));
        Assert.NotEqual(before, now);
        SettingMade[] settings = [.. await shop.FactsAsync<SettingMade>()];
        Assert.Equal(2, settings.Length);
        Assert.Equal(settings[0].PivotXMm!.Value, settings[1].PivotXMm!.Value, 1e-9);
    }

    [Fact]
    public async Task The_command_line_says_the_same_numbers_from_the_files_of_the_page()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);
        string folder = Directory.CreateTempSubdirectory("whetwright-set-").FullName;
        foreach (string file in new[] { "blade.json", "rig.json" })
            await File.WriteAllBytesAsync(Path.Combine(folder, file), await shop.FileAsync("/set/" + file));

        JsonElement said = SetShop.Cli("set", Path.Combine(folder, "blade.json"), "--rig", Path.Combine(folder, "rig.json"), "--angle-deg", "15", "--tolerance-deg", "0.5");

        SettingMade made = Assert.Single(await shop.FactsAsync<SettingMade>());
        using JsonDocument kept = JsonDocument.Parse(made.ResultJson);
        Assert.Equal("set", said.GetProperty("outcome").GetString());
        AssertSame(kept.RootElement, said, "result");
        double shown = double.Parse(await visitor.WordsAsync(".set-wheel .dial-value"), CultureInfo.InvariantCulture);
        Assert.Equal(said.GetProperty("clamps")[0].GetProperty("settings")[0].GetProperty("barFarSideToWheelMm").GetDouble(), shown, 0.005);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task The_bench_sheet_is_printed_with_the_number_of_the_page()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        byte[] proposal = await shop.FileAsync("/set/sheet.pdf");
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);

        byte[] pdf = await shop.FileAsync("/set/sheet.pdf");

        Assert.Equal("%PDF", Encoding.ASCII.GetString(pdf, 0, 4));
        Assert.Equal("%PDF", Encoding.ASCII.GetString(proposal, 0, 4));
        string words = await PdfWords.OfAsync(shop.Shop, shop.Address + "/set/sheet.pdf");
        foreach (string dial in await visitor.Page.Locator(".set-wheel .dial-value").AllInnerTextsAsync())
            Assert.Contains(dial.Trim(), words, StringComparison.Ordinal);
        Assert.Contains(await visitor.WordsAsync(".jaw-from"), words, StringComparison.Ordinal);
        Assert.Contains(await visitor.WordsAsync(".edge-out"), words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_blade_that_needs_two_clamps_shows_both_the_change_over_and_says_which_one_it_is_in()
    {
        // The sample's rig, its pivot kept within 30 mm along and close to the edge: no one clamp keeps this belly.
        JsonNode rig = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(Repository.Root, "samples", "kitchen-knife", "rig.json")))!;
        rig["pivotDistanceMm"] = new JsonArray(62, 72);
        await using SetShop shop = await SetShop.OpenAsync(rig.ToJsonString());
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone, dark: true);
        await visitor.GoAsync(shop.Address + "/set");

        ILocator clamps = visitor.Page.Locator("details.set-clamp");
        await Assertions.Expect(clamps).ToHaveCountAsync(2);
        string over = System.Text.RegularExpressions.Regex.Match(await visitor.WordsAsync(".change-over"), @"change over at ([0-9]+) mm").Groups[1].Value;
        Assert.Matches($"0 mm to {over} mm", await clamps.Nth(0).Locator("summary").First.InnerTextAsync());
        Assert.Matches($"from {over} mm", await clamps.Nth(1).Locator("summary").First.InnerTextAsync());
        await visitor.LookOverAsync("set-two-clamps");
        await visitor.TapAsync("Dialled");
        await visitor.Page.GetByText("Dialled. Now touch off.").WaitForAsync();
        string first = await visitor.WordsAsync("#f-measured-hint");
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");

        // Re-clamped for the tip: its own numbers, and its own touch-off.
        await visitor.GoAsync(shop.Address + "/set");
        await clamps.Nth(1).Locator("summary").First.ClickAsync();
        await visitor.TapAsync("It is in clamp 2 now");
        await Assertions.Expect(visitor.Page.Locator("details.set-clamp > summary", new() { Has = visitor.Page.Locator(".clamp-now") })).ToContainTextAsync("Clamp 2");
        Assert.NotEqual(first, await visitor.WordsAsync("#f-measured-hint"));
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");
        Assert.Equal(2, (await shop.FactsAsync<Records.Bench.TouchOff>()).Count(t => t.Accepted));
    }

    [Fact]
    public async Task A_clamp_measured_by_hand_is_evaluated_and_a_wrong_one_is_named_and_kept()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/set");
        await visitor.Page.Locator(".set-how > summary").ClickAsync();
        await visitor.TapAsync(visitor.Page.Locator("label.segment", new() { Has = visitor.Page.Locator("input[value='typed']") }));
        await visitor.TypeAsync("Jaw from the heel", "abc");
        await visitor.TypeAsync("Edge out of the jaw", "38,5");
        await visitor.TapAsync("Work it out");
        await Assertions.Expect(visitor.Page.Locator("#f-from-error")).ToContainTextAsync("'abc'");
        Assert.Equal("38,5", await visitor.Page.Locator("#f-out").InputValueAsync());
        await visitor.LookOverAsync("set-clamp-wrong");

        await visitor.TypeAsync("Jaw from the heel", "95");
        await visitor.TapAsync("Work it out");

        await Assertions.Expect(visitor.Page.Locator(".jaw-from")).ToHaveTextAsync("95.0 mm");
        await Assertions.Expect(visitor.Page.Locator(".edge-out")).ToHaveTextAsync("38.5 mm");
        await Assertions.Expect(visitor.Page.Locator(".set-clamp .facts").First).ToContainTextAsync("at this clamp");
        await visitor.TapAsync("Dialled");
        await visitor.Page.GetByText("Dialled. Now touch off.").WaitForAsync();
        Assert.Equal(95, Assert.Single(await shop.FactsAsync<SettingMade>()).JawFromHeelMm!.Value, 1e-6);
    }

    [Fact]
    public async Task A_second_tab_is_told_and_a_wheel_dressed_meanwhile_is_not_dialled_over()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor first = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await using Visitor second = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await second.GoAsync(shop.Address + "/set");
        await first.DialAsync(shop);

        await second.TapAsync("Dialled");

        await Assertions.Expect(second.Page.Locator(".notice.conflict")).ToContainTextAsync("Somebody saved this meanwhile");
        Assert.Single(await shop.FactsAsync<SettingMade>());
        await first.GoAsync(shop.Address + "/set?anew=1");
        await shop.DressAsync(246);
        await first.TapAsync("Dialled");
        await Assertions.Expect(first.Page.Locator(".notice.wrong")).ToContainTextAsync("A wheel was measured or dressed", new() { IgnoreCase = true });
        Assert.Single(await shop.FactsAsync<SettingMade>());
    }

    [Fact]
    public async Task What_cannot_be_set_is_refused_in_words_with_what_to_do()
    {
        await using SetShop shop = await SetShop.OpenAsync(aimDeg: 2);
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);

        await visitor.GoAsync(shop.Address + "/set");

        await Assertions.Expect(visitor.Page.Locator(".notice.stop")).ToContainTextAsync("no steeper than the flank itself");
        await Assertions.Expect(visitor.Page.Locator(".notice.stop")).ToContainTextAsync("Ask for more, or thin the blade first");
        Assert.Equal(0, await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Dialled", Exact = true }).CountAsync());
        await visitor.LookOverAsync("set-refused");
    }

    [Theory]
    [InlineData("""{ "kind": "guided-rod", "pivotHeightMm": [10, 120], "pivotXMm": [40, 160], "pivotDistanceMm": [90, 140], "faceOffsetMm": 5 }""", "Rod pivot height")]
    [InlineData("""{ "kind": "bench-stone", "support": "spine-corner" }""", "Lift")]
    [InlineData("""{ "kind": "dial" }""", "Mark")]
    public async Task Every_kind_of_rig_has_its_number(string rig, string dial)
    {
        await using SetShop shop = await SetShop.OpenAsync(rig);
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/set");
        await Assertions.Expect(visitor.Page.Locator(".set-wheel .dial-label").First).ToContainTextAsync(dial);
        await visitor.LookOverAsync("set-" + dial.Split(' ')[0].ToLowerInvariant());

        await visitor.TapAsync("Dialled");

        await visitor.Page.GetByText("Dialled. Now touch off.").WaitForAsync();
        Assert.Single(await shop.FactsAsync<SettingMade>());
        Assert.Equal(0, await visitor.Page.Locator(".stale-shout").CountAsync());
    }

    /// <summary>Every number within 1e-9, every word the same.</summary>
    private static void AssertSame(JsonElement kept, JsonElement said, string at)
    {
        Assert.Equal(kept.ValueKind, said.ValueKind);
        switch (kept.ValueKind)
        {
            case JsonValueKind.Object:
                foreach (JsonProperty p in kept.EnumerateObject())
                    AssertSame(p.Value, said.GetProperty(p.Name), at + "." + p.Name);
                break;
            case JsonValueKind.Array:
                Assert.Equal(kept.GetArrayLength(), said.GetArrayLength());
                for (int i = 0; i < kept.GetArrayLength(); i++)
                    AssertSame(kept[i], said[i], FormattableString.Invariant($"{at}[{i}]"));
                break;
            case JsonValueKind.Number:
                Assert.True(Math.Abs(kept.GetDouble() - said.GetDouble()) <= 1e-9, $"{at}: {kept} and {said}");
                break;
            default:
                Assert.Equal(kept.ToString(), said.ToString());
                break;
        }
    }
}
