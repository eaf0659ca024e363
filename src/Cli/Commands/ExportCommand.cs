using System.CommandLine;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Records.Csv;

namespace Whetwright.Cli.Commands;

/// <summary>export: everything in the book as tables of text.</summary>
internal static class ExportCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string> to = new("--out") { Description = "Folder for the tables, or a file that ends in .zip.", HelpName = "folder|file.zip", Required = true };
        BookFolder folder = new();
        Command command = new("export",
            "Write everything in the book as CSV, one table per kind of row, corrected facts too.\n\n"
            + "  whetwright export --out tables\n\n"
            + "Times are UTC, lengths millimetres, angles degrees, money the currency's smallest unit. Text that a spreadsheet would run as\n"
            + "a formula has an apostrophe in front.")
        {
            to,
        };
        folder.AddTo(command);
        command.SetAction(parsed =>
        {
            string place = Path.GetFullPath(parsed.GetValue(to)!);
            using ServiceProvider services = folder.Services(parsed, mustExist: true);
            BookExport export = services.GetRequiredService<BookExport>();
            if (place.EndsWith(".zip", StringComparison.OrdinalIgnoreCase))
                Zip(export, place);
            else
                export.ToFolderAsync(place).GetAwaiter().GetResult();
            terminal.Output.WriteLine($"Written: {place}");
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>Under another name until it is whole.</summary>
    private static void Zip(BookExport export, string place)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(place)!);
        string coming = $"{place}.{Guid.NewGuid():N}.coming";
        try
        {
            using (FileStream file = File.Create(coming))
                export.ToZipAsync(file).GetAwaiter().GetResult();
            File.Move(coming, place, overwrite: true);
        }
        finally
        {
            File.Delete(coming);
        }
    }
}
