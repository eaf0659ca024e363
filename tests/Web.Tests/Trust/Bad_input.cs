using System.Net;
using System.Net.Http.Headers;
using Whetwright.Load;
using Whetwright.Sight.Pictures;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests.Trust;

/// <summary>A slice of what bench/Load sends by the ten thousand: no failure of ours, no hang.</summary>
public sealed class Bad_input
{
    private const int Seed = 4711;

    [Fact]
    public async Task Broken_requests_and_pictures_get_an_answer_that_is_not_our_fault()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        InventedBook book = await InventedBook.FillAsync(shop);
        using HttpClient client = shop.Client();
        Crawl crawl = await Crawl.WalkAsync(client, 30, $"/bench/{book.OpenTag}/read/outline", $"/bench/{book.OpenTag}/read/photo", "/kit/rigs/new/wheel-and-bar", "/counter/owners/new", $"/book/owners/{book.OwnerId}/edit");
        Assert.Contains(crawl.Forms, f => f.Files.Count > 0);
        Random random = new(Seed);
        Fuzz fuzz = new(client, crawl, random);
        BrokenImages broken = new([PhotoCopy.Reduce(await File.ReadAllBytesAsync(Path.Combine(Repository.Root, "samples", "photos", "normal", "photo.jpg"), TestContext.Current.CancellationToken), 320), SmallPng.Bytes], random);
        List<Fuzzed> sent = [];
        for (int i = 0; i < 150; i++)
            sent.Add(await fuzz.NextAsync());
        for (int i = 0; i < 40; i++)
            sent.Add(await fuzz.ImageAsync(broken.Next()));

        Assert.Empty(sent.Where(s => s.IsBad).Select(s => $"{s.Status} {s.What}"));
        Assert.True(sent.Select(s => s.Status).Distinct().Count() > 3); // they reach more than one kind of answer
    }

    [Fact]
    public async Task A_drawing_is_no_photo_whatever_its_name_and_the_name_is_only_ever_shown()
    {
        await using RunningShop shop = await RunningShop.OpenAsync(more: Sampler.SamplerPages.Map);
        using HttpClient client = shop.Client();
        using MultipartFormDataContent form = [];
        foreach ((string name, string value) in await Forms.ReadAsync(client, "/sampler"))
            form.Add(new StringContent(value), name);
        ByteArrayContent svg = new("<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"u8.ToArray());
        svg.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        form.Add(svg, "photo", "../../<img src=x>.jpg");

        using HttpResponseMessage answer = await client.PostAsync(new Uri("/sampler", UriKind.Relative), form, TestContext.Current.CancellationToken);

        string page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("is not a JPEG or PNG photo", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<img src=x>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("../..", page, StringComparison.Ordinal);
    }
}
