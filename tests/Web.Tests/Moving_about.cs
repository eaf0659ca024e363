using Microsoft.Playwright;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Links, forms, steppers and live drawings, with scripts and without.</summary>
public sealed class Moving_about(Browser browser, OneShop one) : IClassFixture<OneShop>
{
    [Fact]
    public async Task Swaps_the_page_without_loading_it_anew_and_back_leads_back()
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone);
        await visitor.GoAsync("/kit");
        await visitor.Page.EvaluateAsync("() => { window.kept = 1; }");

        await visitor.TapAsync(visitor.Page.Locator(".doors a[href='/kit/shop']"));
        await visitor.Page.WaitForURLAsync("**/kit/shop");

        Assert.Equal("The shop", await visitor.WordsAsync("h1"));
        Assert.StartsWith("The shop", await visitor.Page.TitleAsync(), StringComparison.Ordinal);
        Assert.Equal(1, await visitor.Page.EvaluateAsync<int>("() => window.kept ?? 0"));

        await visitor.Page.GoBackAsync();
        await visitor.Page.WaitForFunctionAsync("() => document.querySelector('h1').textContent === 'Kit'");
        Assert.Equal(1, await visitor.Page.EvaluateAsync<int>("() => window.kept ?? 0"));
        visitor.AssertNoComplaints();
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Leads_everywhere_by_links_with_and_without_scripts(bool scripts)
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone, scripts);
        await visitor.GoAsync("/");

        foreach (string room in new[] { "Rack", "Bench", "Book", "Kit", "Gauges", "Counter" })
        {
            await visitor.TapAsync(visitor.Page.Locator(".rooms a").Filter(new() { HasTextString = room }));
            await visitor.Page.WaitForSelectorAsync($".rooms a[href='/{room.ToLowerInvariant()}'][aria-current]");
            Assert.EndsWith("/" + room.ToLowerInvariant(), visitor.Page.Url, StringComparison.Ordinal);
        }

        Assert.Equal(6, visitor.Taps);
    }

    [Fact]
    public async Task A_drawing_follows_what_is_typed()
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Tablet);
        await visitor.GoAsync("/sampler");
        await visitor.TypeAsync("Note", "typed before");

        await visitor.TypeAsync("Height", "77,5");
        await visitor.Page.WaitForFunctionAsync("() => document.querySelector('#bar desc').textContent === '77.5 mm long'");

        Assert.Equal("typed before", await visitor.Page.GetByLabel("Note").InputValueAsync());
        Assert.EndsWith("/sampler", visitor.Page.Url, StringComparison.Ordinal);
        visitor.AssertNoComplaints();
    }

    [Fact]
    public async Task A_drawing_follows_by_its_button_without_scripts()
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Tablet, scripts: false);
        await visitor.GoAsync("/sampler");

        await visitor.TypeAsync("Height", "77,5");
        await visitor.TapAsync("Redraw");

        await Assertions.Expect(visitor.Page.Locator("#bar desc")).ToContainTextAsync("77.5 mm long");
        Assert.Equal("77,5", await visitor.Page.GetByLabel("Height").InputValueAsync());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_stepper_steps_with_and_without_scripts(bool scripts)
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone, scripts);
        await visitor.GoAsync("/sampler");

        ILocator passes = visitor.Page.Locator("#f-passes");
        await visitor.TapAsync("Passes: 1 more");
        await Assertions.Expect(passes).ToHaveValueAsync("4");
        await visitor.TapAsync("Passes: 1 more");
        await Assertions.Expect(passes).ToHaveValueAsync("5");
        await visitor.TapAsync("Passes: 1 less");

        await Assertions.Expect(passes).ToHaveValueAsync("4");
        Assert.Equal(3, visitor.Taps);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Enter_in_a_field_saves_and_does_not_step(bool scripts)
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Tablet, scripts);
        await visitor.GoAsync("/sampler");

        await visitor.Page.GetByLabel("Price").PressAsync("Enter");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Contains("3 passes", await visitor.WordsAsync(".told"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Photos_are_sent_with_and_without_scripts(bool scripts)
    {
        byte[] jpeg = await File.ReadAllBytesAsync(Path.Combine(Repository.Root, "samples", "photos", "normal", "photo.jpg"));
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone, scripts);
        await visitor.GoAsync("/sampler");

        await visitor.Page.GetByLabel("Photo of the damage").SetInputFilesAsync((Microsoft.Playwright.FilePayload[])[new() { Name = "a.jpg", MimeType = "image/jpeg", Buffer = jpeg }, new() { Name = "b.jpg", MimeType = "image/jpeg", Buffer = jpeg }]);
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".told");

        Assert.Contains("2 photos", await visitor.WordsAsync(".told"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_file_that_is_no_photo_is_refused_by_name()
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone);
        await visitor.GoAsync("/sampler");

        await visitor.Page.GetByLabel("Photo of the damage").SetInputFilesAsync(new Microsoft.Playwright.FilePayload { Name = "a.jpg", MimeType = "image/jpeg", Buffer = "no photo"u8.ToArray() });
        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync(".notice.wrong");

        Assert.Contains("'a.jpg' is not a JPEG or PNG photo", await visitor.WordsAsync(".notice.wrong"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_form_that_does_not_arrive_says_so_and_keeps_what_was_typed()
    {
        await using Visitor visitor = await browser.ComeAsync(one.Shop, Screen.Phone);
        await visitor.GoAsync("/sampler");
        await visitor.TypeAsync("Note", "do not lose me");
        await visitor.Page.RouteAsync("**/sampler", route => route.AbortAsync());

        await visitor.TapAsync("Save");
        await visitor.Page.WaitForSelectorAsync("#ww-offline:not([hidden])");

        Assert.Equal("do not lose me", await visitor.Page.GetByLabel("Note").InputValueAsync());
        await visitor.PictureAsync("offline");
    }
}
