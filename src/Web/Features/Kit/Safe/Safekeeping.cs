using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Whetwright.Records;
using Whetwright.Records.Backup;
using Whetwright.Records.Csv;
using Whetwright.Web.Layout;
using Whetwright.Web.Serving;
using Whetwright.Web.Shared;
using Whetwright.Web.Shared.Forms;

namespace Whetwright.Web.Features.Kit.Safe;

/// <summary>A backup that is to be restored.</summary>
public sealed class RestoreForm : WebForm
{
    /// <summary>Name of the file in the form.</summary>
    public const string FileName = "backup";

    /// <summary>Puts it in place.</summary>
    public const string Sure = "sure";

    internal RestoreForm() => Certain = Add(new FlagField(Sure, "Put it in this book's place when the program starts next"));

    /// <summary>The person is sure.</summary>
    public FlagField Certain { get; }
}

/// <summary>Safekeeping.</summary>
/// <param name="Form">The form for a restore.</param>
/// <param name="Looked">What the backup that was looked through holds; null for none.</param>
/// <param name="Waiting">A backup waits for the next start.</param>
public sealed record SafeModel(RestoreForm Form, BackupManifest? Looked, bool Waiting);

/// <summary>Backup, restore and export by the browser.</summary>
internal static class Safekeeping
{
    public static IResult Show(ServeOptions options) => Of(new RestoreForm(), null, options);

    public static async Task<IResult> BackupAsync(BookBackup backup, BookClock clock, ServeOptions options, HttpContext http, CancellationToken cancel)
    {
        string file = Temporary(options);
        try
        {
            await backup.WriteAsync(file, cancel);
            return new SentFile(file, string.Create(CultureInfo.InvariantCulture, $"whetwright-{clock.Now():yyyy-MM-dd-HHmm}.zip"));
        }
        catch (BackupRefusedException e)
        {
            File.Delete(file);
            RestoreForm form = new();
            form.Refuse($"Backup: {e.Message}");
            return Of(form, null, options);
        }
    }

    public static async Task<IResult> ExportAsync(BookExport export, BookClock clock, ServeOptions options, CancellationToken cancel)
    {
        string file = Temporary(options);
        await using (FileStream to = File.Create(file))
            await export.ToZipAsync(to, cancel);
        return new SentFile(file, string.Create(CultureInfo.InvariantCulture, $"whetwright-tables-{clock.Now():yyyy-MM-dd-HHmm}.zip"));
    }

    public static async Task<IResult> RestoreAsync(HttpContext http, BookBackup backup, ServeOptions options, CancellationToken cancel)
    {
        RestoreForm form = new();
        await form.ReadAsync(http);
        IFormCollection sent = await http.Request.ReadFormAsync(cancel);
        if (sent.Files.GetFile(RestoreForm.FileName) is not { Length: > 0 } upload)
        {
            form.Refuse("Backup file: none was chosen; a file that Backup made would be right");
            return Of(form, null, options);
        }

        string file = Temporary(options);
        try
        {
            await using (FileStream to = File.Create(file))
                await upload.CopyToAsync(to, cancel);
            BackupManifest manifest = await backup.VerifyAsync(file, cancel);
            if (!form.Certain.Value)
                return Of(form, manifest, options);
            File.Move(file, PendingRestore.Place(options.DataFolder), overwrite: true);
            return Page.SeeOther("/kit/safe", "Whole and undamaged. It is put in place when the program starts next; until then this book goes on, and is kept beside it.");
        }
        catch (BackupRefusedException e)
        {
            form.Refuse($"Backup file: {e.Message.Replace(file, Path.GetFileName(upload.FileName), StringComparison.Ordinal)}. Nothing was touched; another backup would be right");
            return Of(form, null, options);
        }
        finally
        {
            File.Delete(file);
        }
    }

    public static IResult CallOff(ServeOptions options)
    {
        File.Delete(PendingRestore.Place(options.DataFolder));
        return Page.SeeOther("/kit/safe", "Called off: this book stays.");
    }

    private static string Temporary(ServeOptions options) => Path.Combine(options.DataFolder, $"passing-{Guid.NewGuid():N}.zip");

    private static IResult Of(RestoreForm form, BackupManifest? looked, ServeOptions options) =>
        Page.Of<SafePage>("Safekeeping", new SafeModel(form, looked, File.Exists(PendingRestore.Place(options.DataFolder))), Room.Kit, form.Status);

    /// <summary>A file that is gone once it was sent.</summary>
    private sealed class SentFile(string file, string name) : IResult
    {
        public async Task ExecuteAsync(HttpContext httpContext)
        {
            await using FileStream from = new(file, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
            HttpResponse response = httpContext.Response;
            response.ContentType = "application/zip";
            response.Headers.ContentDisposition = $"attachment; filename=\"{name}\"";
            response.ContentLength = from.Length;
            await from.CopyToAsync(response.Body, httpContext.RequestAborted);
        }
    }
}
