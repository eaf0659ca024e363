using System.CommandLine;
using System.Globalization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Formats.Writing;
using Whetwright.Records;
using Whetwright.Records.Backup;
using Whetwright.Records.Copying;
using Whetwright.Records.Photos;
using Whetwright.Records.Postgres;
using Whetwright.Records.Sqlite;

namespace Whetwright.Cli.Commands;

/// <summary>move-book: from a file to a server that several stations share.</summary>
internal static class MoveBookCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string> data = new("--data") { Description = "Folder that holds the book as a file.", HelpName = "DIR", Required = true };
        Option<string> to = new("--to") { Description = "The PostgreSQL database to move it to: with no book in it; made where it is missing and the user may.", HelpName = "Host=…;Database=…", Required = true };
        Option<string?> photos = new("--photos") { Description = "Folder for the photos that all stations reach; without it they stay where they are.", HelpName = "DIR" };
        CommonOptions common = new();
        Command command = new("move-book",
            "Copy a book from a file into a PostgreSQL database, whole or not at all, and prove it: every table's count and the hash of all its values are\n"
            + "compared on both sides before anything is kept, every photo is read back. The book it came from stays as it is. Stop the program that serves it first.\n\n"
            + "  whetwright move-book --data ./shop --to \"Host=server;Database=shop;Username=shop;Password=…\"")
        {
            data, to, photos,
        };
        common.AddTo(command);
        command.SetAction(async (parsed, cancel) =>
        {
            CommonChoice choice = common.Read(parsed);
            string folder = Path.GetFullPath(parsed.GetValue(data)!);
            if (!File.Exists(Path.Combine(folder, SqliteBook.FileName)))
                throw new InputRefusedException($"--data is {folder}: a folder that holds a book ({SqliteBook.FileName}) would be right");
            string? shared = parsed.GetValue(photos) is { } given ? Path.GetFullPath(given) : null;
            await using ServiceProvider from = BookFolder.Services(new BookOptions { DataFolder = folder }, open: true);
            await using ServiceProvider there = BookFolder.Services(new BookOptions { DataFolder = folder, Store = BookStore.Postgres, ConnectionString = parsed.GetValue(to), PhotoFolder = shared }, open: true);
            try
            {
                Moved moved = await BookMove.MoveAsync(
                    from.GetRequiredService<IDbContextFactory<BookContext>>(), from.GetRequiredService<IPhotoShelf>(),
                    there.GetRequiredService<IDbContextFactory<BookContext>>(), there.GetRequiredService<IPhotoShelf>(), cancel);
                Say(terminal, choice, moved, shared, folder);
                return ExitCode.Done;
            }
            catch (BackupRefusedException e)
            {
                await terminal.Error.WriteLineAsync(e.Message);
                return ExitCode.WorkRefused;
            }
        });
        return command;
    }

    private static void Say(ITerminal terminal, CommonChoice choice, Moved moved, string? photos, string folder)
    {
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                json.WriteNumber("photos", moved.Photos);
                json.WriteStartArray("tables");
                foreach (TableDigest table in moved.Tables)
                {
                    json.WriteStartObject();
                    json.WriteString("table", table.Table);
                    json.WriteNumber("rows", table.Rows);
                    json.WriteString("sha256", table.Sha256);
                    json.WriteEndObject();
                }

                json.WriteEndArray();
            }));
            return;
        }

        foreach (TableDigest table in moved.Tables.Where(t => t.Rows > 0))
            terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{table.Table,-16} {table.Rows,8} rows, same hash on both sides {table.Sha256[..12]}…"));
        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Moved: {moved.Tables.Sum(t => t.Rows)} rows, {moved.Photos} photos read back."));
        terminal.Output.WriteLine($"Each station's data folder now gets a {BookSettings.FileName}: {{\"book\": \"Host=…\"{(photos is null ? "" : $", \"photos\": \"{photos}\"")}}}. The file {SqliteBook.FileName} in {folder} is as it was; put it away once the stations work.");
    }
}
