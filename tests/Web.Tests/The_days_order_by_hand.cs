using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Core.Blades;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Bench;
using Whetwright.Web.Tests.Harness;
using Whetwright.Workbench.Days;

namespace Whetwright.Web.Tests;

/// <summary>The order of the day in a person's hands: dragged, moved by buttons, stopped while it is searched; what changes take is told.</summary>
public sealed class The_days_order_by_hand(Browser browser)
{
    [Fact]
    public async Task A_line_dragged_by_mouse_or_finger_or_moved_by_its_buttons_is_kept_and_its_cost_shown()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await TakeInAsync(shop, [15, 15, 17, 17]);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);
        await FindAsync(visitor);
        string[] found = await IdsAsync(visitor);

        // By mouse: the last line to the top. 15, 15, 17, 17 needs one change of angle; 17, 15, 15, 17 two.
        ILocator last = visitor.Page.Locator(".day-line").Last;
        await last.Locator(".day-grip").ScrollIntoViewIfNeededAsync();
        LocatorBoundingBoxResult grip = (await last.Locator(".day-grip").BoundingBoxAsync())!;
        await visitor.Page.Mouse.MoveAsync(grip.X + (grip.Width / 2), grip.Y + (grip.Height / 2));
        await visitor.Page.Mouse.DownAsync();
        await visitor.Page.Mouse.MoveAsync(grip.X + 10, 4, new() { Steps = 8 }); // at the window's edge the page scrolls along
        await Assertions.Expect(visitor.Page.Locator(".day-line").First).ToHaveAttributeAsync("data-id", found[3]);
        await visitor.Page.Mouse.UpAsync();
        await Assertions.Expect(visitor.Page.Locator(".day-override")).ToContainTextAsync("It costs 1.5 minutes more than the order found");
        Assert.Equal([found[3], found[0], found[1], found[2]], await IdsAsync(visitor));
        Assert.Equal([found[3], found[0], found[1], found[2]], await KeptAsync(shop));
        await visitor.LookOverAsync("day-by-hand");

        // By finger: the first line below the second, and the page does not scroll away under it.
        ILocator first = visitor.Page.Locator(".day-line").First;
        await first.ScrollIntoViewIfNeededAsync();
        LocatorBoundingBoxResult from = (await first.Locator(".day-grip").BoundingBoxAsync())!, to = (await visitor.Page.Locator(".day-line").Nth(1).BoundingBoxAsync())!;
        ICDPSession touch = await visitor.Page.Context.NewCDPSessionAsync(visitor.Page);
        double x = from.X + (from.Width / 2), y = from.Y + (from.Height / 2), end = to.Y + (to.Height * 0.8);
        await TouchAsync(touch, "touchStart", x, y);
        for (int i = 1; i <= 10; i++)
            await TouchAsync(touch, "touchMove", x, y + ((end - y) * i / 10));
        await TouchAsync(touch, "touchEnd", null, null);
        await Assertions.Expect(visitor.Page.Locator(".day-override")).ToContainTextAsync("It costs 3.0 minutes more"); // 15, 17, 15, 17
        Assert.Equal(found[0], await visitor.Page.Locator(".day-line").First.GetAttributeAsync("data-id"));
        Assert.Equal([found[0], found[3], found[1], found[2]], await KeptAsync(shop));

        // By keyboard: the button keeps the focus where its line went, so one presses on.
        await visitor.Page.Locator($".day-moves button[value='{found[3]}:down']").FocusAsync();
        await visitor.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(visitor.Page.Locator(".day-line").Nth(2)).ToHaveAttributeAsync("data-id", found[3]);
        await Assertions.Expect(visitor.Page.Locator($".day-moves button[value='{found[3]}:down']")).ToBeFocusedAsync();
        await visitor.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(visitor.Page.Locator(".day-override")).ToContainTextAsync("It costs no more than the order found");
        visitor.AssertNoComplaints();

        // Without scripts: the same buttons, no grips, and what was kept is still there.
        await using Visitor plain = await browser.ComeAsync(shop, Screen.Tablet, scripts: false);
        await plain.GoAsync("/rack/day");
        Assert.Equal(found[0], await plain.Page.Locator(".day-line").First.GetAttributeAsync("data-id"));
        await Assertions.Expect(plain.Page.Locator(".day-grip").First).ToBeHiddenAsync();
        await plain.TapAsync(plain.Page.Locator($".day-moves button[value='{found[0]}:down']"));
        await Assertions.Expect(plain.Page.Locator(".day-line").Nth(1)).ToHaveAttributeAsync("data-id", found[0]);
        Assert.EndsWith("/rack/day#line-" + found[0], plain.Page.Url, StringComparison.Ordinal);
        await plain.Page.Locator(".day-setups summary").ClickAsync();
        await plain.PictureAsync("bench-day-plain");
        await Assertions.Expect(plain.Page.Locator(".day-setups")).ToContainTextAsync("a default");
        Assert.Equal(found[0], (await KeptAsync(shop))[1]);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_search_is_stopped_and_the_best_so_far_is_kept(bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await TakeInAsync(shop, [.. Enumerable.Range(0, 48).Select(i => 12.0 + (i % 7))]);
        await using Visitor visitor = await browser.ComeAsync(shop, scripts ? Screen.Phone : Screen.Tablet, scripts);
        await visitor.GoAsync("/rack/day");
        ILocator stop = visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Stop, keep the best so far" });
        await visitor.Page.Locator("input[name=seconds][value='30']").CheckAsync();
        if (scripts)
            await Assertions.Expect(stop).ToBeHiddenAsync(); // nothing to stop yet
        ILocator find = visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Find the order" });
        if (scripts)
        {
            await find.ClickAsync();
            await WaitForSearchAsync(shop);
            await visitor.PictureAsync("bench-day-searching");
            await stop.ClickAsync();
        }
        else
        {
            // The mouse itself: the driver's own clicks wait for the page that is on its way, a person does not.
            await stop.ScrollIntoViewIfNeededAsync();
            LocatorBoundingBoxResult start = (await find.BoundingBoxAsync())!, at = (await stop.BoundingBoxAsync())!;
            await visitor.Page.Mouse.ClickAsync(start.X + (start.Width / 2), start.Y + (start.Height / 2));
            await WaitForSearchAsync(shop);
            await visitor.Page.Mouse.ClickAsync(at.X + (at.Width / 2), at.Y + (at.Height / 2));
        }

        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("Stopped: the best order so far is settled");
        await Assertions.Expect(visitor.Page.Locator(".day-line")).ToHaveCountAsync(48);
        await Assertions.Expect(visitor.Page.Locator(".facts").First).ToContainTextAsync("not proved");
        Assert.Equal(48, (await KeptAsync(shop)).Length);
        visitor.AssertNoComplaints();
    }

    [Fact]
    public async Task The_bench_follows_an_order_that_leaves_a_piece_between_its_stages()
    {
        await using SetShop shop = await SetShop.OpenAsync();
        await TakeInAsync(shop.Shop, [17]);
        await using Visitor visitor = await browser.ComeAsync(shop.Shop, Screen.Phone);
        await visitor.DialAsync(shop);
        await visitor.TypeTouchOffAsync();
        await visitor.TapAsync("Touched off");
        await visitor.Page.WaitForURLAsync("**/grind");
        await visitor.GoAsync("/rack/day");
        foreach (ILocator tick in await visitor.Page.Locator(".day-picks input[type=checkbox]").AllAsync())
            await tick.CheckAsync();
        await visitor.TapAsync("Find the order");
        await Assertions.Expect(visitor.Page.Locator(".day-line")).ToHaveCountAsync(3);
        while ((await visitor.WordsAsync(".day-line:nth-child(2)")).Contains("Knife 1", StringComparison.Ordinal) is false)
        {
            string way = (await visitor.WordsAsync(".day-line:nth-child(1)")).Contains("Knife 1", StringComparison.Ordinal) ? "later" : "earlier";
            await visitor.TapAsync(visitor.Page.Locator(".day-line").Filter(new() { HasTextString = "Knife 1" }).GetByRole(AriaRole.Button, new() { NameRegex = new(way + "$") }));
            await Assertions.Expect(visitor.Page.Locator(".day-line:nth-child(2)")).ToContainTextAsync("Knife 1");
        }

        await visitor.GoAsync("/bench");
        await Assertions.Expect(visitor.Page.Locator(".day-next")).ToContainTextAsync("coarse");
        await visitor.TapAsync("Go on with it");
        await visitor.Page.WaitForURLAsync("**/grind");
        await visitor.TapAsync(visitor.Page.Locator("button[name=side][value=both]"));
        await Assertions.Expect(visitor.Page.Locator(".day-on")).ToContainTextAsync("By the day's order: other piece, by hand");
        await visitor.LookOverAsync("day-on");
        await visitor.TapAsync(visitor.Page.Locator(".day-on button"));
        await Assertions.Expect(visitor.Page).ToHaveURLAsync(new System.Text.RegularExpressions.Regex($"^(?!.*{shop.Address}).*/bench/")); // another piece's bench
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("Knife 1");

        await visitor.GoAsync("/bench");
        await Assertions.Expect(visitor.Page.Locator(".day-next")).ToContainTextAsync("Knife 1");
        Assert.Contains(await shop.FactsAsync<BenchEvent>(), e => e is { Kind: BenchEventKind.BurrOff, Stage: 1 });
        visitor.AssertNoComplaints();
    }

    private static async Task WaitForSearchAsync(RunningShop shop)
    {
        Features.Rack.Day.DaySearches searches = shop.Services.GetRequiredService<Features.Rack.Day.DaySearches>();
        for (int i = 0; i < 400 && searches.UnderWay == 0; i++)
            await Task.Delay(50, TestContext.Current.CancellationToken);
        Assert.Equal(1, searches.UnderWay);
    }

    private static async Task FindAsync(Visitor visitor)
    {
        await visitor.GoAsync("/rack/day");
        await visitor.TapAsync("Find the order");
        await Assertions.Expect(visitor.Page.Locator(".facts").First).ToContainTextAsync("proved");
    }

    private static async Task TouchAsync(ICDPSession session, string type, double? x, double? y) => await session.SendAsync(
        "Input.dispatchTouchEvent", new() { ["type"] = type, ["touchPoints"] = x is null ? Array.Empty<object>() : new object[] { new Dictionary<string, object> { ["x"] = x.Value, ["y"] = y!.Value } } });

    private static Task<string[]> IdsAsync(Visitor visitor) => visitor.Page.Locator(".day-line").EvaluateAllAsync<string[]>("lines => lines.map(l => l.dataset.id)");

    private static async Task<string[]> KeptAsync(RunningShop shop)
    {
        string json = await shop.BookAsync(db => db.BenchDays.OrderByDescending(d => d.Id).Select(d => d.PlanJson).FirstAsync());
        return [.. DayPlan.Read(json)!.Operations.Select(o => o.Id)];
    }

    /// <summary>Invented knives promised for today, each with the edge it should get.</summary>
    private static async Task TakeInAsync(RunningShop shop, double[] edgesDeg)
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        BookClock clock = shop.Services.GetRequiredService<BookClock>();
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<OwnerDesk>().AddAsync(db, new() { Name = "Ines Maru" }));
        DateOnly today = DateOnly.FromDateTime(clock.Now());
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces = [.. edgesDeg.Select((_, i) => new PieceIntake { NewPiece = new() { Name = FormattableString.Invariant($"Knife {i + 1}"), Kind = PieceKind.DoubleBevel, LengthMm = 200 }, PromisedFor = today })],
        }));
        DateTime now = clock.Now();
        await shop.BookAsync(async db =>
        {
            db.Aims.AddRange(edgesDeg.Select((deg, i) => new AimChosen
            {
                VisitId = done.Value.Visits[i].VisitId, HappenedAt = now, EnteredAt = now, Source = TargetSource.Own, LeftDeg = deg, RightDeg = deg, ToleranceDeg = 0.5,
            }));
            return await db.SaveChangesAsync();
        });
    }
}
