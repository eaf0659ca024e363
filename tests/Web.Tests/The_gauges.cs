using Microsoft.EntityFrameworkCore;
using Microsoft.Playwright;
using Whetwright.Records.Gauges;
using Whetwright.Records.Kit;
using Whetwright.Web.Tests.Bench;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>The room Gauges: studies, checks of instruments, corrections that a person applies.</summary>
public sealed class The_gauges(Browser browser)
{
    /// <summary>AIAG Measurement Systems Analysis, 4th ed. 2010, ch. III-B: the gauge's share of the study's spread is 27.86 %.</summary>
    [Fact]
    public async Task A_study_brought_as_a_table_is_kept_as_measured_and_shows_the_published_shares()
    {
        string path = Path.Combine(Repository.Root, "tests", "Core.Tests", "Data", "gauge_crossed_msa.csv");
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts: false);
        await visitor.GoAsync("/gauges/studies/new");
        await visitor.Page.Locator("#f-tableName").FillAsync("printed study");
        await visitor.Page.Locator("#f-tableUnit input[value=mm]").CheckAsync(new() { Force = true });
        await visitor.Page.Locator("#f-file").SetInputFilesAsync(path);
        await visitor.TapAsync("Keep the table");

        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("printed study");
        await Assertions.Expect(visitor.Page.Locator("#shares svg")).ToContainTextAsync("27.9 %");
        await Assertions.Expect(visitor.Page.Locator("table").First).ToContainTextAsync("27.86 %");
        GaugeStudyKept kept = await shop.BookAsync(db => db.GaugeStudies.SingleAsync());
        Assert.Equal(91, kept.MeasurementsCsv.TrimEnd().Split('\n').Length);
        await using Visitor looking = await browser.ComeAsync(shop, Screen.Phone);
        await looking.GoAsync(new Uri(visitor.Page.Url).AbsolutePath);
        await looking.LookOverAsync("gauges-study");
    }

    [Fact]
    public async Task A_correction_is_applied_by_a_person_shown_where_it_is_dialled_and_makes_an_older_setting_stale()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);
        long coarse = await shop.Shop.BookAsync(db => db.Set<WheelKept>().Where(w => w.Name == "coarse").Select(w => w.Id).FirstAsync());
        GaugeDesk desk = (GaugeDesk)shop.Shop.Services.GetService(typeof(GaugeDesk))!;
        await shop.Writer.WriteAsync(db => desk.ApplyAsync(db, new() { RigId = shop.RigId, WheelId = coarse, BiasDeg = 0.4, BiasUDeg = 0.06, Pieces = 14 }));

        await visitor.GoAsync(shop.Address + "/set");

        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("Stale");
        await visitor.TapAsync("Dialled so");
        await Assertions.Expect(visitor.Page.Locator(".notice", new() { HasText = "Correction applied." })).ToContainTextAsync("coarse grinds 0.40° steeper than it is set");
        await visitor.GoAsync(FormattableString.Invariant($"/gauges/rigs/{shop.RigId}/{coarse}"));
        await Assertions.Expect(visitor.Page.Locator("table").Last).ToContainTextAsync("+0.40°");
    }

    [Fact]
    public async Task A_check_of_an_instrument_that_stands_clear_of_its_doubt_is_called_off()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Tablet, dark: true);
        await visitor.GoAsync("/gauges/checks");
        await visitor.TypeAsync("Instrument", "Bench target");
        await visitor.TypeAsync("What was read", "angle block 30°");
        await visitor.TypeAsync("Its angle", "30");
        await visitor.Page.Locator("#f-readDeg").FillAsync("30,6");
        await visitor.Page.Locator("#f-readUDeg").FillAsync("0.1");

        await visitor.TapAsync("Keep it");

        await Assertions.Expect(visitor.Page.Locator(".notice.warn")).ToContainTextAsync("+0.60° from the known angle, more than its doubt (± 0.20°");
        await visitor.LookOverAsync("gauges-checks");
    }
}
