using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

/// <summary>A wheel that worked since it was measured: the number to dial stays, its doubt grows, and every face says so.</summary>
public sealed class A_wheel_worn_since(Browser browser)
{
    [Fact]
    public async Task The_wear_is_said_on_set_on_paper_as_last_time_and_to_programs_and_the_number_stays()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        JsonNode before = await AskedAsync(shop);
        await shop.WearAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/set");
        ILocator notice = visitor.Page.Locator(".notice", new() { HasText = "Wheel worn." });
        await Assertions.Expect(notice).ToContainTextAsync(new Regex("coarse: about [0-9.]+ mm worn since it was measured on [0-9]{1,2} [A-Z][a-z]{2} [0-9]{4}, foretold"));
        await Assertions.Expect(visitor.Page.Locator(".set-clamp .facts").First).ToContainTextAsync("wear since the wheel was measured ±");
        await visitor.LookOverAsync("set-worn");
        string sheet = await PdfWords.OfAsync(shop.Shop, shop.Address + "/set/sheet.pdf");
        Assert.Contains("Measure it again.", sheet, StringComparison.Ordinal);

        JsonNode after = await AskedAsync(shop);

        Assert.Single(after["budget"]!.AsArray(), b => (string?)b!["source"] == "wear since the wheel was measured");
        Assert.DoesNotContain(before["budget"]!.AsArray(), b => ((string?)b!["source"])!.StartsWith("wear", StringComparison.Ordinal));
        Assert.Equal(after["budget"]!.AsArray().Sum(b => Math.Pow((double)b!["uDeg"]!, 2)), Math.Pow((double)after["uDeg"]!, 2), 1e-6);
        Assert.True((double)after["uDeg"]! > (double)before["uDeg"]!);
        Assert.Equal(Bars(before), Bars(after));

        await visitor.TapAsync("Dialled");
        await visitor.Page.GetByText("Dialled. Now touch off.").WaitForAsync();
        SettingMade made = Assert.Single(await shop.FactsAsync<SettingMade>());
        Assert.Contains("\"wornMm\":", made.InputsJson, StringComparison.Ordinal);

        using HttpClient client = shop.Shop.Client();
        Ical.Net.Calendar calendar = Ical.Net.Calendar.Load(await client.GetStringAsync(new Uri("/rack/promises.ics", UriKind.Relative), TestContext.Current.CancellationToken))!;
        DateOnly today = shop.Shop.Services.GetRequiredService<BookClock>().Today(TimeZoneInfo.Utc);
        var measure = Assert.Single(calendar.Events, e => e.Uid!.StartsWith("wheel-", StringComparison.Ordinal) && e.Summary == "Measure the wheel again: coarse, bench 1");
        Assert.True(measure.IsAllDay);
        Assert.InRange(DateOnly.FromDateTime(measure.Start!.Value), today.AddDays(-1), today.AddDays(1)); // the shop's own day
        Assert.Contains(today.AddDays(-21).ToString("yyyy-MM", CultureInfo.InvariantCulture), measure.Description, StringComparison.Ordinal);
        await shop.ComeAgainAsync();
        await using Visitor later = await browser.ComeAsync(shop.Shop, Screen.Tablet, dark: true);
        await later.GoAsync(shop.Address + "/last-time");
        await Assertions.Expect(later.Page.Locator(".notice", new() { HasText = "Wheel worn." })).ToContainTextAsync("Measure it again.");
        await Assertions.Expect(later.Page.Locator(".changed")).ToContainTextAsync("Nothing changed");
        await later.LookOverAsync("last-time-worn");
        await later.GoAsync("/book/reminders");
        await Assertions.Expect(later.Page.Locator("table", new() { HasText = "Measure by" })).ToContainTextAsync(new Regex("coarse.*due", RegexOptions.Singleline));
        await later.LookOverAsync("reminders-wheels");
    }

    private static double[] Bars(JsonNode setting) => [.. setting["clamps"]![0]!["settings"]!.AsArray().Select(s => (double)s!["barCentreToAxisMm"]!)];

    private static async Task<JsonNode> AskedAsync(SetShop shop)
    {
        using HttpClient client = shop.Shop.Client();
        string blade = await File.ReadAllTextAsync(Path.Combine(Repository.Root, "samples", "kitchen-knife", "blade.json"));
        using StringContent body = new($$"""{"blade":{{blade}},"rigId":{{shop.RigId}},"angleDeg":13,"pivotMm":[100,-110]}""", Encoding.UTF8, new MediaTypeHeaderValue("application/json"));
        using HttpResponseMessage answer = await client.PostAsync(new Uri("/api/v1/settings", UriKind.Relative), body, TestContext.Current.CancellationToken);
        string text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, text);
        return JsonNode.Parse(text)!;
    }
}
