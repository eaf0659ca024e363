using System.Net;
using System.Net.Http.Headers;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared.Forms;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>What stands before every page.</summary>
public sealed class The_door(OneShop one) : IClassFixture<OneShop>
{
    private static Uri At(string path) => new(path, UriKind.Relative);

    [Fact]
    public async Task Lets_a_page_run_only_what_comes_from_the_shop()
    {
        using HttpClient client = one.Shop.Client();

        using HttpResponseMessage page = await client.GetAsync(At("/"));

        string policy = page.Headers.GetValues("Content-Security-Policy").Single();
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Equal("nosniff", page.Headers.GetValues("X-Content-Type-Options").Single());
    }

    [Fact]
    public async Task Is_closed_to_other_names_on_a_shop_of_this_machine_alone()
    {
        using HttpClient client = one.Shop.Client();
        using HttpRequestMessage request = new(HttpMethod.Get, "/") { Headers = { Host = "shop.example" } };

        using HttpResponseMessage answer = await client.SendAsync(request);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task Takes_no_form_without_the_token_of_our_own_page()
    {
        using HttpClient client = one.Shop.Client();
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/preferences");
        form.Remove("_form");

        using HttpResponseMessage answer = await client.PostAsync(At("/preferences"), new FormUrlEncodedContent(form));

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("nothing was saved", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Names_the_limit_when_a_form_is_too_large()
    {
        using HttpClient client = one.Shop.Client();
        using MultipartFormDataContent form = [];
        using StreamContent large = new(new MemoryStream(new byte[PhotoField.MaxFormBytes + 1024]));
        large.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        form.Add(large, "photo", "large.jpg");

        using HttpResponseMessage answer = await client.PostAsync(At("/sampler"), form);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
        Assert.Contains("larger than 64 MB", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Says_what_is_not_there()
    {
        using HttpClient client = one.Shop.Client();

        using HttpResponseMessage answer = await client.GetAsync(At("/book/nothing"));

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains("There is no page at /book/nothing", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Takes_the_blame_for_our_faults_with_a_number_to_quote()
    {
        await using RunningShop shop = await RunningShop.OpenAsync(more: app => app.MapGet("/fault", IResult () => throw new InvalidOperationException("secret of the house")));
        using HttpClient client = shop.Client();

        using HttpResponseMessage answer = await client.GetAsync(At("/fault"));

        string page = await answer.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.InternalServerError, answer.StatusCode);
        Assert.Matches("quote <code>[0-9A-Z]+:[0-9A-F]+</code>", page);
        Assert.DoesNotContain("secret", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Gives_sheets_and_scripts_an_address_that_may_be_kept_for_good()
    {
        using HttpClient client = one.Shop.Client();
        string html = await client.GetStringAsync(At("/"));
        string address = html.Split('"').First(part => part.StartsWith("/_a/", StringComparison.Ordinal) && part.EndsWith("site.css", StringComparison.Ordinal));

        using HttpResponseMessage sheet = await client.GetAsync(At(address));
        using HttpResponseMessage stale = await client.GetAsync(At("/_a/0000000000000000/site.css"));

        Assert.Contains("immutable", sheet.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, stale.StatusCode);
    }

    [Fact]
    public async Task Keeps_the_keys_in_the_data_folder_so_that_open_forms_outlive_a_restart()
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        try
        {
            ServeOptions options = new(folder, ["http://127.0.0.1:0"]);
            using HttpClient client = new(new SocketsHttpHandler { AllowAutoRedirect = false });
            Dictionary<string, string> form;
            await using (WebApplication app = await WebShop.BuildAsync(options))
            {
                await app.StartAsync();
                client.BaseAddress = new Uri(app.Urls.Single());
                form = await Forms.ReadAsync(client, "/preferences");
                await app.StopAsync();
            }

            await using (WebApplication app = await WebShop.BuildAsync(new ServeOptions(folder, [client.BaseAddress!.ToString()])))
            {
                await app.StartAsync();
                using HttpResponseMessage answer = await client.PostAsync(At("/preferences"), new FormUrlEncodedContent(form));

                Assert.Equal(303, (int)answer.StatusCode);
                await app.StopAsync();
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("http://127.0.0.1:5210", true)]
    [InlineData("http://localhost:80", true)]
    [InlineData("http://0.0.0.0:5210", false)]
    [InlineData("http://*:5210", false)]
    public void Knows_which_addresses_are_on_this_machine_alone(string url, bool loopback) =>
        Assert.Equal(loopback, ServeOptions.IsLoopback(url));

    [Fact]
    public void Refuses_an_address_that_is_none() =>
        Assert.Contains("http://127.0.0.1:5210 would be right", Assert.Throws<FormatException>(() => ServeOptions.IsLoopback("5210")).Message, StringComparison.Ordinal);

    [Fact]
    public async Task Says_that_the_disk_is_full_and_what_to_do()
    {
        await using RunningShop shop = await RunningShop.OpenAsync(more: app => app.MapGet("/full", IResult () => throw new IOException("No space left on device", 28)));
        using HttpClient client = shop.Client();

        using HttpResponseMessage answer = await client.GetAsync(At("/full"));

        Assert.Equal(HttpStatusCode.InsufficientStorage, answer.StatusCode);
        string said = await answer.Content.ReadAsStringAsync();
        Assert.Contains("The disk is full", said, StringComparison.Ordinal);
        Assert.Contains("Free some space", said, StringComparison.Ordinal);
    }
}
