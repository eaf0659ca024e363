using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Whetwright.Web.Tests.Harness;

/// <summary>A person with a device in front of our pages. Counts taps, keeps what the browser complains about, takes pictures.</summary>
public sealed class Visitor : IAsyncDisposable
{
    // Of rules that pass one node is enough.
    private static readonly AxeRunOptions ViolationsWhole = new() { ResultTypes = [ResultType.Violations] };

    private readonly IBrowserContext context;
    private readonly List<string> complaints = [];
    private readonly string suffix;

    internal Visitor(IBrowserContext context, IPage page, Screen screen, bool dark)
    {
        this.context = context;
        Page = page;
        suffix = $"{screen.Name}-{(dark ? "dark" : "light")}";
        page.Console += (_, message) =>
        {
            // The browser logs answers of 4xx as errors by itself; those are ours on purpose.
            if (message.Type == "error" && !message.Text.Contains("the server responded with a status of 4", StringComparison.Ordinal))
                complaints.Add(message.Text);
        };
        page.PageError += (_, error) => complaints.Add(error);
    }

    /// <summary>The browser's page, for what is not here.</summary>
    public IPage Page { get; }

    /// <summary>Taps so far; typing does not count.</summary>
    public int Taps { get; private set; }

    /// <summary>Goes to an address of the shop.</summary>
    public async Task<IResponse?> GoAsync(string path) => await Page.GotoAsync(path, new() { WaitUntil = WaitUntilState.Load });

    /// <summary>One tap on what carries these words: a button, link, label or radio.</summary>
    public Task TapAsync(string words) =>
        TapAsync(Page.GetByRole(AriaRole.Button, new() { Name = words, Exact = true })
            .Or(Page.GetByRole(AriaRole.Link, new() { Name = words, Exact = true }))
            .Or(Page.Locator("label").Filter(new() { HasTextString = words })).First);

    /// <summary>One tap.</summary>
    public async Task TapAsync(ILocator what)
    {
        Taps++;
        await what.TapAsync();
    }

    /// <summary>Types into the field with this label, in place of what stands there.</summary>
    public Task TypeAsync(string label, string text) => Page.GetByLabel(label).First.FillAsync(text);

    /// <summary>Chooses from a list by its label.</summary>
    public Task ChooseAsync(string label, string key) => Page.GetByLabel(label).First.SelectOptionAsync(key);

    /// <summary>The words of the first element that a selector finds.</summary>
    public async Task<string> WordsAsync(string selector) => (await Page.Locator(selector).First.InnerTextAsync()).Trim();

    /// <summary>Takes a picture of the whole page into <c>artifacts/screens</c>, for somebody to look at; not where CI is set, where nobody does and they take a fifth of the time.</summary>
    public Task PictureAsync(string name) => Environment.GetEnvironmentVariable("CI") is { Length: > 0 }
        ? Task.CompletedTask
        : Page.ScreenshotAsync(new() { Path = Path.Combine(Repository.Screens, $"{name}-{suffix}.png"), FullPage = true });

    /// <summary>axe finds nothing serious or critical.</summary>
    public async Task AssertNoSeriousAxe()
    {
        // Without scripts axe waits for ever.
        AxeResult result = await Page.RunAxe(ViolationsWhole).WaitAsync(TimeSpan.FromSeconds(60));
        IEnumerable<string> serious =
            from violation in result.Violations
            where violation.Impact is "serious" or "critical"
            from node in violation.Nodes
            select $"{violation.Id}: {node.Html}";
        Assert.Empty(serious);
        Assert.NotEmpty(result.Passes);
    }

    /// <summary>Nothing sticks out sideways.</summary>
    public async Task AssertNoHorizontalScroll()
    {
        string[] wide = await Page.EvaluateAsync<string[]>("""
            () => document.documentElement.scrollWidth <= innerWidth ? [] :
              [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > innerWidth + 1)
                .slice(0, 5).map(e => e.outerHTML.slice(0, 120))
            """);
        Assert.Empty(wide);
        Assert.True(await Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"));
    }

    /// <summary>What one taps is 48 px high or more, or stands in a line of text.</summary>
    public async Task AssertRoomForThumbs()
    {
        string[] small = await Page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('a[href], button, select, input:not([type=hidden]), textarea, summary')]
              .filter(e => !e.matches('.unseen, .skip, p a, li > a:not(nav a), td a, th a, figcaption a') && e.checkVisibility())
              .map(e => [e, (e.matches('input[type=radio], input[type=checkbox]') ? e.closest('label') ?? e : e).getBoundingClientRect()])
              .filter(([e, box]) => box.height > 0 && box.height < 47.5)
              .map(([e, box]) => `${Math.round(box.height)} px: ${e.outerHTML.slice(0, 120)}`)
            """);
        Assert.Empty(small);
    }

    /// <summary>The browser has nothing to complain about: no blocked style or script, no error.</summary>
    public void AssertNoComplaints() => Assert.Empty(complaints);

    public async ValueTask DisposeAsync() => await context.DisposeAsync();
}
