using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Bench;

public sealed class Choosing_the_edge(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Each_edge_stands_with_what_it_costs_and_one_tap_chooses_it(string screen, bool scripts)
    {
        await using BenchShop shop = await ReadAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen), scripts);
        await visitor.GoAsync(shop.Address + "/choose");
        await Assertions.Expect(visitor.Page.Locator(".choice-card h2").First).ToContainTextAsync("As found");
        await Assertions.Expect(visitor.Page.Locator("#card-HouseRule")).ToContainTextAsync("House rule: kitchen, thin");
        await Assertions.Expect(visitor.Page.Locator(".choice-card").Nth(1)).ToContainTextAsync("Visits until thinning");

        await visitor.TapAsync(visitor.Page.Locator("button[value=HouseRule]"));

        await visitor.Page.WaitForURLAsync("**/set");
        AimChosen aim = Assert.Single(await shop.FactsAsync<AimChosen>());
        Assert.Equal((TargetSource.HouseRule, 15.0, 15.0, 0.5), (aim.Source, aim.LeftDeg, aim.RightDeg, aim.ToleranceDeg));
        Assert.Contains("removedMm3", aim.SectionJson, StringComparison.Ordinal);
        await visitor.GoAsync(shop.Address + "/choose");
        await Assertions.Expect(visitor.Page.Locator(".dial-value").First).ToHaveTextAsync("15.0");
        if (scripts)
            await visitor.LookAsync("choose-chosen");
    }

    [Fact]
    public async Task An_edge_of_ones_own_shows_its_cost_while_one_types_and_a_second_tab_is_told()
    {
        await using BenchShop shop = await ReadAsync();
        await using Visitor first = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await using Visitor second = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await first.GoAsync(shop.Address + "/choose");
        await second.GoAsync(shop.Address + "/choose");

        await first.TypeAsync("Angle, both sides", "13,5");
        await Assertions.Expect(first.Page.Locator("#own-cost")).ToContainTextAsync("Steel off");
        await first.TapAsync("Choose my own");
        await first.Page.WaitForURLAsync("**/set");
        await second.TypeAsync("Angle, both sides", "14");
        await second.TapAsync("Choose my own");

        await Assertions.Expect(second.Page.Locator(".notice.conflict")).ToContainTextAsync("13.50°");
        Assert.Contains("14.00°", await second.WordsAsync(".notice.conflict"), StringComparison.Ordinal);
        Assert.Single(await shop.FactsAsync<AimChosen>());
    }

    [Fact]
    public async Task A_wrong_angle_is_named_and_what_was_typed_is_kept()
    {
        await using BenchShop shop = await ReadAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.GoAsync(shop.Address + "/choose");
        await visitor.TypeAsync("Left, where the sides differ", "95");
        await visitor.TypeAsync("Right", "12");

        await visitor.TapAsync("Choose my own");

        await Assertions.Expect(visitor.Page.Locator("#f-left-error")).ToContainTextAsync("'95' is out of range; 1.0° to 60.0° would be right");
        Assert.Equal("12", await visitor.Page.Locator("#f-right").InputValueAsync());
    }

    [Theory]
    [InlineData("phone")]
    [InlineData("tablet")]
    public async Task A_repair_is_worked_out_before_any_promise_and_kept_with_the_edge(string screen)
    {
        await using BenchShop shop = await ReadAsync();
        await shop.AddAsync((visit, now) => new AimChosen { VisitId = visit, HappenedAt = now, EnteredAt = now, Source = TargetSource.Own, LeftDeg = 14, RightDeg = 14, ToleranceDeg = 0.5 });
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Of(screen));
        await visitor.GoAsync(shop.Address + "/choose/repair");

        await visitor.ChooseAsync("What is wrong", "broken-tip-from-spine");
        await visitor.TypeAsync("Broken off the tip", "6");
        await Assertions.Expect(visitor.Page.Locator("#repair-result")).ToContainTextAsync("Length lost");
        await visitor.LookAsync("choose-repair");
        await visitor.TapAsync("Keep it with the edge");

        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Choose");
        AimChosen aim = (await shop.FactsAsync<AimChosen>())[^1];
        Assert.Contains("broken-tip-from-spine", aim.ReshapeJson, StringComparison.Ordinal);
        Assert.Equal(14, aim.LeftDeg);
    }

    /// <summary>By hand from [thomas2019]: at 61 HRC and 6 % chromium carbide 34.4° included cuts 261.7 mm of card, the house rule's 30° cuts 340.0: × 1.30.</summary>
    [Fact]
    public async Task The_steel_is_typed_once_kept_with_the_piece_used_at_the_next_visit_and_taken_back()
    {
        await using BenchShop shop = await ReadAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone, scripts: false);
        await visitor.GoAsync(shop.Address + "/choose");
        await Assertions.Expect(visitor.Page.Locator(".choice-cards")).Not.ToContainTextAsync("Cuts for");
        await visitor.Page.GetByText("Note the steel").ClickAsync();
        await visitor.TypeAsync("Hardness", "610");
        await visitor.TypeAsync("Known from", "the steel's data sheet");
        await visitor.TapAsync("Keep with the piece");
        await Assertions.Expect(visitor.Page.Locator("#f-hrc-error")).ToContainTextAsync("'610' is out of range; 20 to 70");
        await visitor.TypeAsync("Hardness", "61,0");
        await visitor.Page.Locator("#f-crc").FillAsync("6");
        await visitor.TapAsync("Keep with the piece");
        await Assertions.Expect(visitor.Page.Locator(".choice-card", new() { HasText = "House rule" })).ToContainTextAsync("× 1.30 as long");

        BenchShop later = await shop.ComeAgainAsync();
        await later.AddAsync(Found);
        await using Visitor next = await browser.ComeAsync(shop.Shop, Screen.Tablet, dark: true);
        await next.GoAsync(later.Address + "/choose");
        await Assertions.Expect(next.Page.Locator(".choice-card", new() { HasText = "House rule" })).ToContainTextAsync("× 1.30 as long");
        ILocator steel = next.Page.Locator("section", new() { Has = next.Page.Locator("#steel-title") });
        await Assertions.Expect(steel).ToContainTextAsync("61 HRC, chromium carbide 6 %. Known from: the steel's data sheet; noted on");
        await next.LookAsync("choose-steel");
        await next.Page.GetByText("Correct it").ClickAsync();
        await next.TapAsync("It is another steel: take it back");
        await Assertions.Expect(next.Page.Locator(".choice-cards")).Not.ToContainTextAsync("Cuts for");
        Assert.Equal([false, true], (await shop.FactsAsync<SteelNoted>()).Select(f => f.Withdrawn));
    }

    private static Reading Found(long visit, DateTime now) => new()
    {
        VisitId = visit, HappenedAt = now, EnteredAt = now, Purpose = ReadingPurpose.Found, MountIds = [], Method = "optics.bevel-from-mark", MethodVersion = "1", InputsJson = """{"marks":{}}""",
        ResultJson = "{}", Outcome = "read", IncludedDeg = 34.4, IncludedUDeg = 0.2, LeftDeg = 17.4, LeftUDeg = 0.2, RightDeg = 17.0, RightUDeg = 0.2,
    };

    private static async Task<BenchShop> ReadAsync()
    {
        BenchShop shop = await BenchShop.OpenAsync();
        await shop.MeasureAsync();
        await shop.AddAsync(Found);
        return shop;
    }
}
