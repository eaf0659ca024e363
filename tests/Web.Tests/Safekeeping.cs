using System.IO.Compression;
using Microsoft.EntityFrameworkCore;
using Whetwright.Web.Serving;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>Backup, export and restore by the browser.</summary>
public sealed class Safekeeping
{
    [Fact]
    public async Task A_backup_is_made_looked_through_and_put_in_place_at_the_next_start()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        await NameAsync(shop, "As it was");
        byte[] backup = await FileAsync(client, "/kit/safe/backup");
        await NameAsync(shop, "As it became");

        (int looked, string said) = await RestoreAsync(client, backup, sure: false);
        (int put, _) = await RestoreAsync(client, backup, sure: true);

        Assert.Equal(200, looked);
        Assert.Contains("Whole and undamaged", said, StringComparison.Ordinal);
        Assert.Equal(303, put);
        Assert.Equal("As it became", (await shop.BookAsync(book => book.Shop.SingleAsync())).Name);
        Assert.True(File.Exists(Path.Combine(shop.Folder, "restore-at-start.zip")));
        string copy = Directory.CreateTempSubdirectory("whetwright-").FullName;
        File.Copy(Path.Combine(shop.Folder, "restore-at-start.zip"), Path.Combine(copy, "restore-at-start.zip"));
        await using (var again = await WebShop.BuildAsync(new ServeOptions(copy, ["http://127.0.0.1:0"])))
        {
            await again.StartAsync();
            using HttpClient reader = new() { BaseAddress = new Uri(again.Urls.Single()) };
            Assert.Contains("As it was", await reader.GetStringAsync(new Uri("/kit", UriKind.Relative)), StringComparison.Ordinal);
            await again.StopAsync();
        }

        Assert.False(File.Exists(Path.Combine(copy, "restore-at-start.zip")));
        Directory.Delete(copy, recursive: true);
    }

    [Fact]
    public async Task A_program_that_serves_puts_it_in_place_at_once_keeps_the_book_before_and_comes_back_by_itself()
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        using CancellationTokenSource end = new();
        string address = $"http://127.0.0.1:{FreePort()}";
        Queue<TaskCompletionSource> starts = new([new(), new()]);
        TaskCompletionSource first = starts.ElementAt(0), second = starts.ElementAt(1);
        Task serving = ServeAgain.ServeAsync(() => WebShop.BuildAsync(new ServeOptions(folder, [address])), _ => { starts.Dequeue().SetResult(); return Task.CompletedTask; }, end.Token);
        await first.Task.WaitAsync(TimeSpan.FromMinutes(1), TestContext.Current.CancellationToken);
        using HttpClient client = new(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = new Uri(address) };
        byte[] backup = await FileAsync(client, "/kit/safe/backup");
        using (HttpResponseMessage made = await client.PostAsync(new Uri("/counter/owners/new", UriKind.Relative), new FormUrlEncodedContent(
            (await Forms.ReadAsync(client, "/counter/owners/new")).Where(f => f.Key != "name").Append(KeyValuePair.Create("name", "Came after the backup"))), TestContext.Current.CancellationToken))
            Assert.Equal(303, (int)made.StatusCode);
        Assert.Contains("Came after the backup", await client.GetStringAsync(new Uri("/counter?who=after", UriKind.Relative), TestContext.Current.CancellationToken), StringComparison.Ordinal);

        (int put, string said) = await RestoreAsync(client, backup, sure: true);
        await second.Task.WaitAsync(TimeSpan.FromMinutes(1), TestContext.Current.CancellationToken);

        Assert.Equal(200, put);
        Assert.Contains("opens again by itself", said, StringComparison.Ordinal);
        Assert.DoesNotContain("Came after the backup", await client.GetStringAsync(new Uri("/counter?who=after", UriKind.Relative), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        string safe = await client.GetStringAsync(new Uri("/kit/safe", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("Kept from before a restore", safe, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(folder, "restore-at-start.zip")));
        await end.CancelAsync();
        await serving;
        Directory.Delete(folder, recursive: true);
    }

    private static int FreePort()
    {
        using System.Net.Sockets.TcpListener listener = new(System.Net.IPAddress.Loopback, 0);
        listener.Start();
        return ((System.Net.IPEndPoint)listener.LocalEndpoint).Port;
    }

    [Fact]
    public async Task A_damaged_backup_is_refused_and_nothing_is_touched()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        byte[] backup = await FileAsync(client, "/kit/safe/backup");
        backup[backup.Length / 2] ^= 0x40;

        (int status, string said) = await RestoreAsync(client, backup, sure: true);

        Assert.Equal(422, status);
        Assert.Contains("Nothing was touched", said, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(shop.Folder, "restore-at-start.zip")));
    }

    [Fact]
    public async Task An_owner_takes_everything_along_and_is_erased_when_that_is_said_twice()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();
        long id = await shop.BookAsync(async book =>
        {
            Whetwright.Records.Owners.Owner owner = new() { Name = "Marlies Brandt", SearchText = "marlies brandt" };
            book.Owners.Add(owner);
            await book.SaveChangesAsync();
            return owner.Id;
        });

        using ZipArchive zip = new(await client.GetStreamAsync(new Uri($"/book/owners/{id}/everything.zip", UriKind.Relative)));
        Dictionary<string, string> form = await Forms.ReadAsync(client, $"/book/owners/{id}/erase");
        using HttpResponseMessage unsure = await client.PostAsync(new Uri($"/book/owners/{id}/erase", UriKind.Relative), new FormUrlEncodedContent(form));
        string still = (await shop.BookAsync(book => book.Owners.SingleAsync())).Name;
        form["sure"] = "yes";
        using HttpResponseMessage sure = await client.PostAsync(new Uri($"/book/owners/{id}/erase", UriKind.Relative), new FormUrlEncodedContent(form));

        Assert.NotNull(zip.GetEntry("owner.json"));
        Assert.Equal((System.Net.HttpStatusCode.UnprocessableEntity, "Marlies Brandt"), (unsure.StatusCode, still));
        Assert.Equal(System.Net.HttpStatusCode.SeeOther, sure.StatusCode);
        Assert.Equal($"Erased owner {id}", (await shop.BookAsync(book => book.Owners.SingleAsync())).Name);
    }

    [Fact]
    public async Task Everything_is_exported_as_tables()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        using HttpClient client = shop.Client();

        using ZipArchive zip = new(new MemoryStream(await FileAsync(client, "/kit/safe/export")));

        Assert.Contains(zip.Entries, e => e.Name == "visits.csv");
        Assert.Contains(zip.Entries, e => e.Name == "wheels.csv");
    }

    private static Task<int> NameAsync(RunningShop shop, string name) => shop.BookAsync(async book =>
    {
        (await book.Shop.SingleAsync()).Name = name;
        return await book.SaveChangesAsync();
    });

    private static async Task<byte[]> FileAsync(HttpClient client, string address)
    {
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/kit/safe");
        using HttpResponseMessage answer = await client.PostAsync(new Uri(address, UriKind.Relative), new FormUrlEncodedContent(form.Where(f => f.Key == "_form")));
        Assert.Equal("application/zip", answer.Content.Headers.ContentType?.MediaType);
        return await answer.Content.ReadAsByteArrayAsync();
    }

    private static async Task<(int Status, string Said)> RestoreAsync(HttpClient client, byte[] backup, bool sure)
    {
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/kit/safe");
        using MultipartFormDataContent sent = new() { { new StringContent(form["_form"]), "_form" }, { new StringContent(form["_once"]), "_once" }, { new ByteArrayContent(backup), "backup", "book.zip" } };
        if (sure)
            sent.Add(new StringContent("yes"), "sure");
        using HttpResponseMessage answer = await client.PostAsync(new Uri("/kit/safe/restore", UriKind.Relative), sent);
        return ((int)answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }
}
