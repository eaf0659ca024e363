using Microsoft.AspNetCore.Http;
using Whetwright.Records.Csv;
using Whetwright.Web.Layout;
using Whetwright.Web.Shared;

namespace Whetwright.Web.Features.Book.Importing;

/// <summary>Everything as CSV, in one file or table by table.</summary>
internal static class Exporting
{
    public static async Task<IResult> ShowAsync(BookExport export, CancellationToken cancel) =>
        Page.Of<ExportPage>("Take out", await export.FilesAsync(cancel), Room.Book);

    public static async Task<IResult> AllAsync(BookExport export, CancellationToken cancel)
    {
        // A zip that breaks off in the middle would look like a whole one: it is made first and sent then.
        FileStream zip = new(Path.GetTempFileName(), FileMode.Open, FileAccess.ReadWrite, FileShare.None, 1 << 16, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
        try
        {
            await export.ToZipAsync(zip, cancel);
            zip.Position = 0;
            return Results.File(zip, "application/zip", "book.zip");
        }
        catch
        {
            await zip.DisposeAsync();
            throw;
        }
    }

    public static async Task<IResult> OneAsync(string file, BookExport export, CancellationToken cancel)
    {
        MemoryStream table = new();
        if (!await export.ToStreamAsync(file, () => table, cancel))
            return Page.NotFound($"There is no table “{file}” to take out.");
        table.Position = 0;
        return Results.File(table, "text/csv; charset=utf-8", file);
    }
}
