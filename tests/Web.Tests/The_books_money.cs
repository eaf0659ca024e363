using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Money;
using Whetwright.Web.Tests.Harness;
using static Microsoft.Playwright.Assertions;

namespace Whetwright.Web.Tests;

/// <summary>Takings by week and month, statements, and everything as tables.</summary>
public sealed class The_books_money(Browser browser)
{
    /// <summary>By hand: 11.90 with 19 % inside is 1.90 tax; 2.14 with 7 % inside is 0.14 tax; a deposit of 5.00 came with the second of three visits.</summary>
    [Fact]
    public async Task Tax_is_told_per_rate_and_deposits_apart()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await InventedBook.FillAsync(shop);
        Takings takings = shop.Services.GetRequiredService<Takings>();
        DateOnly day = shop.Services.GetRequiredService<BookClock>().Today(TimeZoneInfo.Utc).AddDays(-200);

        TakingsOf two = await takings.OfAsync(day.AddDays(-1), day.AddDays(4), TimeZoneInfo.Utc, TestContext.Current.CancellationToken);

        Assert.Equal([new TaxTaken(7000, 214, 14), new TaxTaken(19000, 1190, 190)], two.Rates);
        Assert.Equal((1404, 204, 1404, 500), (two.ChargedMinor, two.TaxMinor, two.ReceivedMinor, two.DepositsMinor));
    }

    [Theory]
    [InlineData("phone")]
    [InlineData("tablet")]
    public async Task Takings_and_a_statement_show_the_same_money_that_goes_on_paper(string screen)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen));
        DateOnly day = shop.Services.GetRequiredService<BookClock>().Today(TimeZoneInfo.Utc).AddDays(-200);

        await visitor.GoAsync($"/book/takings?by=month&until={day:yyyy-MM-dd}");
        await Expect(visitor.Page.Locator("#bars svg")).ToBeVisibleAsync();
        await Expect(visitor.Page.Locator("tbody tr").First).ToContainTextAsync("14.04");
        await Expect(visitor.Page.Locator("thead")).ToContainTextAsync("Tax 19 %");
        await LookAsync(visitor, "book-takings");
        await visitor.TapAsync("By week");
        await Expect(visitor.Page.Locator("tbody tr")).ToHaveCountAsync(12);
        await visitor.GoAsync($"/book/owners/{book.OwnerId}/statement?month={day:yyyy-MM}");
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync("Carving knife, horn handle: Knife to 25 cm");
        await LookAsync(visitor, "book-statement");

        using HttpClient client = shop.Client();
        using HttpResponseMessage paper = await client.GetAsync(new Uri($"/book/owners/{book.OwnerId}/statement.pdf?month={day:yyyy-MM}", UriKind.Relative), TestContext.Current.CancellationToken);
        byte[] pdf = await paper.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);
        Assert.Equal("application/pdf", paper.Content.Headers.ContentType?.MediaType);
        Assert.True(pdf.AsSpan().StartsWith("%PDF-"u8));
    }

    [Fact]
    public async Task Everything_can_be_taken_out_and_nothing_in_it_is_a_formula()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        Dictionary<string, string> form = await Forms.ReadAsync(client, $"/book/owners/{book.OwnerId}/edit");
        form["name"] = "=HYPERLINK(1)";
        using FormUrlEncodedContent sent = new(form);
        using HttpResponseMessage saved = await client.PostAsync(new Uri($"/book/owners/{book.OwnerId}/edit", UriKind.Relative), sent, TestContext.Current.CancellationToken);

        string page = await client.GetStringAsync(new Uri("/book/export", UriKind.Relative), TestContext.Current.CancellationToken);
        string owners = await client.GetStringAsync(new Uri("/book/export/owners.csv", UriKind.Relative), TestContext.Current.CancellationToken);
        byte[] zip = await client.GetByteArrayAsync(new Uri("/book/export/everything.zip", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage none = await client.GetAsync(new Uri("/book/export/secrets.csv", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.SeeOther, saved.StatusCode);
        Assert.Contains("'=HYPERLINK(1)", owners, StringComparison.Ordinal);
        Assert.Contains("/book/export/readings.csv", page, StringComparison.Ordinal);
        using System.IO.Compression.ZipArchive archive = new(new MemoryStream(zip));
        Assert.Contains(archive.Entries, e => e.FullName == "owners.csv");
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
    }

    private static async Task LookAsync(Visitor visitor, string name)
    {
        await visitor.PictureAsync(name);
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        visitor.AssertNoComplaints();
    }
}
