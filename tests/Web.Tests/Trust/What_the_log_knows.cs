using System.Net;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Whetwright.Web.Serving;
using Whetwright.Web.Serving.Watching;
using Whetwright.Web.Tests.Doors;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Trust;

/// <summary>The log, the health address and what OpenTelemetry is told: enough to find a fault, nothing about people.</summary>
public sealed class What_the_log_knows
{
    // The telephone number whole and as an address writes it: its first digits alone stand in many a timestamp.
    private static readonly string[] Personal = ["Orla", "Vance", "0151 000", "0151+000", "0151%20000", "0151000117", "orla@example.org", "Invented Row", "horn handle"];

    private static Uri At(string path) => new(path, UriKind.Relative);

    [Fact]
    public async Task A_whole_life_of_a_piece_leaves_requests_and_tags_in_the_log_and_no_person()
    {
        await using RunningShop shop = await RunningShop.OpenAsync(more: app => app.MapGet("/fault", IResult () => throw new InvalidOperationException("Orla Vance, 0151 000 117")));
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        foreach (string page in new[]
        {
            "/", "/counter?q=Orla", "/book?q=Orla%20Vance", "/Orla/Vance", $"/book/owners/{book.OwnerId}", $"/book/pieces/{book.PieceId}", $"/book/visits/{book.Visits[0].VisitId}", $"/bench/{book.OpenTag}/grind",
            $"/rack/{book.OpenTag}", $"/counter/back/{book.OwnerId}", $"/photos/{book.PhotoHash}/small", "/api/v1/pieces?q=Orla", "/fault",
        })
        {
            using HttpResponseMessage answer = await client.GetAsync(At(page), TestContext.Current.CancellationToken);
        }

        using HttpResponseMessage note = await client.SendFormAsync($"/book/visits/{book.Visits[^1].VisitId}", $"/book/visits/{book.Visits[^1].VisitId}", ("text", "Orla Vance rang from 0151 000 117"));
        Assert.Equal(HttpStatusCode.SeeOther, note.StatusCode);

        string log = await LogAsync(shop);

        Assert.All(Personal, word => Assert.DoesNotContain(word, log, StringComparison.OrdinalIgnoreCase));
        JsonElement[] lines = [.. log.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => JsonSerializer.Deserialize<JsonElement>(l))];
        JsonElement bench = Assert.Single(lines, l => l.TryGetProperty("Route", out JsonElement route) && route.GetString() == "/bench/{tag}/grind");
        Assert.Equal(("tag " + book.OpenTag, 200, "Master"), (bench.GetProperty("About").GetString(), bench.GetProperty("Status").GetInt32(), bench.GetProperty("Who").GetString()));
        Assert.Contains(lines, l => l.TryGetProperty("About", out JsonElement about) && about.GetString() == $"id {book.PieceId}");
        JsonElement fault = Assert.Single(lines, l => l.TryGetProperty("Fault", out _));
        Assert.Contains("InvalidOperationException", fault.GetProperty("Fault").GetString(), StringComparison.Ordinal);
        string request = fault.GetProperty("RequestId").GetString()!;
        Assert.Equal(2, lines.Count(l => l.TryGetProperty("RequestId", out JsonElement id) && id.GetString() == request)); // the fault and its request are found together
    }

    [Fact]
    public async Task The_health_address_says_one_word_to_anybody()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient stranger = opened.Stranger();

        Assert.Equal("well", await stranger.GetStringAsync(At("/health"), TestContext.Current.CancellationToken));
        await opened.Shop.BookAsync(async db => await Microsoft.EntityFrameworkCore.RelationalDatabaseFacadeExtensions.ExecuteSqlRawAsync(db.Database, "DROP TABLE \"Shop\"", TestContext.Current.CancellationToken));
        using HttpResponseMessage ill = await stranger.GetAsync(At("/health"), TestContext.Current.CancellationToken);
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "unwell"), (ill.StatusCode, await ill.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)));
    }

    [Fact]
    public async Task Telemetry_goes_where_it_was_switched_on_to_without_what_was_searched_for()
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        List<(string Path, string Text)> got = [];
        await using WebApplication collector = builder.Build();
        collector.MapPost("/v1/{kind}", async (string kind, HttpRequest request) =>
        {
            using MemoryStream body = new();
            await request.Body.CopyToAsync(body);
            lock (got)
                got.Add((kind, Encoding.Latin1.GetString(body.ToArray())));
        });
        await collector.StartAsync(TestContext.Current.CancellationToken);
        await using (RunningShop shop = await RunningShop.OpenAsync(options: folder => new ServeOptions(folder, ["http://127.0.0.1:0"]) { Telemetry = new Uri(collector.Urls.Single()) }))
        {
            using HttpClient client = shop.Client();
            using HttpResponseMessage page = await client.GetAsync(At("/book?q=Orla"), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        }

        Assert.Contains(got, g => g.Path == "traces" && g.Text.Contains("/book", StringComparison.Ordinal) && g.Text.Contains("whetwright", StringComparison.Ordinal));
        Assert.Contains(got, g => g.Path == "metrics" && g.Text.Contains("http.server.request.duration", StringComparison.Ordinal));
        Assert.DoesNotContain(got, g => g.Text.Contains("Orla", StringComparison.Ordinal));
    }

    private static async Task<string> LogAsync(RunningShop shop)
    {
        string file = Directory.EnumerateFiles(Path.Combine(shop.Folder, ShopLog.FolderName)).Single();
        using StreamReader reader = new(new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete));
        return await reader.ReadToEndAsync();
    }
}
