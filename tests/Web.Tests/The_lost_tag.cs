using System.Net;
using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Records;
using Whetwright.Records.Bench;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Sight.Outlines;
using Whetwright.Web.Tests.Harness;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Tests;

/// <summary>A piece lies on the bench without its tag: which one is it?</summary>
public sealed class The_lost_tag(Browser browser)
{
    private static readonly string Mats = Path.Combine(Repository.Root, "samples", "mats");

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Is_found_by_its_outline_in_another_photo_of_the_same_blade_and_by_kind_length_set_and_words()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        IReadOnlyList<VisitTag> here = await FillAsync(shop);
        await using Visitor visitor = await browser.ComeAsync(shop, Screen.Phone, scripts: false);
        await visitor.GoAsync("/counter/lost");

        await visitor.TapAsync("Find it");
        await Microsoft.Playwright.Assertions.Expect(visitor.Page.Locator(".notice.wrong")).ToContainTextAsync("Nothing is told of the piece");
        // Invented photograph of our sample's blade from another place; the book has its outline from the first photograph.
        await visitor.Page.Locator("summary").First.ClickAsync();
        await visitor.Page.Locator("#f-photo").SetInputFilesAsync(Path.Combine(Mats, "photo2.jpg"));
        await visitor.TypeAsync("How high the edge floats over the mat", "0.9");
        await visitor.TapAsync("Find it");

        Microsoft.Playwright.ILocator found = visitor.Page.Locator(".counter-owners li");
        await Microsoft.Playwright.Assertions.Expect(found.First).ToContainTextAsync(TagNumber.Format(here[1].Tag), new() { Timeout = 120_000 }); // a photo is traced
        Assert.Matches(@"(9\d|100) %", await found.First.InnerTextAsync()); // the wrong ones share the rest
        await Microsoft.Playwright.Assertions.Expect(visitor.Page.Locator("main")).ToContainTextAsync("1 has no outline in the book");
        await visitor.PictureAsync("counter-lost-found");
        await visitor.AssertNoHorizontalScroll();
        await visitor.AssertRoomForThumbs();

        // By kind and length; a length that is another's finds nothing.
        Assert.Equal([TagNumber.Format(here[2].Tag)], await FindAsync(shop, ("kind", "scissors")));
        Assert.Equal([TagNumber.Format(here[1].Tag)], await FindAsync(shop, ("length", "181"), ("within", "2")));
        Assert.Empty(await FindAsync(shop, ("length", "150"), ("within", "5")));
        Assert.Equal(3, (await FindAsync(shop, ("words", "kettner"))).Count);
    }

    [Fact]
    public async Task A_photo_that_shows_no_outline_is_refused_with_what_would_be_right()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        await FillAsync(shop);

        using HttpResponseMessage answer = await SendAsync(shop, [], Path.Combine(Repository.Root, "samples", "photos", "normal", "photo.jpg"));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Matches("Photo of it on the mat</a>: [^<]{20,}", await answer.Content.ReadAsStringAsync(Cancel));
    }

    private static async Task<IReadOnlyList<string>> FindAsync(RunningShop shop, params (string, string)[] told)
    {
        using HttpResponseMessage answer = await SendAsync(shop, told, null);
        string html = await answer.Content.ReadAsStringAsync(Cancel);
        return [.. System.Text.RegularExpressions.Regex.Matches(html, "aria-label=\"Print tag ([0-9-]+) again\"").Select(m => m.Groups[1].Value)];
    }

    private static async Task<HttpResponseMessage> SendAsync(RunningShop shop, (string, string)[] told, string? photo)
    {
        using HttpClient client = shop.Client();
        Dictionary<string, string> form = await Forms.ReadAsync(client, "/counter/lost");
        foreach ((string name, string value) in told)
            form[name] = value;
        form.Remove("photo");
        using MultipartFormDataContent sent = [];
        foreach ((string name, string value) in form)
            sent.Add(new StringContent(value), name);
        if (photo is not null)
        {
            ByteArrayContent bytes = new(await File.ReadAllBytesAsync(photo, Cancel));
            bytes.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
            sent.Add(bytes, "photo", "photo.jpg");
        }

        return await client.PostAsync(new Uri("/counter/lost", UriKind.Relative), sent, Cancel);
    }

    /// <summary>Invented: a carver with another outline, the sample's blade with its outline traced from its first photograph, scissors without an outline.</summary>
    private static async Task<IReadOnlyList<VisitTag>> FillAsync(RunningShop shop)
    {
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<OwnerDesk>().AddAsync(db, new() { Name = "Inn of Mr Kettner" }, Cancel), Cancel);
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces =
            [
                new() { NewPiece = new() { Name = "Carver", LengthMm = 240 } },
                new() { NewPiece = new() { Name = "Vegetable knife", LengthMm = 182 } },
                new() { NewPiece = new() { Name = "Scissors", Kind = PieceKind.Scissors } },
            ],
        }, Cancel), Cancel);
        (TraceResult traced, _) = Tracing.Trace(PhotoSource.Bytes("The photo", await File.ReadAllBytesAsync(Path.Combine(Mats, "photo.jpg"), Cancel)), null, MatLayout.For(KnownPaperSizes.A3, 1).Sheet, 0.9);
        Assert.False(traced.Refused);
        await OutlineAsync(done.Value.Visits[0].VisitId, InventedBook.Outline(0, 0.1, 300));
        await OutlineAsync(done.Value.Visits[1].VisitId, JsonResults.Document(json => traced.Write(json)));
        return done.Value.Visits;

        async Task OutlineAsync(long visit, string json)
        {
            DateTime now = shop.Services.GetRequiredService<BookClock>().Now();
            BenchLog log = shop.Services.GetRequiredService<BenchLog>();
            Assert.IsType<SaveOutcome<OutlineTaken>.Saved>(await writer.WriteAsync(db => log.AddAsync(db, new OutlineTaken { VisitId = visit, ResultJson = json, Method = "test", HappenedAt = now, EnteredAt = now }, cancel: Cancel), Cancel));
        }
    }
}
