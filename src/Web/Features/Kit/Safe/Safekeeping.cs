using System.Diagnostics;
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

    internal RestoreForm()
    {
        Passphrase = Add(new TextField("passphrase", "Passphrase, where it is under one") { Keyboard = "password", MaxLength = 1000, AutoComplete = "off" });
        Certain = Add(new FlagField(Sure, "Put it in this book's place"));
    }

    /// <summary>Of the file.</summary>
    public TextField Passphrase { get; }

    /// <summary>The person is sure.</summary>
    public FlagField Certain { get; }
}

/// <summary>Safekeeping.</summary>
/// <param name="Form">The form for a restore.</param>
/// <param name="Looked">What the backup that was looked through holds; null for none.</param>
/// <param name="Waiting">A backup waits for the next start.</param>
/// <param name="Refused">Why the last restore was not made; null where there is nothing to tell.</param>
/// <param name="Kept">Books kept from before a restore, the newest first.</param>
public sealed record SafeModel(RestoreForm Form, BackupManifest? Looked, bool Waiting, string? Refused, IReadOnlyList<KeptBook> Kept);

/// <summary>A book as it was before a restore.</summary>
/// <param name="File">Name of the file in the data folder.</param>
/// <param name="At">When, UTC.</param>
public sealed record KeptBook(string File, DateTime At);

/// <summary>The book is closed and opened again; the page comes back by itself.</summary>
/// <param name="Seconds">After how long.</param>
/// <param name="Visits">What the backup holds.</param>
/// <param name="MadeAt">As of when, UTC.</param>
public sealed record OpeningModel(int Seconds, long Visits, DateTime MadeAt);

/// <summary>Backup, restore and export by the browser.</summary>
internal static class Safekeeping
{
    public static IResult Show(ServeOptions options) => Of(new RestoreForm(), null, options);

    public static async Task<IResult> BackupAsync(BookBackup backup, BookClock clock, ServeOptions options, HttpContext http, CancellationToken cancel)
    {
        string? passphrase = (await http.Request.ReadFormAsync(cancel))["seal"].ToString() is { Length: > 0 } typed ? typed : null;
        if (passphrase is not null && SealedFile.Weakness(passphrase) is { } weak)
        {
            RestoreForm refused = new();
            refused.Refuse($"Backup: {weak}");
            return Of(refused, null, options);
        }

        string file = Temporary(options);
        try
        {
            await backup.WriteAsync(file, passphrase, cancel);
            return new SentFile(file, string.Create(CultureInfo.InvariantCulture, $"whetwright-{clock.Now():yyyy-MM-dd-HHmm}.{(passphrase is null ? "zip" : "sealed")}"));
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

    public static async Task<IResult> RestoreAsync(HttpContext http, BookBackup backup, ServeOptions options, ServeAgain again, CancellationToken cancel)
    {
        RestoreForm form = new();
        await form.ReadAsync(http);
        string? passphrase = form.Passphrase.Value;
        form.Passphrase.Fill(null); // it is not shown again
        IFormCollection sent = await http.Request.ReadFormAsync(cancel);
        if (sent.Files.GetFile(RestoreForm.FileName) is not { Length: > 0 } upload)
        {
            form.Refuse("Backup file: none was chosen; a file that Backup made would be right");
            return Of(form, null, options);
        }

        string file = Temporary(options);
        Stopwatch watch = Stopwatch.StartNew();
        try
        {
            await using (FileStream to = File.Create(file))
                await upload.CopyToAsync(to, cancel);
            BackupManifest manifest = await backup.VerifyAsync(file, passphrase, cancel);
            if (!form.Certain.Value)
                return Of(form, manifest, options);
            if (SealedFile.IsSealed(file))
            {
                // Nobody types a passphrase when the program starts: it waits opened, on the disk that holds the book itself.
                string plain = Temporary(options);
                SealedFile.Open(file, plain, passphrase);
                File.Move(plain, file, overwrite: true);
            }

            File.Move(file, PendingRestore.Place(options.DataFolder), overwrite: true);
            if (again.Possible)
            {
                // Unpacking and checking takes about as long as it just took; the browser asks again after that.
                int seconds = 3 + (int)Math.Ceiling(watch.Elapsed.TotalSeconds);
                http.Response.Headers["Refresh"] = string.Create(CultureInfo.InvariantCulture, $"{seconds};url=/kit/safe");
                http.Response.Headers.Connection = "close";
                again.Ask(http);
                return Page.Of<OpeningPage>("Restoring", new OpeningModel(seconds, manifest.Rows.GetValueOrDefault("Visits"), manifest.MadeAt), Room.Kit);
            }

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
        File.Delete(PendingRestore.WhyNot(options.DataFolder));
        return Page.SeeOther("/kit/safe", "Called off: this book stays.");
    }

    private static string Temporary(ServeOptions options) => Path.Combine(options.DataFolder, $"passing-{Guid.NewGuid():N}.zip");

    private static IResult Of(RestoreForm form, BackupManifest? looked, ServeOptions options) =>
        Page.Of<SafePage>("Safekeeping", new SafeModel(
            form, looked, File.Exists(PendingRestore.Place(options.DataFolder)),
            File.Exists(PendingRestore.WhyNot(options.DataFolder)) ? File.ReadAllText(PendingRestore.WhyNot(options.DataFolder)) : null,
            [.. new DirectoryInfo(options.DataFolder).GetFiles("book-before-restore-*.db").OrderByDescending(f => f.CreationTimeUtc).Take(5).Select(f => new KeptBook(f.Name, f.CreationTimeUtc))]), Room.Kit, form.Status);

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
