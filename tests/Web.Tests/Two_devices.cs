using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records.Bench;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Standing;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Two people at one owner's pieces: the second is told, both versions are shown, nothing is overwritten or paid twice.</summary>
public sealed class Two_devices(Browser browser)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task At_the_hand_back_the_second_is_told_sees_both_versions_and_goes_on_with_what_was_typed()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        (long owner, VisitTag knife, VisitTag scissors) = await TakenInAsync(shop);
        await using Visitor counter = await browser.ComeAsync(shop, Screen.Tablet);
        await using Visitor phone = await browser.ComeAsync(shop, Screen.Phone, scripts: false);
        await counter.GoAsync($"/counter/back/{owner}");
        await phone.GoAsync($"/counter/back/{owner}");

        // The counter charges a chip on the scissors, hands the knife back and takes 14.00 in cash.
        await counter.Page.Locator($"#f-v{knife.VisitId}\\.goes").CheckAsync();
        await counter.TapAsync("Hand back");
        await Assertions.Expect(counter.Page.Locator("h1")).ToHaveTextAsync("Handed back");
        // The phone is about to hand back both, with a line of its own on the scissors.
        await phone.Page.Locator($"#f-v{knife.VisitId}\\.goes").CheckAsync();
        await phone.Page.Locator($"#f-v{scissors.VisitId}\\.goes").CheckAsync();
        await phone.Page.Locator("summary").Nth(1).ClickAsync();
        await phone.Page.Locator($"#f-v{scissors.VisitId}\\.text").FillAsync("New pivot");
        await phone.Page.Locator($"#f-v{scissors.VisitId}\\.amount").FillAsync("3");
        await phone.TapAsync("Hand back");

        ILocator told = phone.Page.Locator(".notice.conflict");
        await Assertions.Expect(told).ToContainTextAsync("Somebody saved this meanwhile");
        await Assertions.Expect(told).ToContainTextAsync("handed back");
        await Assertions.Expect(told).ToContainTextAsync("still here");
        await Assertions.Expect(told).ToContainTextAsync("€14.00, cash");
        Assert.Equal("New pivot", await phone.Page.Locator($"#f-v{scissors.VisitId}\\.text").InputValueAsync());
        Assert.Equal(0, await phone.Page.Locator($"#f-v{knife.VisitId}\\.goes").CountAsync());
        await phone.PictureAsync("counter-back-two-devices");
        await phone.AssertNoHorizontalScroll();
        Assert.Single(await shop.BookAsync(db => db.Payments.ToListAsync(Cancel)));

        await phone.TapAsync("Hand back"); // knowingly, what is still here
        await Assertions.Expect(phone.Page.Locator("h1")).ToHaveTextAsync("Handed back");
        Payment[] paid = [.. await shop.BookAsync(db => db.Payments.OrderBy(p => p.Id).ToListAsync(Cancel))];
        Assert.Equal([1400L, 1900L], paid.Select(p => p.AmountMinor)); // scissors 16.00 and the pivot 3.00; the knife is paid once
        Assert.Equal(0, await shop.Services.GetRequiredService<AccountQuery>().OwedAsync(owner, Cancel));
    }

    [Fact]
    public async Task Charges_that_another_device_changed_are_shown_beside_mine_and_only_kept_knowingly()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        (long owner, VisitTag knife, _) = await TakenInAsync(shop);
        using HttpClient client = shop.Client();
        string address = $"/counter/back/{owner}";
        Dictionary<string, string> first = await Forms.ReadAsync(client, address), second = await Forms.ReadAsync(client, address);
        Put(first, ("what", "charges"), ($"v{knife.VisitId}.text", "Chip ground out"), ($"v{knife.VisitId}.amount", "5"));
        Put(second, ("what", "charges"), ($"v{knife.VisitId}.text", "Tip mended"), ($"v{knife.VisitId}.amount", "7"));

        Assert.Equal(303, (await PostAsync(client, address, first)).Status);
        (int status, string told) = await PostAsync(client, address, second);

        Assert.Equal(409, status);
        Assert.Contains("<td>Knife from 20 cm €14.00, Chip ground out €5.00</td><td>Knife from 20 cm €14.00, Tip mended €7.00</td>", told, StringComparison.Ordinal);
        Assert.Equal(2, await shop.BookAsync(db => db.Charges.CountAsync(c => c.VisitId == knife.VisitId, Cancel)));
        Put(second, ("_version", Value(told, "_version")), ("_once", Value(told, "_once")));
        Assert.Equal(303, (await PostAsync(client, address, second)).Status);
        Assert.Equal(2600, await shop.BookAsync(db => db.Charges.Where(c => c.VisitId == knife.VisitId).SumAsync(c => c.AmountMinor, Cancel))); // 14 + 5 + 7
    }

    [Fact]
    public async Task The_message_that_it_is_ready_opens_as_sms_and_mail_with_the_words_on_the_page_and_is_noted()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        (long owner, VisitTag knife, _) = await TakenInAsync(shop);
        await ReadyAsync(shop, knife.VisitId);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);
        await visitor.GoAsync($"/counter/ready/{owner}");
        await visitor.TypeAsync("Opening words", "Good day, Ines & Bo,\nas promised:");
        await Assertions.Expect(visitor.Page.Locator("#message")).ToContainTextAsync("as promised:");
        string words = await visitor.WordsAsync(".counter-message");

        string sms = (await visitor.Page.GetByRole(AriaRole.Link, new() { Name = "SMS to +49 170 555 0122" }).GetAttributeAsync("href"))!;
        string mail = (await visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Mail to ines@example.org" }).GetAttributeAsync("href"))!;

        Assert.Contains("your piece is ready:", words, StringComparison.Ordinal);
        Assert.Contains($"Kitchen knife ({TagNumber.Format(knife.Tag)})", words, StringComparison.Ordinal);
        Assert.Contains("Due: €14.00", words, StringComparison.Ordinal);
        Assert.Contains("The other is still in work.", words, StringComparison.Ordinal);
        // RFC 5724: the number without spaces, the text percent-encoded in body; RFC 6068: line breaks as %0D%0A.
        Assert.StartsWith("sms:+491705550122?body=", sms, StringComparison.Ordinal);
        Assert.Equal(words, Uri.UnescapeDataString(sms["sms:+491705550122?body=".Length..]));
        Assert.StartsWith("mailto:ines@example.org?subject=", mail, StringComparison.Ordinal);
        Assert.Equal(words, Uri.UnescapeDataString(mail[(mail.IndexOf("&body=", StringComparison.Ordinal) + 6)..]).Replace("\r\n", "\n", StringComparison.Ordinal));
        Assert.DoesNotContain("&", mail[(mail.IndexOf("&body=", StringComparison.Ordinal) + 6)..], StringComparison.Ordinal);
        await visitor.PictureAsync("counter-ready");
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        await visitor.TapAsync("By mail");
        await visitor.TapAsync("They are told");
        await Assertions.Expect(visitor.Page.Locator(".told")).ToContainTextAsync("was told (by mail)");
        Assert.Equal("mail", (await shop.BookAsync(db => db.Set<ReadyNotice>().SingleAsync(Cancel))).How);
        await visitor.GoAsync("/rack");
        await Assertions.Expect(visitor.Page.Locator(".rack-lines").Filter(new() { HasText = "Kitchen knife" })).ToContainTextAsync("Ready, owner told");
    }

    private static async Task ReadyAsync(RunningShop shop, long visit)
    {
        BenchLog log = shop.Services.GetRequiredService<BenchLog>();
        DateTime now = shop.Services.GetRequiredService<BookClock>().Now();
        await shop.Services.GetRequiredService<BookWriter>().WriteAsync(
            db => log.AddAsync(db, new StepMark { VisitId = visit, Step = BenchStep.Check, State = StepState.Done, HappenedAt = now, EnteredAt = now }, cancel: Cancel), Cancel);
    }

    private static void Put(Dictionary<string, string> form, params (string Name, string Value)[] values)
    {
        foreach ((string name, string value) in values)
            form[name] = value;
    }

    private static string Value(string html, string name) =>
        System.Text.RegularExpressions.Regex.Match(html, $"name=\"{name}\" value=\"([^\"]*)\"").Groups[1].Value;

    private static async Task<(int Status, string Told)> PostAsync(HttpClient client, string address, Dictionary<string, string> form)
    {
        using HttpResponseMessage answer = await client.PostAsync(new Uri(address, UriKind.Relative), new FormUrlEncodedContent(form), Cancel);
        return ((int)answer.StatusCode, System.Net.WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(Cancel)));
    }

    /// <summary>An invented owner with a knife at 14.00 and scissors at 16.00.</summary>
    private static async Task<(long Owner, VisitTag Knife, VisitTag Scissors)> TakenInAsync(RunningShop shop)
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<OwnerDesk>().AddAsync(db, new() { Name = "Ines Maru", Phone = "+49 170 555 0122", Email = "ines@example.org" }, Cancel), Cancel);
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces =
            [
                new() { NewPiece = new() { Name = "Kitchen knife", LengthMm = 210 }, Charges = [new() { Text = "Knife from 20 cm", AmountMinor = 1400, TaxMilliPercent = 19000, Minutes = 18 }] },
                new() { NewPiece = new() { Name = "Scissors", Kind = Core.Blades.PieceKind.Scissors }, Charges = [new() { Text = "Scissors", AmountMinor = 1600, TaxMilliPercent = 19000, Minutes = 20 }] },
            ],
        }, Cancel), Cancel);
        return (owner.Value.Id, done.Value.Visits[0], done.Value.Visits[1]);
    }
}
