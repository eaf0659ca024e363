using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Whetwright.Cli;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Records.Bench;
using Whetwright.Web.Tests.Harness;
using Whetwright.Workbench;

namespace Whetwright.Web.Tests;

/// <summary>Programs and other instruments: what they send is stored once, and gives the numbers that every other face gives.</summary>
public sealed class The_programs_interface
{
    private static readonly string Samples = Path.Combine(Repository.Root, "samples", "kitchen-knife");

    [Fact]
    public async Task The_same_marks_give_the_same_numbers_on_the_command_line_at_the_bench_and_here()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        string instrument = File.ReadAllText(Path.Combine(Samples, "instrument.json"));

        (HttpStatusCode status, JsonNode answer) = await SendAsync(client, $"/api/v1/pieces/{book.PieceId}/readings", $$"""{"purpose":"found","marks":{{InventedBook.Marks}},"instrument":{{instrument}}}""", "one");

        JsonNode line = JsonNode.Parse(Run("read", "--marks", Path.Combine(Samples, "marks.json"), "--instrument", Path.Combine(Samples, "instrument.json"), "--json"))!;
        Assert.True(EyeReading.TryRead(InventedBook.Marks, instrument, out CombinedReading? bench, out _));
        Assert.Equal(HttpStatusCode.Created, status);
        Assert.Equal(bench!.Included!.Value.Value.Degrees, (double)answer["includedDeg"]!, 1e-9);
        Assert.Equal((double)line["includedDeg"]!, (double)answer["includedDeg"]!, 1e-9);
        Assert.Equal(line["sides"]!.ToJsonString(), answer["result"]!["sides"]!.ToJsonString());
        Assert.Equal(line["budget"]!.ToJsonString(), answer["result"]!["budget"]!.ToJsonString());
    }

    [Fact]
    public async Task A_setting_is_the_document_that_the_command_line_writes()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        string blade = File.ReadAllText(Path.Combine(Samples, "blade.json")), rig = File.ReadAllText(Path.Combine(Samples, "rig.json"));

        (HttpStatusCode status, JsonNode answer) = await SendAsync(client, "/api/v1/settings", $$"""{"blade":{{blade}},"rig":{{rig}},"angleDeg":13}""");

        JsonNode line = JsonNode.Parse(Run("set", Path.Combine(Samples, "blade.json"), "--rig", Path.Combine(Samples, "rig.json"), "--angle-deg", "13", "--json"))!;
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.True(JsonNode.DeepEquals(line, answer));
    }

    /// <summary>The page writes two decimals, the paper one; both out of the same numbers, twice u after the ±.</summary>
    [Fact]
    public async Task An_edge_note_shows_on_its_page_and_on_paper_the_angles_that_programs_are_given()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        long visit = book.Visits[^1].VisitId;
        // Invented, and unlike what was found: before and after cannot be taken for each other.
        const string check = """{"purpose":"check","measured":{"method":"goniometer","leftDeg":13.2,"leftUDeg":0.2,"rightDeg":12.9,"rightUDeg":0.3}}""";
        (HttpStatusCode status, _) = await SendAsync(client, $"/api/v1/pieces/{book.PieceId}/readings", check, "note");
        Assert.Equal(HttpStatusCode.Created, status);

        JsonNode before = await ReadingAsync(ReadingPurpose.Found), after = await ReadingAsync(ReadingPurpose.Check);
        string page = WebUtility.HtmlDecode(await client.GetStringAsync(new Uri("/counter/notes/" + book.OpenTag, UriKind.Relative), TestContext.Current.CancellationToken));
        string paper = await PdfWords.OfAsync(shop, $"/counter/notes/{book.OpenTag}/note.pdf");

        foreach (string name in new[] { "left", "right", "included" })
        {
            Assert.Matches($"""<td[^>]*>{name}</td>\s*<td[^>]*>{Shown(before, name, "0.00")}</td>\s*<td[^>]*>{Shown(after, name, "0.00")}</td>""", page);
            Assert.Matches($"""\b{name}\s+{Shown(before, name, "0.0")}\s+{Shown(after, name, "0.0")}""", paper);
        }

        async Task<JsonNode> ReadingAsync(ReadingPurpose purpose)
        {
            long id = await shop.BookAsync(db => Task.FromResult(db.Readings.Single(r => r.VisitId == visit && r.Purpose == purpose).Id));
            return JsonNode.Parse(await client.GetStringAsync(new Uri($"/api/v1/readings/{id}", UriKind.Relative), TestContext.Current.CancellationToken))!;
        }

        static string Shown(JsonNode reading, string name, string format) =>
            Regex.Escape(string.Create(CultureInfo.InvariantCulture, $"{((double)reading[name + "Deg"]!).ToString(format, CultureInfo.InvariantCulture)}° ± {(2 * (double)reading[name + "UDeg"]!).ToString(format, CultureInfo.InvariantCulture)}°"));
    }

    [Fact]
    public async Task The_same_key_again_saves_nothing_and_gives_the_first_answer()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        const string body = """{"purpose":"check","by":"bench goniometer","measured":{"method":"goniometer","leftDeg":15.2,"leftUDeg":0.2,"rightDeg":14.9,"rightUDeg":0.2}}""";
        string address = $"/api/v1/pieces/{book.PieceId}/readings";

        (HttpStatusCode first, JsonNode stored) = await SendAsync(client, address, body, "k-1");
        (HttpStatusCode again, JsonNode same) = await SendAsync(client, address, body, "k-1");
        (HttpStatusCode other, JsonNode problem) = await SendAsync(client, address, body.Replace("15.2", "15.3", StringComparison.Ordinal), "k-1");

        Assert.Equal((HttpStatusCode.Created, HttpStatusCode.OK, HttpStatusCode.Conflict), (first, again, other));
        Assert.Equal((long)stored["id"]!, (long)same["id"]!);
        Assert.Equal("Idempotency-Key", (string?)problem["problems"]![0]!["field"]);
        Assert.Equal(1, await shop.BookAsync(db => Task.FromResult(db.Readings.Count(r => r.Method == "goniometer"))));
        Reading kept = await shop.BookAsync(db => Task.FromResult(db.Readings.Single(r => r.Method == "goniometer")));
        Assert.Equal(("bench goniometer", 30.1), (kept.EnteredBy, Math.Round(kept.IncludedDeg!.Value, 9)));
        Assert.Equal(Math.Sqrt(0.08), kept.IncludedUDeg!.Value, 1e-12); // √(0.2² + 0.2²)
        Assert.Null(StoredReading.Photos(kept)); // the bench's page can show it
        Assert.Equal(2, StoredReading.Of(kept).Sides.Count);
        JsonNode read = JsonNode.Parse(await client.GetStringAsync(new Uri($"/api/v1/readings/{(long)stored["id"]!}", UriKind.Relative), TestContext.Current.CancellationToken))!;
        Assert.Equal(15.2, (double)read["leftDeg"]!);
    }

    [Theory]
    [InlineData("""{"purpose":"found","measured":{"method":"m","leftDeg":15}}""", "$.measured.leftUDeg")]
    [InlineData("""{"purpose":"found","measured":{"method":"m","leftDeg":-1,"leftUDeg":0.1}}""", "$.measured.leftDeg")]
    [InlineData("""{"purpose":"fonud","measured":{"method":"m","leftDeg":15,"leftUDeg":0.1}}""", "$.purpose")]
    [InlineData("""{"purpose":"found","measured":{"leftDeg":15,"leftUDeg":0.1}}""", "$.measured.method")]
    [InlineData("""{"purpose":"found"}""", "$.marks")]
    [InlineData("""{"purpose":"found","marks":{"scale":"bevel","resolutionDeg":0.5,"mounts":[]}}""", "$.marks.mounts")]
    [InlineData("""{"purpose":"found","mesured":{}}""", "$.mesured")]
    [InlineData("""{"purpose":"found","happenedAt":"2999-01-01T00:00:00Z","measured":{"method":"m","leftDeg":15,"leftUDeg":0.1}}""", "$.happenedAt")]
    [InlineData("""{"purpose":""", "$")]
    [InlineData("[]", "$")]
    public async Task What_is_wrong_names_the_field_and_what_would_be_right(string body, string field)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();

        (HttpStatusCode status, JsonNode problem) = await SendAsync(client, $"/api/v1/pieces/{book.PieceId}/readings", body, "k");

        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains(problem["problems"]!.AsArray(), p => (string?)p!["field"] == field && ((string?)p["right"])!.Length > 10);
        Assert.Equal(0, await shop.BookAsync(db => Task.FromResult(db.Readings.Count(r => r.Method == "m"))));
    }

    [Fact]
    public async Task A_form_from_elsewhere_a_missing_key_and_a_piece_that_is_not_here_are_refused()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        string address = $"/api/v1/pieces/{book.PieceId}/readings";
        const string body = """{"purpose":"found","measured":{"method":"m","leftDeg":15,"leftUDeg":0.1}}""";

        (HttpStatusCode plain, _) = await SendAsync(client, address, body, "k", "text/plain");
        (HttpStatusCode keyless, _) = await SendAsync(client, address, body);
        (HttpStatusCode nobody, _) = await SendAsync(client, "/api/v1/pieces/999999/readings", body, "k2");
        using HttpResponseMessage nowhere = await client.GetAsync(new Uri("/api/v1/knives", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal((HttpStatusCode.UnsupportedMediaType, HttpStatusCode.UnprocessableEntity, HttpStatusCode.NotFound), (plain, keyless, nobody));
        Assert.Equal((HttpStatusCode.NotFound, "application/problem+json"), (nowhere.StatusCode, nowhere.Content.Headers.ContentType?.MediaType));
    }

    [Fact]
    public async Task A_piece_comes_with_its_blade_and_its_open_visit()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();

        JsonNode found = JsonNode.Parse(await client.GetStringAsync(new Uri("/api/v1/pieces?q=horn%20vance", UriKind.Relative), TestContext.Current.CancellationToken))!;
        JsonNode piece = JsonNode.Parse(await client.GetStringAsync(new Uri($"/api/v1/pieces/{book.PieceId}", UriKind.Relative), TestContext.Current.CancellationToken))!;

        Assert.Equal(book.PieceId, (long)found["pieces"]![0]!["id"]!);
        Assert.Equal("double-bevel", (string?)piece["blade"]!["kind"]);
        Assert.Equal(0.4, (double)piece["blade"]!["behindEdgeMm"]!, 1e-9); // the newest measured
        Assert.Equal(book.OpenTag, (string?)piece["openVisit"]!["tag"]);
    }

    [Fact]
    public async Task Everything_that_answers_is_described()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();

        JsonNode document = JsonNode.Parse(await client.GetStringAsync(new Uri("/api/v1/openapi.json", UriKind.Relative), TestContext.Current.CancellationToken))!;

        string[] verbs = [.. document["paths"]!.AsObject().SelectMany(p => p.Value!.AsObject().Select(v => $"{v.Key} {p.Key}")).Order(StringComparer.Ordinal)];
        Assert.Equal(["get /api/v1/pieces", "get /api/v1/pieces/{id}", "get /api/v1/readings/{id}", "post /api/v1/pieces/{id}/readings", "post /api/v1/settings"], verbs);
        JsonNode sent = document["components"]!["schemas"]!["ReadingIn"]!["properties"]!;
        Assert.Equal(["purpose", "happenedAt", "by", "marks", "instrument", "measured"], sent.AsObject().Select(p => p.Key));
    }

    private static async Task<(HttpStatusCode Status, JsonNode Answer)> SendAsync(HttpClient client, string address, string body, string? key = null, string type = "application/json")
    {
        using HttpRequestMessage request = new(HttpMethod.Post, address) { Content = new StringContent(body, Encoding.UTF8, new MediaTypeHeaderValue(type)) };
        if (key is not null)
            request.Headers.Add("Idempotency-Key", key);
        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
        return (answer.StatusCode, JsonNode.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken))!);
    }

    private static string Run(params string[] arguments)
    {
        WrittenTerminal terminal = new();
        Assert.Equal(0, Application.Run(arguments, terminal));
        return terminal.Output.ToString()!;
    }
}
