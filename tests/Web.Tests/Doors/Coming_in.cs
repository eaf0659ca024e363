using System.Net;
using System.Net.Http.Headers;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records.Changes;
using Whetwright.Web.Doors;
using Whetwright.Web.Serving;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Doors;

/// <summary>Passphrase, codes, tokens: who comes in, for how long, and who does not.</summary>
public sealed class Coming_in
{
    private static Uri At(string path) => new(path, UriKind.Relative);

    [Theory]
    [InlineData("http://0.0.0.0:0")]
    [InlineData("http://127.0.0.1:0;http://*:0")]
    public async Task A_shop_without_a_passphrase_does_not_open_to_the_network(string urls)
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        try
        {
            ServeRefusedException refused = await Assert.ThrowsAsync<ServeRefusedException>(() => WebShop.BuildAsync(new ServeOptions(folder, urls.Split(';'))));

            Assert.Contains($"whetwright passphrase --data {folder}", refused.Message, StringComparison.Ordinal);
            Assert.False(File.Exists(Path.Combine(folder, "book.db")));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData("short words", "has 11 characters; at least 12")]
    [InlineData("aaaaaaaaaaaaaaaaaaaa", "fewer than 5 different")]
    public void A_weak_passphrase_is_refused_with_what_would_be_right(string passphrase, string says) =>
        Assert.Contains(says, Passphrase.Problem(passphrase), StringComparison.Ordinal);

    [Fact]
    public async Task Only_a_hash_of_the_passphrase_is_kept_readable_by_the_owner_alone_and_not_in_the_book()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        string file = Path.Combine(opened.Shop.Folder, DoorList.FileName);

        _ = opened.Doors.LetIn("phone", Role.Helper); // written anew by us
        string kept = await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);

        Assert.DoesNotContain("spoons", kept, StringComparison.Ordinal);
        Assert.True(opened.Doors.IsPassphrase(OpenedShop.Passphrase));
        Assert.False(opened.Doors.IsPassphrase(OpenedShop.Passphrase + " "));
        if (!OperatingSystem.IsWindows())
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
    }

    [Fact]
    public async Task A_code_lets_one_device_in_once()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient master = await opened.MasterAsync(), first = opened.Stranger(), second = opened.Stranger();
        string code = await OpenedShop.CodeAsync(master, "bench tablet", "Helper");

        using HttpResponseMessage came = await first.SendFormAsync("/sign-in?to=%2Frack", "/sign-in/code?to=%2Frack", ("code", code.Replace(" ", "", StringComparison.Ordinal)));
        using HttpResponseMessage again = await second.SendFormAsync("/sign-in", "/sign-in/code", ("code", code));

        Assert.Equal((HttpStatusCode.SeeOther, "/rack"), (came.StatusCode, came.Headers.Location!.ToString()));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.StatusCode);
        Assert.Contains("bench tablet", await first.GetStringAsync(At("/preferences"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_code_dies_with_time_and_with_wrong_tries()
    {
        SetClock clock = new();
        await using OpenedShop opened = await OpenedShop.OpenAsync(adjust: b => b.Services.AddSingleton<TimeProvider>(clock));
        PairCodes codes = opened.Shop.Services.GetRequiredService<PairCodes>();

        PairCode late = codes.Make("a", Role.Helper);
        clock.Pass(TimeSpan.FromMinutes(5));
        Assert.Null(codes.Use(late.Digits));

        PairCode tried = codes.Make("b", Role.Helper);
        string wrong = tried.Digits == "000000" ? "000001" : "000000";
        for (int i = 0; i < 5; i++)
            Assert.Null(codes.Use(wrong));
        Assert.Null(codes.Use(tried.Digits));

        PairCode fresh = codes.Make("c", Role.Master);
        Assert.Null(codes.Use(wrong));
        Assert.Equal(fresh, codes.Use(fresh.Digits));
        Assert.Null(codes.Use(fresh.Digits));
    }

    [Fact]
    public async Task Wrong_passphrases_lock_the_address_out_for_a_while_even_for_the_right_one()
    {
        SetClock clock = new();
        await using OpenedShop opened = await OpenedShop.OpenAsync(new DoorLimits { WrongPassphrases = 2 }, b => b.Services.AddSingleton<TimeProvider>(clock));
        using HttpClient client = opened.Stranger();
        async Task<HttpStatusCode> TryAsync(string passphrase)
        {
            using HttpResponseMessage answer = await client.SendFormAsync("/sign-in", "/sign-in/passphrase", ("passphrase", passphrase));
            return answer.StatusCode;
        }

        Assert.Equal(HttpStatusCode.UnprocessableEntity, await TryAsync("not this one at all"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, await TryAsync("nor that one either"));
        Assert.Equal(HttpStatusCode.TooManyRequests, await TryAsync(OpenedShop.Passphrase));
        clock.Pass(TimeSpan.FromMinutes(15));
        Assert.Equal(HttpStatusCode.SeeOther, await TryAsync(OpenedShop.Passphrase));
    }

    [Fact]
    public async Task Sign_ins_and_requests_are_limited_by_address()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync(new DoorLimits { SignInsPerMinute = 2, Burst = 12, PerSecond = 1 });
        using HttpClient client = opened.Stranger();
        List<HttpStatusCode> codes = [];
        for (int i = 0; i < 3; i++)
        {
            using HttpResponseMessage answer = await client.SendFormAsync("/sign-in", "/sign-in/code", ("code", "123456"));
            codes.Add(answer.StatusCode);
        }

        Assert.Equal([HttpStatusCode.UnprocessableEntity, HttpStatusCode.UnprocessableEntity, HttpStatusCode.TooManyRequests], codes);
        List<HttpResponseMessage> many = [];
        for (int i = 0; i < 12; i++)
            many.Add(await client.GetAsync(At("/sign-in"), TestContext.Current.CancellationToken));
        HttpResponseMessage refused = Assert.IsType<HttpResponseMessage>(many.Find(a => a.StatusCode == HttpStatusCode.TooManyRequests));
        Assert.NotNull(refused.Headers.RetryAfter);
        many.ForEach(a => a.Dispose());
    }

    [Fact]
    public async Task Who_is_sent_away_is_refused_at_once_and_another_program_may_do_it()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient master = await opened.MasterAsync(), helper = await opened.PairedAsync(master);
        using HttpResponseMessage before = await helper.GetAsync(At("/rack"), TestContext.Current.CancellationToken);
        string html = await helper.GetStringAsync(At("/preferences"), TestContext.Current.CancellationToken);

        DoorList elsewhere = new(opened.Shop.Folder, TimeProvider.System, new DoorLimits());
        Assert.True(elsewhere.Revoke(elsewhere.Devices.Single(d => d.Name == "bench tablet").Id));
        using HttpResponseMessage after = await helper.GetAsync(At("/rack"), TestContext.Current.CancellationToken);
        using FormUrlEncodedContent form = new([new("_form", SentForms.Token(html)), new("hand", "left")]);
        using HttpResponseMessage sent = await helper.PostAsync(At("/preferences"), form, TestContext.Current.CancellationToken);

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.SeeOther, HttpStatusCode.Unauthorized), (before.StatusCode, after.StatusCode, sent.StatusCode));
    }

    [Fact]
    public async Task Signing_out_ends_it_on_the_shops_side_too()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient master = await opened.MasterAsync();
        SignedIn device = opened.Doors.Devices.Single(d => d.Revoked is null);

        using HttpResponseMessage answer = await master.SendFormAsync("/preferences", "/sign-in/out");

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.Null(opened.Doors.Find(device.Id));
    }

    [Fact]
    public async Task A_masters_sign_in_by_passphrase_ends_after_twelve_hours_and_with_a_new_passphrase()
    {
        SetClock clock = new();
        await using OpenedShop opened = await OpenedShop.OpenAsync(adjust: b => b.Services.AddSingleton<TimeProvider>(clock));
        SignedIn byPassphrase = opened.Doors.LetIn("master, by passphrase", Role.Master, new DoorLimits().PassphraseLasts), paired = opened.Doors.LetIn("phone", Role.Helper);

        clock.Pass(TimeSpan.FromHours(11));
        Assert.NotNull(opened.Doors.Find(byPassphrase.Id));
        clock.Pass(TimeSpan.FromHours(1));
        Assert.Null(opened.Doors.Find(byPassphrase.Id));
        SignedIn anew = opened.Doors.LetIn("master, by passphrase", Role.Master, new DoorLimits().PassphraseLasts);
        Assert.Null(opened.Doors.SetPassphrase("another row of words"));
        Assert.Null(opened.Doors.Find(anew.Id));
        Assert.NotNull(opened.Doors.Find(paired.Id));
        clock.Pass(TimeSpan.FromDays(31));
        Assert.Null(opened.Doors.Find(paired.Id));
    }

    [Fact]
    public async Task A_program_comes_in_by_its_token_and_to_the_interface_alone()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        string token = opened.Doors.MakeToken("goniometer");
        using HttpClient program = opened.Stranger(), master = await opened.MasterAsync();
        async Task<HttpStatusCode> AskAsync(HttpClient client, string path, string? bearer)
        {
            using HttpRequestMessage request = new(HttpMethod.Get, path);
            if (bearer is not null)
                request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", bearer);
            using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
            return answer.StatusCode;
        }

        Assert.Equal(HttpStatusCode.OK, await AskAsync(program, "/api/v1/pieces", token));
        Assert.Equal(HttpStatusCode.Unauthorized, await AskAsync(program, "/api/v1/pieces", token[..^1] + (token[^1] == '0' ? '1' : '0')));
        Assert.Equal(HttpStatusCode.Unauthorized, await AskAsync(master, "/api/v1/pieces", null)); // no page can use it behind the master's back
        Assert.Equal(HttpStatusCode.SeeOther, await AskAsync(program, "/rack", token));
        Assert.DoesNotContain(token.Split('.')[2], await File.ReadAllTextAsync(Path.Combine(opened.Shop.Folder, DoorList.FileName), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.True(opened.Doors.Revoke(opened.Doors.Devices.Single(d => d.Name == "goniometer").Id));
        Assert.Equal(HttpStatusCode.Unauthorized, await AskAsync(program, "/api/v1/pieces", token));
    }

    [Theory]
    [InlineData("X-Forwarded-For", "127.0.0.1")]
    [InlineData("Forwarded", "for=127.0.0.1")]
    [InlineData("Via", "1.1 somewhere")]
    public async Task What_a_proxy_passes_on_is_not_taken_for_the_person_at_the_machine(string header, string value)
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        using HttpRequestMessage request = new(HttpMethod.Get, "/rack") { Headers = { { header, value } } };

        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Contains("--sign-in always", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_headers_say_of_the_sender_changes_nothing_in_an_open_shop()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient client = opened.Stranger();
        using HttpRequestMessage request = new(HttpMethod.Get, "/kit/safe") { Headers = { { "X-Forwarded-For", "127.0.0.1" } } };

        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
    }

    [Theory]
    [InlineData("shop.example", HttpStatusCode.BadRequest)]
    [InlineData("192.168.7.20", HttpStatusCode.SeeOther)]
    [InlineData("localhost", HttpStatusCode.SeeOther)]
    public async Task An_open_shop_answers_to_figures_and_to_names_it_knows(string host, HttpStatusCode status)
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient client = opened.Stranger();
        using HttpRequestMessage request = new(HttpMethod.Get, "/") { Headers = { Host = host } };

        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(status, answer.StatusCode);
    }

    [Theory]
    [InlineData("//elsewhere.example")]
    [InlineData("https://elsewhere.example")]
    [InlineData("/\\elsewhere.example")]
    public async Task The_sign_in_leads_to_no_other_site(string to)
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient client = opened.Stranger();

        using HttpResponseMessage answer = await client.SendFormAsync("/sign-in", $"/sign-in/passphrase?to={Uri.EscapeDataString(to)}", ("passphrase", OpenedShop.Passphrase));

        Assert.Equal("/", answer.Headers.Location!.ToString());
    }

    [Fact]
    public async Task A_strangers_form_is_refused_before_it_is_read()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        using HttpClient client = opened.Stranger();
        using ByteArrayContent large = new(new byte[1024 * 1024]);
        large.Headers.ContentType = new MediaTypeHeaderValue("application/x-www-form-urlencoded");

        using HttpResponseMessage answer = await client.PostAsync(At("/sign-in/code"), large, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    [Fact]
    public async Task What_a_device_saves_bears_its_name_in_the_book_and_in_the_list_of_changes()
    {
        await using OpenedShop opened = await OpenedShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(opened.Shop);
        using HttpClient master = await opened.MasterAsync(), helper = await opened.PairedAsync(master, "counter phone");

        using HttpResponseMessage saved = await helper.SendFormAsync($"/book/visits/{book.Visits[^1].VisitId}", $"/book/visits/{book.Visits[^1].VisitId}", ("note", "Handle is loose"), ("text", "Handle is loose"));

        Assert.Equal(HttpStatusCode.SeeOther, saved.StatusCode);
        Change change = await opened.Shop.BookAsync(db => Task.FromResult(db.Changes.Single()));
        Assert.Equal(("counter phone", "added", "VisitNote"), (change.By, change.Verb, change.Kind));
        Assert.Equal("counter phone", await opened.Shop.BookAsync(db => Task.FromResult(db.VisitNotes.Single(n => n.Id == change.RowId).EnteredBy)));
        string page = await master.GetStringAsync(At("/kit/changes"), TestContext.Current.CancellationToken);
        Assert.Contains("counter phone", page, StringComparison.Ordinal);
        Assert.DoesNotContain("loose", page, StringComparison.Ordinal);
    }
}
