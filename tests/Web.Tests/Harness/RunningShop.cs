using Microsoft.AspNetCore.Builder;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Web.Serving;

namespace Whetwright.Web.Tests.Harness;

/// <summary>The app in this process, on a free port, with a data folder of its own that goes with it.</summary>
public sealed class RunningShop : IAsyncDisposable
{
    private readonly WebApplication app;

    private RunningShop(WebApplication app, string folder)
    {
        this.app = app;
        Folder = folder;
        Address = app.Urls.Single().Replace("0.0.0.0", "127.0.0.1", StringComparison.Ordinal);
    }

    /// <summary>Its data folder.</summary>
    public string Folder { get; }

    /// <summary>Where it listens, without a slash at the end.</summary>
    public string Address { get; }

    /// <summary>Its services, for tests that fill or look into the book.</summary>
    public IServiceProvider Services => app.Services;

    /// <summary>Starts one.</summary>
    /// <param name="adjust">More services, or others in place of ours.</param>
    /// <param name="more">More addresses.</param>
    /// <param name="options">How it is served in this folder; on this machine alone where nothing is said.</param>
    public static async Task<RunningShop> OpenAsync(Action<WebApplicationBuilder>? adjust = null, Action<WebApplication>? more = null, Func<string, ServeOptions>? options = null)
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        WebApplication served = await WebShop.BuildAsync(options?.Invoke(folder) ?? new ServeOptions(folder, ["http://127.0.0.1:0"]), adjust, more);
        await served.StartAsync();
        return new(served, folder);
    }

    /// <summary>A program without a browser, with cookies, that does not follow redirects.</summary>
    public HttpClient Client() => new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = true }) { BaseAddress = new Uri(Address) };

    /// <summary>Looks into the book.</summary>
    public async Task<T> BookAsync<T>(Func<BookContext, Task<T>> look)
    {
        await using BookContext book = await Services.GetRequiredService<IDbContextFactory<BookContext>>().CreateDbContextAsync();
        return await look(book);
    }

    public async ValueTask DisposeAsync()
    {
        await app.StopAsync();
        await app.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }
}
