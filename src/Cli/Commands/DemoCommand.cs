using System.CommandLine;
using System.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using Whetwright.Cli.Terminal;
using Whetwright.Records;
using Whetwright.Records.Sqlite;
using Whetwright.Workbench.Demo;

namespace Whetwright.Cli.Commands;

/// <summary>demo: an invented shop in a folder of its own.</summary>
internal static class DemoCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string> data = new("--data") { Description = "Folder to fill; it must hold no book yet.", HelpName = "DIR", Required = true };
        Command command = new("demo",
            "Fill an invented shop (every page of it says so): some 40 owners, 90 pieces, two years of visits with readings, settings, passes, checks and\n"
            + "payments, three rigs, wheels wearing and dressed.\n\n"
            + "  whetwright demo --data ./demo && whetwright serve --data ./demo")
        {
            data,
        };
        command.SetAction(async (parsed, cancel) =>
        {
            string folder = Path.GetFullPath(parsed.GetValue(data)!);
            if (File.Exists(folder))
                throw new InputRefusedException($"--data is {folder}: that is a file; a folder, or a name that is free, would be right");
            if (File.Exists(Path.Combine(folder, SqliteBook.FileName)))
                throw new InputRefusedException($"--data is {folder}: there is a book in it already, and it stays as it is; an empty folder would be right");
            // Made beside it and put in place whole: a demo that was stopped half-way leaves nothing behind.
            string making = folder.TrimEnd(Path.DirectorySeparatorChar) + $".making-{Guid.NewGuid().ToString("N")[..6]}";
            Stopwatch watch = Stopwatch.StartNew();
            try
            {
                DemoMade made = await FillAsync(making, terminal, cancel);
                Directory.CreateDirectory(folder);
                foreach (string entry in Directory.EnumerateFileSystemEntries(making))
                    Directory.Move(entry, Path.Combine(folder, Path.GetFileName(entry)));
                await terminal.Output.WriteLineAsync(FormattableString.Invariant(
                    $"Invented: {made.Owners} owners, {made.Pieces} pieces, {made.Visits} visits, {made.Here} of them here now ({watch.Elapsed.TotalSeconds:0} s).\nSee it:   whetwright serve --data {folder}"));
                return ExitCode.Done;
            }
            finally
            {
                if (Directory.Exists(making))
                    Directory.Delete(making, recursive: true);
            }
        });
        return command;
    }

    private static async Task<DemoMade> FillAsync(string folder, ITerminal terminal, CancellationToken cancel)
    {
        DemoClock clock = new();
        await using ServiceProvider services = new ServiceCollection().AddSingleton<TimeProvider>(clock).AddBook(folder).BuildServiceProvider();
        await services.OpenBookAsync(cancel);
        return await new DemoShop(services, clock, TimeProvider.System.GetUtcNow().UtcDateTime).FillAsync(line => terminal.Error.WriteLine(line), cancel);
    }
}
