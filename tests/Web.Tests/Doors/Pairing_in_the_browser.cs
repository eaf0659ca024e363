using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Doors;

/// <summary>A master at the tablet lets a phone in, and sends it away.</summary>
public sealed class Pairing_in_the_browser(Browser browser)
{
    [Fact]
    public async Task A_phone_is_let_in_by_a_code_and_sent_away_again()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        await using Visitor master = await browser.ComeAsync(opened.Shop, Screen.Tablet), phone = await browser.ComeAsync(opened.Shop, Screen.Phone, dark: true);
        await master.GoAsync("/kit/devices");
        await master.PictureAsync("sign-in");
        await master.TypeAsync("The master's passphrase", OpenedShop.Passphrase);
        await master.TapAsync("Sign in as the master");
        await Assertions.Expect(master.Page.GetByRole(AriaRole.Heading, new() { Name = "Devices", Exact = true })).ToBeVisibleAsync();
        await master.TypeAsync("What to call the device", "counter phone");
        await master.PictureAsync("devices");
        await master.TapAsync("Show a code");
        await Assertions.Expect(master.Page.Locator(".dial-value")).ToHaveTextAsync(new Regex("[0-9]{3} [0-9]{3}", RegexOptions.None, TimeSpan.FromSeconds(1)));
        string code = await master.WordsAsync(".dial-value");
        await master.PictureAsync("pair-code");

        await phone.GoAsync("/rack");
        await phone.AssertNoSeriousAxe();
        await phone.AssertNoHorizontalScroll();
        await phone.AssertRoomForThumbs();
        await phone.TypeAsync("Code on the master's screen", code);
        await phone.PictureAsync("sign-in");
        await phone.TapAsync("Come in");
        await Assertions.Expect(phone.Page.Locator(".told")).ToContainTextAsync("counter phone");
        await phone.GoAsync("/kit");
        await Assertions.Expect(phone.Page.GetByText("Price list")).ToHaveCountAsync(0);
        await phone.PictureAsync("kit-helper");

        await master.GoAsync("/kit/devices");
        await master.PictureAsync("devices-in");
        await master.AssertNoSeriousAxe();
        await master.AssertNoHorizontalScroll();
        await master.TapAsync("Send away counter phone");
        await Assertions.Expect(master.Page.Locator(".told")).ToContainTextAsync("Sent away");
        await phone.GoAsync("/rack");

        await Assertions.Expect(phone.Page.GetByRole(AriaRole.Heading, new() { Name = "Sign in", Exact = true })).ToBeVisibleAsync();
        master.AssertNoComplaints();
        phone.AssertNoComplaints();
    }
}
