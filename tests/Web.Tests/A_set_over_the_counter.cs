using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>A kitchen's thirty alike knives: made once, counted in and out, the difference named, a loan set meanwhile.</summary>
public sealed class A_set_over_the_counter(Browser browser)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("phone", true)]
    [InlineData("tablet", false)]
    public async Task Comes_in_short_goes_out_short_and_every_paper_names_the_difference(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        long kitchen = await KitchenAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts, dark: !scripts);

        // Made once, with a slot each.
        await visitor.GoAsync($"/counter/sets/{kitchen}");
        await visitor.TypeAsync("Name of the set", "Line knives");
        await visitor.TypeAsync("How many", "30");
        await visitor.TypeAsync("Length of the edge", "210");
        await visitor.TapAsync("Make the set");
        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("slots 1 to 30");

        // Counted in: two are missing, the loan set goes out.
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Count in Line knives" }));
        await visitor.TapAsync(visitor.Page.Locator(".counter-slotfield label").Nth(6));
        await visitor.TapAsync(visitor.Page.Locator(".counter-slotfield label").Nth(16));
        if (!scripts)
            await visitor.TapAsync("Redraw");
        await Assertions.Expect(visitor.Page.Locator("#count")).ToContainTextAsync("28 of 30");
        await Assertions.Expect(visitor.Page.Locator("#count")).ToContainTextAsync("2 missing: slots 7, 17");
        await visitor.Page.Locator("[name=loan]").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await LookAsync(visitor, scripts, "set-in");
        await visitor.TapAsync("Take in what is there");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Taken in");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("Line knives: 28 of 30 counted in; 2 missing: slots 7, 17.");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("Lent meanwhile: Loan roll 1, 8 pieces.");
        // 1 to 6, 8 to 16, 18 to 30: tags run on, so the set is one line on page and paper.
        await Assertions.Expect(visitor.Page.Locator(".counter-tags li")).ToHaveCountAsync(1);
        await Assertions.Expect(visitor.Page.Locator(".counter-tags")).ToContainTextAsync("28 × Line knives, slots 1 to 6, 8 to 16, 18 to 30");
        await LookAsync(visitor, scripts, "set-taken");
        string receipt = await PdfWords.OfAsync(shop, new Uri(visitor.Page.Url).AbsolutePath + "/receipt.pdf");
        Assert.Contains("28 × €12.00", receipt, StringComparison.Ordinal);
        Assert.Contains("€336.00", receipt, StringComparison.Ordinal); // 28 × 12.00
        Assert.Contains("2 missing: slots 7, 17", receipt, StringComparison.Ordinal);
        Assert.Contains("Loan roll 1, 8 pieces", receipt, StringComparison.Ordinal);
        Assert.Equal(28, await shop.BookAsync(db => db.Visits.CountAsync(v => v.HandBackId == null, Cancel)));

        // On the rack they are one line.
        await visitor.GoAsync("/rack");
        await Assertions.Expect(visitor.Page.Locator(".rack-lines > li")).ToHaveCountAsync(1);
        await LookAsync(visitor, scripts, "set-rack");

        // Counted out: one stays, the loan set comes back one short.
        await visitor.GoAsync($"/counter/sets/{kitchen}/1/out");
        await visitor.TapAsync(visitor.Page.Locator(".counter-slotfield label").Nth(2));
        await visitor.Page.Locator("[name=loan]").SelectOptionAsync(new SelectOptionValue { Index = 1 });
        await visitor.TypeAsync("How many of it", "7");
        await visitor.TapAsync("Hand out what is there");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Handed back");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("27 counted out; 1 missing: slot 3.");
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("Loan roll 1 came back: 7 of 8.");
        await LookAsync(visitor, scripts, "set-out");

        // The loan set's one home says what it lacks; the kit's old address leads there.
        await visitor.GoAsync("/kit/loans");
        Assert.EndsWith("/counter/loans", visitor.Page.Url, StringComparison.Ordinal);
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("1 missing since its last return");

        // A count out by mistake is undone whole: pieces, count and loan.
        await visitor.GoAsync($"/counter/back/{kitchen}");
        await visitor.TapAsync(visitor.Page.Locator(".counter-lately a").First);
        await visitor.TapAsync("Undo all: 27 pieces stay here");
        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("27 pieces are here again");
        SetStanding set = (await shop.Services.GetRequiredService<SetQuery>().OneAsync(1, Cancel))!;
        Assert.Equal(28, set.Here);
        Assert.True(set.LastCount!.In);
        Assert.NotNull(Assert.Single(await shop.Services.GetRequiredService<SetQuery>().LoansAsync(Cancel)).OutTo);
    }

    [Fact]
    public async Task Counted_out_on_two_devices_tells_the_second_what_is_still_there()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        long kitchen = await KitchenAsync(shop);
        SetDesk desk = shop.Services.GetRequiredService<SetDesk>();
        await shop.Services.GetRequiredService<BookWriter>().WriteAsync(db => desk.MakeAsync(db, new() { OwnerId = kitchen, Name = "Line knives", Count = 4, LengthMm = 210 }, Cancel), Cancel);
        using HttpClient client = shop.Client();
        string set = $"/counter/sets/{kitchen}/1";
        Assert.Equal(303, (await SendAsync(client, set + "/in", [])).Status);
        Dictionary<string, string> first = await Forms.ReadAsync(client, set + "/out"), second = await Forms.ReadAsync(client, set + "/out");
        long[] pieces = [.. (await shop.Services.GetRequiredService<SetQuery>().OneAsync(1, Cancel))!.Pieces.Select(p => p.Id)];

        Assert.Equal(303, (await SendAsync(client, set + "/out", [.. pieces[2..].Select(p => ("missing", $"{p}"))], first)).Status);
        (int status, string told) = await SendAsync(client, set + "/out", [("missing", $"{pieces[3]}"), ("strangers", "1")], second);

        Assert.Equal(409, status);
        Assert.Contains("Somebody saved this meanwhile", told, StringComparison.Ordinal);
        Assert.Matches("Slots that can still go out</th><td>3, 4</td><td>all that were shown but 4</td>", told);
        Assert.Matches("name=\"strangers\"[^>]*value=\"1\"", told);
    }

    private static async Task<(int Status, string Told)> SendAsync(HttpClient client, string path, (string, string)[] more, Dictionary<string, string>? form = null)
    {
        form ??= await Forms.ReadAsync(client, path);
        IEnumerable<KeyValuePair<string, string>> all = form.Where(f => !more.Any(m => m.Item1 == f.Key)).Concat(more.Select(m => KeyValuePair.Create(m.Item1, m.Item2)));
        using HttpResponseMessage answer = await client.PostAsync(new Uri(path, UriKind.Relative), new FormUrlEncodedContent(all), Cancel);
        return ((int)answer.StatusCode, await answer.Content.ReadAsStringAsync(Cancel));
    }

    private static async Task LookAsync(Visitor visitor, bool scripts, string name)
    {
        await visitor.PictureAsync("counter-" + name);
        if (scripts)
            await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
    }

    /// <summary>An invented kitchen, a price of 12.00 for its knives, and a loan roll of eight.</summary>
    private static async Task<long> KitchenAsync(RunningShop shop)
    {
        OwnerDesk owners = shop.Services.GetRequiredService<OwnerDesk>();
        var kitchen = (SaveOutcome<Owner>.Saved)await shop.Services.GetRequiredService<BookWriter>().WriteAsync(
            db => owners.AddAsync(db, new() { Name = "The Copper Ladle, kitchen", Email = "pass@example.org", IsAccount = true }, Cancel), Cancel);
        await shop.BookAsync(async db =>
        {
            db.Prices.Add(new PriceLine { Name = "Knife of the account", AmountMinor = 1200, Minutes = 8, OwnerId = kitchen.Value.Id });
            db.LoanSets.Add(new LoanSet { Name = "Loan roll 1", Pieces = 8 });
            return await db.SaveChangesAsync(Cancel);
        });
        return kitchen.Value.Id;
    }
}
