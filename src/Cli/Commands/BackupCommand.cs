using System.CommandLine;
using System.Globalization;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Formats.Writing;
using Whetwright.Records.Backup;

namespace Whetwright.Cli.Commands;

/// <summary>backup and restore: the whole book as one verified file, and back.</summary>
internal static class BackupCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string?> to = new("--out") { Description = "File to make (default whetwright-DATE.zip here).", HelpName = "file" };
        BookFolder folder = new();
        Passphrase passphrase = new();
        CommonOptions common = new();
        Command command = new("backup",
            "Write the whole book with its photos into one file, read it back and check it, while the program may go on running.\n\n"
            + "  whetwright backup --out /media/stick/book.zip\n\n"
            + "Under a passphrase (AES-256-GCM) nobody else reads it; without the passphrase you do not either:\n\n"
            + "  whetwright backup --out /media/stick/book.sealed --passphrase-file words.txt\n\n"
            + "Keep one away from the shop, and try restoring it once: whetwright restore book.zip --data some-empty-folder")
        {
            to,
        };
        passphrase.AddTo(command);
        folder.AddTo(command);
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string? words = passphrase.Read(parsed, forNew: true);
            using ServiceProvider services = folder.Services(parsed, mustExist: true);
            string file = Path.GetFullPath(parsed.GetValue(to) ?? string.Create(CultureInfo.InvariantCulture, $"whetwright-{DateTime.Now:yyyy-MM-dd-HHmm}.{(words is null ? "zip" : "sealed")}"));
            return Try(terminal, () => Said(terminal, choice, "backup", file, Run(services.GetRequiredService<BookBackup>().WriteAsync(file, words)), bookBefore: null));
        });
        return command;
    }

    public static Command MakeRestore(ITerminal terminal)
    {
        Argument<string> from = new("file") { Description = "A file that backup made." };
        BookFolder folder = new();
        Passphrase passphrase = new();
        CommonOptions common = new();
        Command command = new("restore",
            "Put a backup in the book's place. The whole file is checked first: a damaged one is refused and nothing is touched.\n"
            + "The book before is kept beside the new one. Stop the program that serves it first.\n\n"
            + "  whetwright restore /media/stick/book.zip")
        {
            from,
        };
        passphrase.AddTo(command);
        folder.AddTo(command);
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string file = Path.GetFullPath(parsed.GetValue(from)!);
            if (!File.Exists(file))
                throw new InputRefusedException($"{file}: there is no such file; one that backup made would be right");
            using ServiceProvider services = folder.Services(parsed, mustExist: false);
            return Try(terminal, () =>
            {
                Restored restored = Run(services.GetRequiredService<BookBackup>().RestoreAsync(file, passphrase.Read(parsed, forNew: false)));
                return Said(terminal, choice, "restore", file, restored.Manifest, restored.BookBefore);
            });
        });
        return command;
    }

    private static int Said(ITerminal terminal, CommonChoice choice, string verb, string file, BackupManifest manifest, string? bookBefore)
    {
        long rows = manifest.Rows.Values.Sum();
        int photos = manifest.Files.Count - 1;
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                json.WriteString("verb", verb);
                json.WriteString("file", file);
                json.WriteString("madeAt", manifest.MadeAt);
                json.WriteString("model", manifest.Model);
                json.WriteNumber("rows", rows);
                json.WriteNumber("photos", photos);
                json.WriteString("bookBefore", bookBefore);
            }));
            return ExitCode.Done;
        }

        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{(verb == "backup" ? "Written and read back" : "Restored")}: {file}\n{manifest.Rows.GetValueOrDefault("Visits")} visits, {rows} rows, {photos} photo{(photos == 1 ? "" : "s")}, as of {manifest.MadeAt:yyyy-MM-dd HH:mm:ss} UTC."));
        if (bookBefore is not null)
            terminal.Output.WriteLine($"The book before is kept as {bookBefore}.");
        return ExitCode.Done;
    }

    private static int Try(ITerminal terminal, Func<int> work)
    {
        try
        {
            return work();
        }
        catch (BackupRefusedException e)
        {
            terminal.Error.WriteLine(e.Message);
            return ExitCode.WorkRefused;
        }
    }

    private static T Run<T>(Task<T> task) => task.GetAwaiter().GetResult();
}
