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
