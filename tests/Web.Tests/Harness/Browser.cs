using Microsoft.Playwright;
using Whetwright.Web.Tests.Harness;

[assembly: AssemblyFixture(typeof(Browser))]

namespace Whetwright.Web.Tests.Harness;

/// <summary>
/// One real browser for all tests of the project: the one that CHROMIUM names, or Debian's chromium; its headless shell first, the same engine without the window around it, which takes less than half of the processor's time.
/// </summary>
public sealed class Browser : IAsyncLifetime
{
    private static readonly string? Executable = new[] { Environment.GetEnvironmentVariable("CHROMIUM"), "/usr/bin/chromium-headless-shell", "/usr/bin/chromium", "/usr/bin/chromium-browser" }
        .FirstOrDefault(File.Exists);

    private IPlaywright? playwright;
    private IBrowser? browser;

    public async ValueTask InitializeAsync()
    {
        if (Executable is null)
            return;
        playwright = await Playwright.CreateAsync();
        browser = await playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Executable,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    /// <summary>
    /// Somebody comes to the shop with a device. Without chromium the test shows as skipped, and fails where CI is set.
    /// </summary>
    public async Task<Visitor> ComeAsync(RunningShop shop, Screen screen, bool scripts = true, bool dark = false)
    {
        if (browser is null)
        {
            const string Missing = "No chromium: apt-get install chromium, or set CHROMIUM to a browser.";
            if (Environment.GetEnvironmentVariable("CI") is { Length: > 0 })
                Assert.Fail(Missing);
            Assert.Skip(Missing);
        }

        IBrowserContext context = await browser.NewContextAsync(new()
        {
            BaseURL = shop.Address,
            ViewportSize = new() { Width = screen.Width, Height = screen.Height },
            HasTouch = true,
            JavaScriptEnabled = scripts,
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            Locale = "en-GB",
            ReducedMotion = ReducedMotion.Reduce,
        });
        context.SetDefaultTimeout(40_000); // generous: the machine may be building something else
        Assertions.SetDefaultExpectTimeout(20_000);
        return new(context, await context.NewPageAsync(), screen, dark);
    }

    public async ValueTask DisposeAsync()
    {
        if (browser is not null)
            await browser.DisposeAsync();
        playwright?.Dispose();
    }
}
