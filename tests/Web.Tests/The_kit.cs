using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records.Kit;
using Whetwright.Records.Saving;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Rigs, wheels, abrasives, instruments, rules, prices: described once, measured again. Invented, all of it.</summary>
public sealed class The_kit(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task A_rig_is_described_beside_its_drawing_and_gets_a_wheel(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);

        await visitor.GoAsync("/kit/rigs/new/wheel-and-bar");
        await visitor.TypeAsync("Name", "Bench 1");
        await visitor.TypeAsync("Edge to pivot, least", "80");
        await visitor.TypeAsync("Edge to pivot, most", "140,5");
        await visitor.TypeAsync("Pivot along the edge, from the heel, least", "0");
        await visitor.TypeAsync("Pivot along the edge, from the heel, most", "200");
        if (scripts)
            await Assertions.Expect(visitor.Page.Locator("#rig-figure figcaption")).ToContainTextAsync("as typed");
        await visitor.PictureAsync("kit-rig-new" + (scripts ? "" : "-no-scripts"));
        if (scripts)
            await LooksRight(visitor);
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".told");
        await visitor.TapAsync("Add a wheel");
        await visitor.Page.WaitForSelectorAsync("#f-diameterMm");
        await visitor.TypeAsync("Name", "coarse");
        await visitor.TypeAsync("Diameter today (B)", "247.6");
        await visitor.TypeAsync("Speed", "90");
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Contains("247.6 mm", await visitor.WordsAsync(".kit-wheel"), StringComparison.Ordinal);
        await visitor.PictureAsync("kit-rig" + (scripts ? "" : "-no-scripts"));
        if (scripts)
            await LooksRight(visitor);
        RigKept kept = await shop.BookAsync(book => book.Rigs.SingleAsync());
        Assert.Contains("140.5", kept.RigJson, StringComparison.Ordinal);
        Assert.Equal(247.6, (await shop.BookAsync(book => book.Diameters.SingleAsync())).DiameterMm);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_wrong_dimension_is_named_with_what_would_be_right_and_what_was_typed_is_kept(bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts);

        await visitor.GoAsync("/kit/rigs/new/guided-rod");
        await visitor.TypeAsync("Name", "Rod");
        await visitor.TypeAsync("Pivot over the blade's middle, least", "90");
        await visitor.TypeAsync("Pivot over the blade's middle, most", "40");
        await visitor.TypeAsync("Edge to under the pivot, least", "1,200");
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");

        string summary = await visitor.WordsAsync(".notice.wrong");
        Assert.Contains("'1,200' may be 1.2 or 1200", summary, StringComparison.Ordinal);
        Assert.Contains("Edge to under the pivot, most: is empty", summary, StringComparison.Ordinal);
        Assert.Equal("1,200", await visitor.Page.GetByLabel("Edge to under the pivot, least").InputValueAsync());
        Assert.Equal(0, await shop.BookAsync(book => book.Rigs.CountAsync()));
        await visitor.PictureAsync("kit-rig-wrong" + (scripts ? "" : "-no-scripts"));
    }

    [Fact]
    public async Task Two_ends_of_a_range_the_wrong_way_round_are_told_apart()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts: false);

        await visitor.GoAsync("/kit/rigs/new/guided-rod");
        await visitor.TypeAsync("Name", "Rod");
        foreach ((string label, string least, string most) in new[] { ("Pivot over the blade's middle", "90", "40"), ("Edge to under the pivot", "100", "150"), ("Pivot along the edge, from the heel", "0", "200") })
        {
            await visitor.TypeAsync(label + ", least", least);
            await visitor.TypeAsync(label + ", most", most);
        }

        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");

        Assert.Contains("'40' is not above 90", await visitor.WordsAsync(".notice.wrong"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("phone")]
    [InlineData("tablet")]
    public async Task A_dressed_wheel_is_entered_with_its_history_and_one_that_grew_is_asked_about(string screen)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        long wheel = await WheelAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen));

        await visitor.GoAsync($"/kit/wheels/{wheel}");
        await visitor.TapAsync("Dressed");
        await visitor.TypeAsync("Diameter now (B)", "252");
        await visitor.TapAsync("Enter");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");
        Assert.Contains("a wheel does not grow", await visitor.WordsAsync(".notice.wrong"), StringComparison.Ordinal);
        await visitor.TypeAsync("Diameter now (B)", "243,2");
        await visitor.TapAsync("Enter");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Contains("243.2", await visitor.WordsAsync(".dial"), StringComparison.Ordinal);
        Assert.Contains("1.15 m/s", await visitor.WordsAsync("main"), StringComparison.Ordinal); // π · 0.2432 m · 90/60 s = 1.146 m/s
        Assert.Equal([DiameterCause.New, DiameterCause.Dressed], await shop.BookAsync(book => book.Diameters.OrderBy(d => d.Id).Select(d => d.Cause).ToArrayAsync()));
        await visitor.PictureAsync("kit-wheel");
        await LooksRight(visitor);
    }

    [Fact]
    public async Task A_grade_is_looked_up_and_the_closest_that_is_owned_is_named()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);

        await visitor.GoAsync("/kit/abrasives/new");
        await visitor.TypeAsync("Name", "Middle stone");
        await visitor.ChooseAsync("What it is", "Stone");
        await visitor.ChooseAsync("Graded by", "jis");
        await visitor.TypeAsync("Grade as marked", "1000");
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".told");
        await visitor.GoAsync("/kit/abrasives?grade=P1200&system=fepa-p");

        Assert.Contains("The closest you own is Middle stone", await visitor.WordsAsync("#closest-found"), StringComparison.Ordinal);
        Assert.Equal(11.5, (await shop.BookAsync(book => book.Abrasives.SingleAsync())).D50Um!.Value, 1); // JIS R 6001 #1000: 11.5 ± 1.0 µm (electric resistance method), as in the table of grades
        await visitor.PictureAsync("kit-abrasives");
        await LooksRight(visitor);
        await visitor.GoAsync("/kit/abrasives?grade=999&system=jis");
        Assert.Contains("'999' is no grade of JIS", await visitor.WordsAsync("#closest-found"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task An_instrument_is_set_up_and_its_latest_calibration_counts(bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts);

        await visitor.GoAsync("/kit/instruments/new");
        await visitor.TypeAsync("Name", "Bench target");
        await visitor.TapAsync("Keep");
        await visitor.Page.WaitForSelectorAsync(".told");
        await visitor.TypeAsync("Left mark to right mark, before", "57.7");
        await visitor.TypeAsync("The same after the move", "115.5");
        await visitor.TypeAsync("Moved back by", "100");
        await visitor.TapAsync("Enter step");
        await visitor.Page.Locator(".told", new() { HasTextString = "Distance" }).WaitForAsync();

        // L = Δ·y₁/(y₂ − y₁) = 100 · 57.7 / 57.8 = 99.827 mm.
        Assert.Contains("99.83", await visitor.WordsAsync(".dial"), StringComparison.Ordinal);
        await visitor.TypeAsync("Bare beam's marks, right of zero, in mm", "0,4; 0,5; 0,3");
        await visitor.TapAsync("Enter zero");
        await visitor.Page.Locator(".told", new() { HasTextString = "Zero" }).WaitForAsync();
        Assert.Contains("0.40", await visitor.WordsAsync(".facts"), StringComparison.Ordinal);
        Assert.Contains("99.83", await visitor.WordsAsync(".dial"), StringComparison.Ordinal);
        await visitor.PictureAsync("kit-instrument" + (scripts ? "" : "-no-scripts"));
        if (scripts)
            await LooksRight(visitor);
        Assert.Equal(["spacer", "step", "zero"], await shop.BookAsync(book => book.Instruments.OrderBy(i => i.Id).Select(i => i.How).ToArrayAsync()));
    }

    [Fact]
    public async Task A_price_and_a_rule_are_entered_and_a_second_tab_is_told()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor first = await browser.ComeAsync(shop, Screen.Tablet);
        await using Visitor second = await browser.ComeAsync(shop, Screen.Phone);
        await first.GoAsync("/kit/prices/new");
        await first.TypeAsync("What the receipt says", "Kitchen knife");
        await first.TypeAsync("Price, tax included", "12,50");
        await first.TypeAsync("Bench time it stands for", "15");
        await first.TapAsync("Save");
        await first.Page.WaitForSelectorAsync(".told");
        long id = (await shop.BookAsync(book => book.Prices.SingleAsync())).Id;
        await second.GoAsync($"/kit/prices/{id}");
        await first.GoAsync($"/kit/prices/{id}");

        await first.TypeAsync("Price, tax included", "14");
        await first.TapAsync("Save");
        await first.Page.WaitForSelectorAsync(".told");
        await second.TypeAsync("Price, tax included", "13");
        await second.TapAsync("Save");
        await second.Page.WaitForSelectorAsync(".notice.conflict");

        Assert.Contains("14.00", await second.WordsAsync(".notice.conflict"), StringComparison.Ordinal);
        Assert.Equal(1400, (await shop.BookAsync(book => book.Prices.SingleAsync())).AmountMinor);
        await first.GoAsync("/kit/prices");
        await first.PictureAsync("kit-prices");
        await LooksRight(first);
    }

    [Theory]
    [InlineData("/kit/target.pdf?paper=a4&distance=100")]
    [InlineData("/kit/mat.pdf?paper=a4&sheets=2")]
    [InlineData("/kit/wheels/1/chart.pdf")]
    public async Task Sheets_come_as_pdf(string address)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await WheelAsync(shop);
        using HttpClient client = shop.Client();

        byte[] pdf = await client.GetByteArrayAsync(new Uri(address, UriKind.Relative));

        Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
    }

    /// <summary>A rig with one wheel of 250 mm at 90 turns a minute.</summary>
    internal static async Task<long> WheelAsync(RunningShop shop)
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        KitDesk desk = shop.Services.GetRequiredService<KitDesk>();
        const string rig = """{"kind":"wheel-and-bar","pivotXMm":[0,200],"pivotDistanceMm":[80,140],"jawToPivotMm":50}""";
        var kept = (SaveOutcome<RigKept>.Saved)await writer.WriteAsync(db => desk.AddRigAsync(db, new("Bench 1", rig)));
        WheelTyped typed = new() { RigId = kept.Value.Id, Name = "coarse", Rpm = 90, MarkedLimitMs = 3 };
        DateTime before = new(2026, 1, 5, 9, 0, 0, DateTimeKind.Utc);
        var wheel = (SaveOutcome<WheelKept>.Saved)await writer.WriteAsync(db => desk.AddWheelAsync(db, typed, new() { DiameterMm = 250, UMm = 0.25, Cause = DiameterCause.New, HappenedAt = before }));
        return wheel.Value.Id;
    }

    private static async Task LooksRight(Visitor visitor)
    {
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        visitor.AssertNoComplaints();
    }
}
