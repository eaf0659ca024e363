using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Whetwright.Records;
using Whetwright.Records.Photos;
using Whetwright.Sight.Pictures;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared;
using Whetwright.Workbench.Photos;

namespace Whetwright.Web.Features.Book;

/// <summary>Photos by the hash of their bytes: whole, or a small copy for a page. What a hash names never changes, so browsers keep it.</summary>
internal sealed class PhotoCopies(IPhotoStore store, ServeOptions options) : IDisposable
{
    private const int LargestPx = 720; // twice a phone's column: chosen, not derived

    // Decoding takes memory: one photo at a time, the rest wait.
    private readonly SemaphoreSlim gate = new(1, 1);

    private string Folder { get; } = Path.Combine(options.DataFolder, BookOptions.SmallPhotos);

    public static async Task<IResult> WholeAsync(string hash, HttpContext http, IDbContextFactory<BookContext> books, PhotoCopies copies, CancellationToken cancel) =>
        await TypeAsync(hash, books, cancel) is { } type && copies.Whole(hash) is { } bytes ? Kept(http, hash, Results.Stream(bytes, type)) : Gone(hash);

    public static async Task<IResult> SmallAsync(string hash, HttpContext http, IDbContextFactory<BookContext> books, PhotoCopies copies, CancellationToken cancel)
    {
        if (await TypeAsync(hash, books, cancel) is not { } type || copies.Whole(hash) is not { } whole)
            return Gone(hash);
        await whole.DisposeAsync();
        return await copies.SmallAsync(hash, cancel) is { } small
            ? Kept(http, hash + "-s", Results.Bytes(small, "image/jpeg"))
            : Kept(http, hash, Results.Stream(copies.Whole(hash)!, type));
    }

    public void Dispose() => gate.Dispose();

    private Stream? Whole(string hash) => store.Open(hash);

    /// <summary>The small copy, made once; null where no copy can be made and the whole photo has to do.</summary>
    private async Task<byte[]?> SmallAsync(string hash, CancellationToken cancel)
    {
        string path = Path.Combine(Folder, hash + ".jpg");
        if (File.Exists(path))
            return await File.ReadAllBytesAsync(path, cancel);
        await gate.WaitAsync(cancel);
        try
        {
            if (store.PathOf(hash) is not { } from)
                return null;
            byte[] small = await Task.Run(() => PhotoCopy.Reduce(File.ReadAllBytes(from), LargestPx), cancel);
            Directory.CreateDirectory(Folder);
            string half = path + ".new";
            await File.WriteAllBytesAsync(half, small, cancel);
            File.Move(half, path, overwrite: true);
            return small;
        }
        catch (PictureRefusedException)
        {
            return null;
        }
        catch (Exception e) when (PictureLibrary.IsMissing(e))
        {
            return null;
        }
        finally
        {
            gate.Release();
        }
    }

    private static async Task<string?> TypeAsync(string hash, IDbContextFactory<BookContext> books, CancellationToken cancel)
    {
        if (hash.Length != 64 || !hash.All(char.IsAsciiHexDigitLower))
            return null;
        await using BookContext db = await books.CreateDbContextAsync(cancel);
        return await db.Photos.Where(p => p.Hash == hash).Select(p => p.ContentType).FirstOrDefaultAsync(cancel);
    }

    private static IResult Kept(HttpContext http, string tag, IResult photo)
    {
        http.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        http.Response.Headers.ETag = $"\"{tag}\"";
        return photo;
    }

    private static IResult Gone(string hash) => Page.NotFound($"There is no photo {(hash.Length > 12 ? hash[..12] + "…" : hash)} in the book.");
}
