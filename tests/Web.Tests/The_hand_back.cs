using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Records.Owners;
using Whetwright.Records.Pieces;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Handing back: charges, payment and piece in one save; papers; sets counted in.</summary>
public sealed class The_hand_back(Browser browser)
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Takes_a_line_more_and_the_money_counts_the_deposit_and_is_undone_again(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        (long owner, IntakeDone done) = await TakenInAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);
        long visit = done.Visits[0].VisitId;
        await visitor.GoAsync($"/counter/back/{owner}");
        await visitor.Page.Locator($"#f-v{visit}\\.goes").CheckAsync();
        await visitor.Page.Locator("summary").First.ClickAsync();
        await visitor.Page.Locator($"#f-v{visit}\\.text").FillAsync("Chip ground out");
        await visitor.TapAsync("Hand back");

        await Assertions.Expect(visitor.Page.Locator(".notice.wrong")).ToContainTextAsync("Its amount");
        Assert.Equal("Chip ground out", await visitor.Page.Locator($"#f-v{visit}\\.text").InputValueAsync());
        await visitor.Page.Locator($"#f-v{visit}\\.amount").FillAsync("5");
        await visitor.PictureAsync($"counter-back{(scripts ? "" : "-plain")}");
        if (scripts)
            await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        await visitor.TapAsync("Hand back");
        await Assertions.Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Handed back");
        await visitor.PictureAsync($"counter-back-done{(scripts ? "" : "-plain")}");

        // 14.00 and 5.00 less the deposit of 4.00, in cash.
        Assert.Equal(1500, await shop.BookAsync(db => db.Payments.Where(p => !p.Deposit).SumAsync(p => p.AmountMinor, Cancel)));
        Assert.Equal(0, await shop.Services.GetRequiredService<AccountQuery>().OwedAsync(owner, Cancel));
        Assert.NotNull(await shop.BookAsync(db => db.Visits.Where(v => v.Id == visit).Select(v => v.HandBackId).SingleAsync(Cancel)));

        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Undo: Kitchen knife stays here" }));
        await Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("is here again");
        Assert.Null(await shop.BookAsync(db => db.Visits.Where(v => v.Id == visit).Select(v => v.HandBackId).SingleAsync(Cancel)));
    }

    [Fact]
    public async Task Papers_are_pdf_and_a_paper_that_is_not_ours_is_refused()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        (_, IntakeDone done) = await TakenInAsync(shop);
        using HttpClient client = shop.Client();
        string tag = TagNumber.Format(done.Visits[0].Tag);
        string receipt = $"/counter/receipts/{done.IntakeId}";
        string folder = Directory.CreateDirectory(Path.Combine(Repository.Screens, "pdf")).FullName;
        foreach ((string name, string path) in new[]
        {
            ("receipt-a5", receipt + "/receipt.pdf"), ("receipt-a4", receipt + "/receipt.pdf?paper=a4"), ("receipt-roll", receipt + "/receipt.pdf?paper=roll-80"),
            ("tags-roll", receipt + "/tags.pdf"), ("tags-a4", receipt + "/tags.pdf?on=a4"), ("tag", $"/counter/tags/{tag}/tag.pdf"), ("note", $"/counter/notes/{tag}/note.pdf"),
        })
        {
            byte[] pdf = await client.GetByteArrayAsync(new Uri(path, UriKind.Relative), Cancel);
            Assert.Equal("%PDF-"u8.ToArray(), pdf[..5]);
            await File.WriteAllBytesAsync(Path.Combine(folder, name + ".pdf"), pdf, Cancel);
        }

        using HttpResponseMessage no = await client.GetAsync(new Uri(receipt + "/receipt.pdf?paper=a99", UriKind.Relative), Cancel);
        Assert.Equal(System.Net.HttpStatusCode.NotFound, no.StatusCode);
        string page = await client.GetStringAsync(new Uri(receipt, UriKind.Relative), Cancel);
        Assert.Contains("no base address", page, StringComparison.Ordinal);
    }

    /// <summary>An invented owner with a knife at 14.00 of which 4.00 are paid.</summary>
    private static async Task<(long Owner, IntakeDone Done)> TakenInAsync(RunningShop shop)
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<OwnerDesk>().AddAsync(db, new() { Name = "Ines Maru", Phone = "+49 170 555 0122" }, Cancel), Cancel);
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            DepositMinor = 400,
            DepositHow = "cash",
            Pieces = [new() { NewPiece = new PieceForm { Name = "Kitchen knife", LengthMm = 210 }, Charges = [new() { Text = "Knife from 20 cm", AmountMinor = 1400, TaxMilliPercent = 19000, Minutes = 18 }] }],
        }, Cancel), Cancel);
        return (owner.Value.Id, done.Value);
    }
}
