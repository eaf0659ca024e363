using Microsoft.EntityFrameworkCore;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>The form pattern, on the page of the shop's card.</summary>
public sealed class The_shops_card(Browser browser)
{
    [Theory]
    [InlineData("tablet", true)]
    [InlineData("phone", false)]
    public async Task Is_saved_and_told(string screen, bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), scripts);

        await visitor.GoAsync("/kit/shop");
        await visitor.TypeAsync("Name of the shop", "Ufer & Stein");
        await visitor.TypeAsync("Bench time in a working day", "187,5");
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Contains("Saved.", await visitor.WordsAsync(".told"), StringComparison.Ordinal);
        Assert.Equal("Ufer & Stein", await visitor.WordsAsync(".sign span"));
        Assert.Equal(187.5, (await shop.BookAsync(book => book.Shop.SingleAsync())).MinutesPerDay);
        visitor.AssertNoComplaints();
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Names_what_is_wrong_and_keeps_what_was_typed(bool scripts)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts);

        await visitor.GoAsync("/kit/shop");
        await visitor.TypeAsync("Name of the shop", "Ufer & Stein");
        await visitor.TypeAsync("Bench time in a working day", "1,200");
        await visitor.TypeAsync("Angle tolerance per side", "half");
        await visitor.TypeAsync("Address on tags begins with", "my house");
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");

        string summary = await visitor.WordsAsync(".notice.wrong");
        Assert.Contains("3 things", summary, StringComparison.Ordinal);
        Assert.Contains("Bench time in a working day: '1,200' may be 1.2 or 1200", summary, StringComparison.Ordinal);
        Assert.Contains("Angle tolerance per side: 'half' is not an angle; 12.5", summary, StringComparison.Ordinal);
        Assert.Contains("http://shop.local:5210 would be right", summary, StringComparison.Ordinal);
        Assert.Equal("1,200", await visitor.Page.GetByLabel("Bench time in a working day").InputValueAsync());
        Assert.Equal("Ufer & Stein", await visitor.Page.GetByLabel("Name of the shop").InputValueAsync());
        Assert.Equal("", (await shop.BookAsync(book => book.Shop.SingleAsync())).Name);
        await visitor.PictureAsync("kit-shop-wrong" + (scripts ? "" : "-no-scripts"));
        if (scripts)
            await visitor.AssertNoSeriousAxe();
    }

    [Fact]
    public async Task Shows_both_versions_to_the_second_of_two_tabs_and_then_keeps_theirs_knowingly()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await using Visitor first = await browser.ComeAsync(shop, Screen.Tablet);
        await using Visitor second = await browser.ComeAsync(shop, Screen.Phone);
        await first.GoAsync("/kit/shop");
        await second.GoAsync("/kit/shop");

        await first.TypeAsync("Name of the shop", "First");
        await first.TapAsync("Save");
        await first.Page.WaitForSelectorAsync(".told");
        await second.TypeAsync("Name of the shop", "Second");
        await second.TapAsync("Save");
        await second.Page.WaitForSelectorAsync(".notice.conflict");

        string both = await second.WordsAsync(".notice.conflict");
        Assert.Contains("First", both, StringComparison.Ordinal);
        Assert.Contains("Second", both, StringComparison.Ordinal);
        Assert.Equal("First", (await shop.BookAsync(book => book.Shop.SingleAsync())).Name);
        await second.PictureAsync("kit-shop-conflict");
        await second.AssertNoSeriousAxe();

        await second.TapAsync("Save");
        await second.Page.WaitForSelectorAsync(".told");

        Assert.Equal("Second", (await shop.BookAsync(book => book.Shop.SingleAsync())).Name);
    }

    [Fact]
    public async Task Is_saved_once_when_the_form_is_sent_twice()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/kit/shop");
        form["name"] = "Once";

        HttpResponseMessage one = await client.PostAsync(new Uri("/kit/shop", UriKind.Relative), new FormUrlEncodedContent(form));
        int version = (await shop.BookAsync(book => book.Shop.SingleAsync())).Version;
        HttpResponseMessage two = await client.PostAsync(new Uri("/kit/shop", UriKind.Relative), new FormUrlEncodedContent(form));

        Assert.Equal([303, 303], new[] { (int)one.StatusCode, (int)two.StatusCode });
        Assert.Equal(version, (await shop.BookAsync(book => book.Shop.SingleAsync())).Version);
        Assert.Equal(1, await shop.BookAsync(book => book.Submissions.CountAsync()));
    }

    [Theory]
    [InlineData("http://127.0.0.1:5210", "this machine alone")]
    [InlineData("http://192.168.1.20:5210", "another machine tomorrow")]
    public async Task Warns_of_an_address_that_tags_should_not_carry(string address, string warning)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/kit/shop");
        form["name"] = "Any";
        form["baseAddress"] = address;

        await client.PostAsync(new Uri("/kit/shop", UriKind.Relative), new FormUrlEncodedContent(form));

        Assert.Contains(warning, await client.GetStringAsync(new Uri("/kit/shop", UriKind.Relative)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Marks_every_page_of_an_invented_shop()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await shop.BookAsync(async book =>
        {
            (await book.Shop.SingleAsync()).Invented = true;
            return await book.SaveChangesAsync();
        });
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone);

        await visitor.GoAsync("/rack");

        Assert.Contains("Invented", await visitor.WordsAsync("[role=note]"), StringComparison.Ordinal);
        await visitor.PictureAsync("rack-invented");
        await visitor.AssertNoSeriousAxe();
    }
}
