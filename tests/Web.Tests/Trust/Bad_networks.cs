using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using Microsoft.Data.Sqlite;
using Microsoft.Playwright;
using Whetwright.Web.Tests.Doors;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Trust;

/// <summary>Lines that break, phones that sleep, a program that is killed under a filled form.</summary>
public sealed class Bad_networks(Browser browser)
{
    [Fact]
    public async Task A_form_filled_before_the_program_was_killed_saves_after_it_came_up_again_and_only_once()
    {
        string folder = Directory.CreateTempSubdirectory("whetwright-").FullName;
        string address = $"http://127.0.0.1:{FreePort()}";
        using HttpClient client = new(new SocketsHttpHandler { AllowAutoRedirect = false }) { BaseAddress = new Uri(address) };
        Uri at = new("/counter/owners/new", UriKind.Relative);
        try
        {
            Dictionary<string, string> form;
            using (Process first = await ServeAsync(folder, address))
            {
                form = await Forms.ReadAsync(client, at.ToString());
                form["name"] = "Invented Owner";
                first.Kill();
                await first.WaitForExitAsync(TestContext.Current.CancellationToken);
            }

            using Process second = await ServeAsync(folder, address);
            List<(HttpStatusCode, string?)> answers = [];
            for (int i = 0; i < 2; i++)
            {
                using FormUrlEncodedContent content = new(form);
                using HttpResponseMessage answer = await client.PostAsync(at, content, TestContext.Current.CancellationToken);
                answers.Add((answer.StatusCode, answer.Headers.Location?.ToString()));
            }

            Assert.Equal(HttpStatusCode.SeeOther, answers[0].Item1);
            Assert.Equal(answers[0], answers[1]);
            await using SqliteConnection book = new($"Data Source={Path.Combine(folder, "book.db")};Mode=ReadOnly;Pooling=False");
            await book.OpenAsync(TestContext.Current.CancellationToken);
            await using SqliteCommand count = book.CreateCommand();
            count.CommandText = "SELECT COUNT(*) FROM \"Owners\" WHERE \"Name\" = 'Invented Owner'";
            Assert.Equal(1L, await count.ExecuteScalarAsync(TestContext.Current.CancellationToken));
            second.Kill();
            await second.WaitForExitAsync(TestContext.Current.CancellationToken);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task A_phone_that_was_out_of_reach_goes_on_where_it_was_and_a_photo_is_sent_again_by_itself()
    {
        await using RunningShop shop = await RunningShop.OpenAsync(more: Sampler.SamplerPages.Map);
        InventedBook book = await InventedBook.FillAsync(shop);
        await using Visitor phone = await browser.ComeAsync(shop, Screen.Phone);
        string visit = $"/book/visits/{book.Visits[^1].VisitId}";
        await phone.GoAsync(visit);
        await phone.TypeAsync("Add a note", "Handle is loose");
        await phone.Page.Context.SetOfflineAsync(true); // asleep, or out of the radio's reach

        ILocator send = phone.Page.Locator($"form[action='{visit}'] button:not(.unseen)").First;
        await send.TapAsync();
        await Assertions.Expect(phone.Page.Locator("#ww-offline")).ToBeVisibleAsync();
        Assert.Equal("Handle is loose", await phone.Page.GetByLabel("Add a note").First.InputValueAsync());
        await phone.Page.Context.SetOfflineAsync(false);
        await send.TapAsync();
        await Assertions.Expect(phone.Page.Locator(".told")).ToBeVisibleAsync();
        Assert.Equal(1, await shop.BookAsync(db => Task.FromResult(db.VisitNotes.Count(n => n.Text == "Handle is loose"))));

        int sent = 0;
        await phone.Page.RouteAsync("**/sampler", async route =>
        {
            if (route.Request.Method == "POST" && sent++ == 0)
                await route.AbortAsync("connectionreset");
            else
                await route.ContinueAsync();
        });
        await phone.GoAsync("/sampler");
        await phone.Page.Locator("#f-photo").SetInputFilesAsync(Path.Combine(Repository.Root, "samples", "mats", "photo.jpg"));
        await phone.TapAsync(phone.Page.Locator(".thumb-bar .main"));
        await Assertions.Expect(phone.Page.Locator("#ww-sending")).ToContainTextAsync("trying again (2 of 5)");
        await Assertions.Expect(phone.Page.Locator(".told")).ToContainTextAsync("1 photos");
        Assert.Equal(2, sent);
        await Assertions.Expect(phone.Page.Locator("#ww-sending")).ToBeHiddenAsync();
    }

    private static async Task<Process> ServeAsync(string folder, string address)
    {
        string program = Path.Combine(AppContext.BaseDirectory.Replace(Path.Combine("tests", "Web.Tests"), Path.Combine("src", "Cli"), StringComparison.Ordinal), "whetwright.dll");
        Process process = Process.Start(new ProcessStartInfo("dotnet", ["exec", program, "serve", "--data", folder, "--urls", address]) { RedirectStandardOutput = true, UseShellExecute = false })!;
        Assert.Contains(address, await process.StandardOutput.ReadLineAsync() ?? "", StringComparison.Ordinal);
        return process;
    }

    private static int FreePort()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
