using System.IO.Compression;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Records;
using Whetwright.Records.Owners;
using Whetwright.Records.Saving;
using Whetwright.Records.Visits;
using Whetwright.Web.Tests.Harness;

namespace Whetwright.Web.Tests;

/// <summary>No page over 150 kB compressed without its photos, on a full rack of 150 pieces that all belong to one owner, which is worse than any shop.</summary>
public sealed class Pages_stay_light
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task With_a_hundred_and_fifty_pieces_of_one_owner_here()
    {
        await using RunningShop shop = await RunningShop.OpenAsync();
        BookWriter writer = shop.Services.GetRequiredService<BookWriter>();
        var owner = (SaveOutcome<Owner>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<OwnerDesk>().AddAsync(db, new() { Name = "Canteen of many knives, invented", IsAccount = true }, Cancel), Cancel);
        var done = (SaveOutcome<IntakeDone>.Saved)await writer.WriteAsync(db => shop.Services.GetRequiredService<IntakeDesk>().TakeInAsync(db, new()
        {
            OwnerId = owner.Value.Id,
            Pieces = [.. Enumerable.Range(1, 150).Select(i => new PieceIntake
            {
                NewPiece = new() { Name = $"Kitchen knife {i}, black handle", LengthMm = 90 + i }, Wishes = $"Keep the tip as it is, number {i}", Charges = [new() { Text = "Knife from 20 cm", AmountMinor = 1400, Minutes = 18 }],
            })],
        }, Cancel), Cancel);
        using HttpClient client = shop.Client();
        client.DefaultRequestHeaders.AcceptEncoding.ParseAdd("gzip");

        foreach (string page in new[]
        {
            "/", "/rack", "/rack?by=place", "/bench", "/counter", "/book?q=knife", FormattableString.Invariant($"/counter/back/{owner.Value.Id}"), FormattableString.Invariant($"/counter/in/{owner.Value.Id}"),
            FormattableString.Invariant($"/counter/receipts/{done.Value.IntakeId}"), FormattableString.Invariant($"/book/owners/{owner.Value.Id}"), FormattableString.Invariant($"/counter/ready/{owner.Value.Id}"),
        })
        {
            using HttpResponseMessage answer = await client.GetAsync(new Uri(page, UriKind.Relative), Cancel);
            byte[] packed = await answer.Content.ReadAsByteArrayAsync(Cancel);

            Assert.Equal(200, (int)answer.StatusCode);
            Assert.Contains("gzip", answer.Content.Headers.ContentEncoding);
            Assert.True(packed.Length <= 150_000, $"{page}: {packed.Length} bytes compressed, 150,000 at most");
            await using GZipStream whole = new(new MemoryStream(packed), CompressionMode.Decompress);
            Assert.Contains("</html>", await new StreamReader(whole).ReadToEndAsync(Cancel), StringComparison.Ordinal);
        }
    }
}
