using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Core.Blades;
using Whetwright.Records;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Features.Gauges.Wear;
using Whetwright.Web.Features.Rack;
using Whetwright.Web.Shared.Showing;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>What is here: by promise, by place, by what it needs next; late ones stand out without colour alone.</summary>
public sealed class The_rack(Browser browser)
{
    [Theory]
    [InlineData("phone")]
    [InlineData("tablet")]
    public async Task Shows_what_is_late_in_words_first_and_what_each_piece_needs_next(string screen)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await FillAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen));

        await visitor.GoAsync("/rack");

        Assert.Equal("Late", (await visitor.WordsAsync(".rack-group h2")).Split(' ')[0]);
        Assert.Contains("Late by 3 days", await visitor.WordsAsync(".rack-line"), StringComparison.Ordinal);
        Assert.Contains("1 late", await visitor.WordsAsync(".lead"), StringComparison.Ordinal);
        await visitor.PictureAsync("rack-by-promise");
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        visitor.AssertNoComplaints();
        await visitor.TapAsync("By place");
        await Assertions.Expect(visitor.Page.Locator(".rack-group h2").First).ToContainTextAsync("Shelf 2");
        await visitor.TapAsync("By next step");
        await Assertions.Expect(visitor.Page.Locator(".rack-group h2").First).ToContainTextAsync("To be read");
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_piece_is_moved_and_what_another_tab_saved_is_told(bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        IReadOnlyList<VisitTag> taken = await FillAsync(shop);
        string address = "/rack/" + TagNumber.Format(taken[0].Tag);
        await using Visitor first = await browser.ComeAsync(shop, Screen.Phone, scripts);
        await using Visitor second = await browser.ComeAsync(shop, Screen.Phone, scripts);
        await first.GoAsync(address);
        await second.GoAsync(address);

        await first.TypeAsync("Where it lies", "Drawer 5");
        await first.TapAsync("Save");
        await second.TypeAsync("Where it lies", "Hook 9");
        await second.TapAsync("Save");

        await Assertions.Expect(second.Page.Locator("main")).ToContainTextAsync("Drawer 5");
        string told = await second.WordsAsync("main");
        Assert.Contains("Drawer 5", told, StringComparison.Ordinal);
        Assert.Contains("Hook 9", told, StringComparison.Ordinal);
        await second.PictureAsync("rack-two-tabs");
        await second.TapAsync("Save");
        await Assertions.Expect(second.Page.Locator(".rack-lines").First).ToContainTextAsync("Hook 9");
    }

    [Fact]
    public async Task A_misread_tag_is_told_by_its_check_digit()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);

        await visitor.GoAsync("/rack?tag=1047-1");

        Assert.Contains("check digit", await visitor.WordsAsync("main"), StringComparison.Ordinal);
    }

    /// <summary>RFC 5545: every promise an all-day entry with an identity that stays.</summary>
    [Fact]
    public async Task Promises_can_be_subscribed_to_as_a_calendar()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        IReadOnlyList<VisitTag> taken = await FillAsync(shop);
        using HttpClient client = new() { BaseAddress = new Uri(shop.Address) };

        string feed = await client.GetStringAsync("/rack/promises.ics", TestContext.Current.CancellationToken);

        Ical.Net.Calendar calendar = Ical.Net.Calendar.Load(feed)!;
        Assert.Equal(2, calendar.Events.Count);
        Assert.Contains(calendar.Events, e => e.Uid == $"visit-{taken[0].VisitId}@whetwright" && e.IsAllDay && e.Summary!.Contains("Ines Maru", StringComparison.Ordinal));
        Assert.All(feed.Split("\r\n"), line => Assert.True(System.Text.Encoding.UTF8.GetByteCount(line) <= 75));
    }

    /// <summary>By hand: half past eleven at night in Greenwich is the next day in Berlin. RFC 5545, 3.1: lines end in CRLF and are folded at 75 octets; 3.3.11: a comma is escaped.</summary>
    [Fact]
    public void A_wheel_to_be_measured_stands_on_its_day_an_overdue_one_on_today_and_one_far_off_not_yet()
    {
        DateTime now = new(2026, 3, 7, 23, 30, 0, DateTimeKind.Utc);
        ShopView shop = new("Invented shop", "EUR", TimeZoneInfo.FindSystemTimeZoneById("Europe/Berlin"), new Uri("https://shop.example/"), true);
        WheelToMeasure Wheel(long id, string name, double inDays) => new(id, name, "Bench 1, wheels", now.AddDays(-30), now.AddDays(inDays), 0.5);

        string feed = Promises.Text([], [], [Wheel(4, "coarse", -20), Wheel(5, "fine", 40), Wheel(6, "leather", 300)], shop, now);

        Ical.Net.Calendar calendar = Ical.Net.Calendar.Load(feed)!;
        Assert.Equal(
            [("wheel-4@whetwright", new DateTime(2026, 3, 8), "Measure the wheel again: coarse, Bench 1, wheels"), ("wheel-5@whetwright", new DateTime(2026, 4, 17), "Measure the wheel again: fine, Bench 1, wheels")],
            calendar.Events.Select(e => (e.Uid!, e.Start!.Value, e.Summary!)));
        Assert.All(calendar.Events, e => Assert.True(e.IsAllDay && e.End!.Value == e.Start!.Value.AddDays(1)));
        Assert.Contains("Last measured on 2026-02-06.", calendar.Events[0]!.Description, StringComparison.Ordinal);
        Assert.Equal("https://shop.example/kit/wheels/4", calendar.Events[0]!.Url!.ToString());
        Assert.Contains("SUMMARY:Measure the wheel again: coarse\\, Bench 1\\, wheels\r\n", feed, StringComparison.Ordinal);
        Assert.All(feed.Split("\r\n"), line => Assert.True(System.Text.Encoding.UTF8.GetByteCount(line) <= 75));
    }

    /// <summary>Invented: one late piece, one for the day after tomorrow, one without a promise.</summary>
    private static async Task<IReadOnlyList<VisitTag>> FillAsync(RunningShop shop)
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        OwnerDesk owners = shop.Services.GetRequiredService<OwnerDesk>();
        IntakeDesk desk = shop.Services.GetRequiredService<IntakeDesk>();
        DateOnly today = shop.Services.GetRequiredService<BookClock>().Today(TimeZoneInfo.Utc);
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => owners.AddAsync(db, new() { Name = "Ines Maru, a name long enough to have to wrap on a small phone" }));
        var taken = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => desk.TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces =
            [
                new() { NewPiece = new() { Name = "Long slicer", Kind = PieceKind.DoubleBevel, LengthMm = 270 }, PromisedFor = today.AddDays(-3), Place = "Shelf 2" },
                new() { NewPiece = new() { Name = "Paring knife", Kind = PieceKind.DoubleBevel, LengthMm = 90 }, PromisedFor = today.AddDays(2), Place = "Shelf 2" },
                new() { NewPiece = new() { Name = "Kitchen scissors", Kind = PieceKind.Scissors } },
            ],
        }));
        return taken.Value.Visits;
    }
}
