using System.Net;
using Microsoft.Playwright;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;
using static Microsoft.Playwright.Assertions;

namespace Whetwright.Web.Tests;

/// <summary>Everything that was, found and shown: owners, pieces, visits, corrections beside what they corrected.</summary>
public sealed class The_book(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Leads_from_a_few_letters_to_owner_piece_and_visit(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);

        await visitor.GoAsync("/book");
        await visitor.TypeAsync("Owner, piece, tag, or any words", "horn van");
        if (!scripts)
            await visitor.TapAsync("Find");
        await Expect(visitor.Page.Locator("#found")).ToContainTextAsync("Carving knife, horn handle");
        await LookAsync(visitor, scripts, "book-found");
        await visitor.TapAsync(visitor.Page.Locator("#found td a").First);
        await Expect(visitor.Page.Locator("h1")).ToHaveTextAsync("Orla Vance, invented");
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync("Owed now");
        await LookAsync(visitor, scripts, "book-owner");
        await visitor.TapAsync(visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Carving knife, horn handle" }));
        await Expect(visitor.Page.Locator("#history svg")).ToBeVisibleAsync();
        await Expect(visitor.Page.Locator("#outlines svg")).ToBeVisibleAsync();
        await Expect(visitor.Page.Locator(".book-photos li")).ToHaveCountAsync(3);
        await Expect(visitor.Page.Locator(".book-corrections")).ToContainTextAsync("15.00°");
        await LookAsync(visitor, scripts, "book-piece");
        await visitor.GoAsync($"/book/visits/{book.Visits[0].VisitId}");
        await Expect(visitor.Page.Locator(".book-was")).ToContainTextAsync("17.00°");
        await visitor.TypeAsync("Add a note", "The owner asks about the handle");
        await visitor.TapAsync("Add the note");
        await Expect(visitor.Page.Locator(".book-story")).ToContainTextAsync("The owner asks about the handle");
        await LookAsync(visitor, scripts, "book-visit");
    }

    [Fact]
    public async Task Two_people_who_change_one_piece_see_both_versions()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        await using Visitor first = await browser.ComeAsync(shop, Screen.Phone);
        await using Visitor second = await browser.ComeAsync(shop, Screen.Phone);
        foreach (string what in new[] { $"/book/pieces/{book.PieceId}/edit", $"/book/owners/{book.OwnerId}/edit" })
        {
            await first.GoAsync(what);
            await second.GoAsync(what);

            await first.TypeAsync("Name", "Their name");
            await first.TapAsync("Save");
            await Expect(first.Page.Locator("h1")).ToHaveTextAsync("Their name");
            await second.TypeAsync("Name", "My name");
            await second.TapAsync("Save");

            await Expect(second.Page.Locator(".conflict")).ToContainTextAsync("Their name");
            await Expect(second.Page.Locator(".conflict")).ToContainTextAsync("My name");
            await LookAsync(second, true, what.Contains("owners", StringComparison.Ordinal) ? "book-owner-conflict" : "book-piece-conflict");
            await second.TapAsync("Save");
            await Expect(second.Page.Locator("h1")).ToHaveTextAsync("My name");
        }
    }

    [Fact]
    public async Task A_tag_leads_to_the_bench_while_the_piece_is_here_and_to_its_history_after()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();

        using HttpResponseMessage here = await client.GetAsync(new Uri($"/t/{book.OpenTag}", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage gone = await client.GetAsync(new Uri($"/t/{TagNumber.Format(book.Visits[0].Tag)}", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage misread = await client.GetAsync(new Uri($"/t/{book.Visits[0].Tag}-{(TagNumber.CheckDigit(book.Visits[0].Tag) + 1) % 10}", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal($"/bench/{book.OpenTag}", here.Headers.Location?.ToString());
        Assert.Equal($"/book/pieces/{book.PieceId}", gone.Headers.Location?.ToString());
        Assert.Equal(HttpStatusCode.NotFound, misread.StatusCode);
        Assert.Contains("check digit", await misread.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Photos_are_kept_by_the_browser_for_good_and_pages_get_small_copies()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();

        using HttpResponseMessage whole = await client.GetAsync(new Uri($"/photos/{book.PhotoHash}", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage small = await client.GetAsync(new Uri($"/photos/{book.PhotoHash}/small", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage none = await client.GetAsync(new Uri($"/photos/{new string('0', 64)}", UriKind.Relative), TestContext.Current.CancellationToken);
        using HttpResponseMessage outside = await client.GetAsync(new Uri("/photos/..%2F..%2Fbook.db", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(("image/jpeg", true), (whole.Content.Headers.ContentType?.MediaType, whole.Headers.CacheControl?.ToString().Contains("immutable", StringComparison.Ordinal)));
        Assert.Equal("image/jpeg", small.Content.Headers.ContentType?.MediaType);
        long smallBytes = (await small.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)).LongLength;
        Assert.InRange(smallBytes, 1000, (await whole.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken)).LongLength - 1);
        Assert.Equal((HttpStatusCode.NotFound, HttpStatusCode.NotFound), (none.StatusCode, outside.StatusCode));
    }

    /// <summary>The promise is 150 kB for a page without its photos; twenty visits stand on a piece's page, forty on an owner's.</summary>
    [Fact]
    public async Task No_page_of_it_is_heavier_than_150_kB_compressed()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        client.DefaultRequestHeaders.AcceptEncoding.ParseAdd("gzip");

        foreach (string path in new[]
        {
            "/book", "/book?q=a", $"/book/owners/{book.OwnerId}", $"/book/owners/{book.OwnerId}/statement", $"/book/pieces/{book.PieceId}", $"/book/visits/{book.Visits[0].VisitId}",
            "/book/takings?by=week", "/book/takings?by=month", "/book/export", "/book/import",
        })
        {
            using HttpResponseMessage page = await client.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
            byte[] sent = await page.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken);

            Assert.Equal((path, HttpStatusCode.OK), (path, page.StatusCode));
            Assert.Contains("gzip", page.Content.Headers.ContentEncoding);
            Assert.True(sent.Length < 150_000, $"{path} is {sent.Length} bytes.");
        }
    }

    private static async Task LookAsync(Visitor visitor, bool scripts, string name)
    {
        if (!scripts)
            return; // axe and the measuring of thumbs are scripts themselves
        await visitor.PictureAsync(name);
        await visitor.AssertNoSeriousAxe();
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();
        visitor.AssertNoComplaints();
    }
}
