using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>What holds on every page: one glance, one thumb.</summary>
public sealed class Every_page(Browser browser)
{
    public static TheoryData<string, string> Pages
    {
        get
        {
            TheoryData<string, string> data = [];
            foreach (string screen in new[] { "phone", "tablet" })
            {
                foreach (string page in new[] { "/", "/counter", "/rack", "/bench", "/book", "/kit", "/gauges", "/preferences", "/kit/shop", "/nowhere" })
                    data.Add(page, screen);
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Is_readable_reachable_and_fits_the_screen(string path, string screen)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        foreach (bool dark in new[] { false, true })
        {
            await using Visitor visitor = await browser.ComeAsync(shop, Screen.Of(screen), dark: dark);

            await visitor.GoAsync(path);

            await visitor.PictureAsync(path == "/" ? "start" : path.Trim('/').Replace('/', '-'));
            await visitor.AssertNoSeriousAxe();
            await visitor.AssertNoHorizontalScroll();
            await visitor.AssertRoomForThumbs();
            visitor.AssertNoComplaints();
        }
    }
}
