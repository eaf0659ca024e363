using Microsoft.AspNetCore.Http;
using Whetwright.Records.Bench;
using Whetwright.Records.Photos;
using Whetwright.Sight.Pictures;
using Whetwright.Web.Features.Bench.Steps;
using Whetwright.Web.Shared;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Bench.Read;

/// <summary>Photos of a visit: whole, or cut to a part and made small for the page.</summary>
internal sealed class BenchPhotos(IPhotoStore store) : IDisposable
{
    private const int WidestPx = 1400; // twice a tablet's column: chosen, not derived

    private IPhotoStore Store { get; } = store;

    // Decoding takes memory: one photo at a time, the rest wait.
    private readonly SemaphoreSlim gate = new(1, 1);

    /// <summary>The whole photo.</summary>
    public static Task<IResult> WholeAsync(string tag, long id, BenchVisitQuery visits, BenchPhotos photos, HttpContext http, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, visit => visit.Photos.FirstOrDefault(p => p.Id == id) is { } photo && photos.Store.Open(photo.Hash) is { } bytes
            ? Kept(http, Results.Stream(bytes, photo.ContentType))
            : Page.NotFound($"There is no photo {id} of the piece {tag}."), cancel);

    /// <summary>A part of it as a JPEG.</summary>
    public static Task<IResult> CutAsync(string tag, long id, int x, int y, int w, int h, BenchVisitQuery visits, BenchPhotos photos, HttpContext http, CancellationToken cancel) =>
        BenchDoor.WithAsync(tag, visits, async visit =>
        {
            if (visit.Photos.FirstOrDefault(p => p.Id == id) is not { } photo || photos.Store.PathOf(photo.Hash) is not { } path || w <= 0 || h <= 0)
                return Page.NotFound($"There is no such part of photo {id} of the piece {tag}.");
            byte[] cut = await photos.OneAtATimeAsync(() =>
            {
                using Picture picture = Picture.Read(path);
                return picture.CutToJpeg(x, y, w, h, WidestPx);
            }, cancel);
            return Kept(http, Results.Bytes(cut, "image/jpeg"));
        }, cancel);

    /// <summary>Runs what decodes photos, one at a time, off the request's thread.</summary>
    public async Task<T> OneAtATimeAsync<T>(Func<T> work, CancellationToken cancel)
    {
        await gate.WaitAsync(cancel);
        try
        {
            return await Task.Run(work, cancel);
        }
        finally
        {
            gate.Release();
        }
    }

    /// <summary>Bytes of a photo of the visit, to be read; null where they are not there.</summary>
    public PhotoSource? Source(BenchVisit visit, long id, string name) =>
        visit.Photos.FirstOrDefault(p => p.Id == id) is { } photo && Store.PathOf(photo.Hash) is { } path ? new(name, () => Picture.Read(path)) : null;

    /// <summary>All bytes of a file that was sent.</summary>
    public static async Task<byte[]> BytesAsync(IFormFile file, CancellationToken cancel)
    {
        using MemoryStream all = new((int)file.Length);
        await file.CopyToAsync(all, cancel);
        return all.ToArray();
    }

    public void Dispose() => gate.Dispose();

    private static IResult Kept(HttpContext http, IResult result)
    {
        // A photo of a number never changes.
        http.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return result;
    }
}
