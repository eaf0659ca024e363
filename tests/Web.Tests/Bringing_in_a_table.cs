using System.Text;
using Microsoft.Playwright;
using Whetwright.Web.Tests.Harness;
using static Microsoft.Playwright.Assertions;

namespace Whetwright.Web.Tests;

/// <summary>Owners and pieces from CSV: looked through row by row, columns matched, saved whole and only once accepted.</summary>
public sealed class Bringing_in_a_table(Browser browser)
{
    private const string Owners = "Kunde;Tel\nBea Oru;0171 1\nKim Sol;keine\n";

    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Nothing_is_saved_until_every_row_is_right_and_accepted(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);

        await visitor.GoAsync("/book/import");
        await SendAsync(visitor, Owners);
        // Neither "Kunde" nor a name is known: every row lacks its name until the column is matched.
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync("Name is empty");
        Assert.Equal(0, await CountAsync(shop));
        await visitor.ChooseAsync("Name", "0");
        await visitor.TapAsync("Look again");
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync("Telephone is “keine”");
        await Expect(visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Bring in" })).ToBeDisabledAsync();
        if (scripts)
        {
            await visitor.PictureAsync("book-import-problems");
            await visitor.AssertNoSeriousAxe();
            await visitor.AssertNoHorizontalScroll();
            await visitor.AssertRoomForThumbs();
        }

        await visitor.GoAsync("/book/import");
        await SendAsync(visitor, Owners.Replace("Kunde", "Name", StringComparison.Ordinal).Replace("keine", "0171 2", StringComparison.Ordinal));
        await Expect(visitor.Page.Locator("main")).ToContainTextAsync("2 owners new");
        Assert.Equal(0, await CountAsync(shop));
        await visitor.TapAsync("Bring in 2 owners");
        await Expect(visitor.Page.Locator(".told")).ToContainTextAsync("2 owners brought in");
        Assert.Equal(2, await CountAsync(shop));
        visitor.AssertNoComplaints();
    }

    [Fact]
    public async Task A_file_that_is_no_table_is_told_beside_its_field()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);

        await visitor.GoAsync("/book/import");
        await SendAsync(visitor, "name\n\"never ends\n");

        await Expect(visitor.Page.Locator(".notice.wrong")).ToContainTextAsync("never ends");
    }

    private static async Task SendAsync(Visitor visitor, string csv)
    {
        await visitor.Page.GetByLabel("Table").SetInputFilesAsync(new FilePayload { Name = "table.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(csv) });
        await visitor.TapAsync("Look it through");
    }

    private static Task<int> CountAsync(RunningShop shop) => shop.BookAsync(db => Task.FromResult(db.Owners.Count()));
}
