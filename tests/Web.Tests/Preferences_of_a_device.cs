using Microsoft.Playwright;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Units, hand, culture, light and text belong to the device.</summary>
public sealed class Preferences_of_a_device(Browser browser, OneShop one) : IClassFixture<OneShop>
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Show_inches_and_the_decimal_comma(bool scripts)
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone, scripts);
        await visitor.GoAsync("/preferences");

        await visitor.TapAsync("Inches");
        await visitor.ChooseAsync("Numbers and dates", "de-DE");
        await visitor.TapAsync("Keep");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Equal("6,000", await visitor.WordsAsync(".dial-value"));
        Assert.Equal("in", await visitor.WordsAsync(".dial-unit"));
        Assert.Contains("12,50°", await visitor.WordsAsync(".facts"), StringComparison.Ordinal);
        Assert.Contains("1.234,50", await visitor.WordsAsync(".facts"), StringComparison.Ordinal);
        await visitor.GoAsync("/sampler");
        Assert.Equal("1,77165", await visitor.Page.GetByLabel("Height").InputValueAsync());
    }

    [Theory]
    [InlineData("Left")]
    [InlineData("Right")]
    public async Task Put_the_main_button_on_the_hands_side(string hand)
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone);
        await visitor.GoAsync("/preferences");
        await visitor.TapAsync(hand);
        await visitor.TapAsync("Keep");
        await visitor.Page.WaitForSelectorAsync(".told");

        await visitor.GoAsync("/sampler");
        LocatorBoundingBoxResult save = (await visitor.Page.Locator(".thumb-bar .main").BoundingBoxAsync())!;
        LocatorBoundingBoxResult leave = (await visitor.Page.Locator(".thumb-bar .quiet").BoundingBoxAsync())!;

        Assert.Equal(hand == "Left", save.X < leave.X);
        await visitor.PictureAsync("sampler-" + hand.ToLowerInvariant());
    }

    [Fact]
    public async Task Make_it_dark_and_the_text_larger_at_once()
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Tablet);
        await visitor.GoAsync("/preferences");

        await visitor.TapAsync("Dark");
        await visitor.TapAsync("Largest");
        await visitor.TapAsync("Keep");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Equal("rgb(19, 24, 27)", await visitor.Page.EvaluateAsync<string>("() => getComputedStyle(document.body).backgroundColor"));
        Assert.Equal("20px", await visitor.Page.EvaluateAsync<string>("() => getComputedStyle(document.documentElement).fontSize"));
    }

    [Fact]
    public async Task Refuse_a_choice_that_is_none()
    {
        using HttpClient client = one.Shop.Client();
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/preferences");
        form["culture"] = "tlh-XX";

        using HttpResponseMessage answer = await client.PostAsync(new Uri("/preferences", UriKind.Relative), new FormUrlEncodedContent(form));

        Assert.Equal(422, (int)answer.StatusCode);
        Assert.Contains("is not one of the choices", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }
}
