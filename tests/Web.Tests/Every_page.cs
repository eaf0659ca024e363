using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>What holds on every page: one glance, one thumb.</summary>
public sealed class Every_page(Browser browser, OneShop one) : IClassFixture<OneShop>
{
    public static TheoryData<string> Pages =>
        ["/", "/counter", "/counter/lost", "/counter/loans", "/rack", "/bench", "/book", "/book?q=nobody", "/book/takings", "/book/takings?by=month", "/book/export", "/book/import", "/book/due", "/kit", "/kit/shop", "/kit/tax",
            "/kit/rigs", "/kit/rigs/new", "/kit/rigs/new/bench-stone", "/kit/abrasives", "/kit/abrasives/new", "/kit/instruments", "/kit/instruments/new", "/kit/rules", "/kit/rules/new",
            "/kit/prices", "/kit/prices/new", "/kit/papers", "/kit/safe", "/kit/devices", "/kit/changes", "/counter/late", "/gauges", "/gauges/studies", "/gauges/studies/new", "/gauges/checks", "/gauges/wheels", "/rack/day", "/book/reminders", "/book/again", "/preferences", "/nowhere", "/sampler"];

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Is_readable_reachable_and_fits_the_screen(string path)
    {
        foreach (Screen screen in new[] { Screen.Phone, Screen.Tablet })
        {
            // Light on one screen, dark on the other: both palettes are looked at on every page, in half the time.
            await using Visitor visitor = await browser.ComeAsync(one.Shop, screen, dark: screen == Screen.Tablet);

            await visitor.GoAsync(path);

            await visitor.PictureAsync(path == "/" ? "start" : path.Trim('/').Replace('/', '-').Replace('?', '-'));
            await visitor.AssertNoSeriousAxe();
            await visitor.AssertNoHorizontalScroll();
            await visitor.AssertRoomForThumbs();
            visitor.AssertNoComplaints();
        }
    }

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Holds_no_script_or_style_of_its_own(string path)
    {
        using HttpClient client = one.Shop.Client();

        using HttpResponseMessage answer = await client.GetAsync(new Uri(path, UriKind.Relative));
        string html = await answer.Content.ReadAsStringAsync();

        Assert.Contains("<main", html, StringComparison.Ordinal);
        Assert.DoesNotMatch("""<[^>]*\s(style|on[a-z]+)=""", html);
        Assert.DoesNotMatch("<style|<script(?![^>]*src=)", html);
    }
}
