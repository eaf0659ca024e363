using System.CommandLine;
using Microsoft.AspNetCore.Builder;
using Whetwright.Cli.Terminal;
using Whetwright.Web.Serving;

namespace Whetwright.Cli.Commands;

/// <summary>serve: the shop in the browser.</summary>
internal static class ServeCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string> data = new("--data") { Description = "Folder of the book, its photos and keys; made where it is missing.", HelpName = "DIR", Required = true };
        Option<string?> book = new("--book")
        {
            Description = $"A PostgreSQL database that several stations share, instead of a file in the folder (or {Records.BookSettings.Variable} in the environment, or \"book\" in the folder's {Records.BookSettings.FileName}).",
            HelpName = "Host=…;Database=…",
        };
        Option<string[]> urls = new("--urls")
        {
            Description = "Addresses to serve at, several with a semicolon between. Beyond this machine anyone on the network can read and change the book.",
            HelpName = "URL",
            DefaultValueFactory = _ => [ServeOptions.DefaultUrl],
            AllowMultipleArgumentsPerToken = true,
        };
        Command command = new("serve",
            "The shop in the browser: counter, rack, bench, book. Runs until Ctrl+C.\n\n"
            + "  whetwright serve --data ./shop\n"
            + "  whetwright serve --data ./shop --urls http://127.0.0.1:8080")
        {
            data,
            urls,
            book,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            ServeOptions options = new(
                parsed.GetValue(data)!,
                [.. parsed.GetValue(urls)!.SelectMany(u => u.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))])
            {
                Book = parsed.GetValue(book),
            };
            bool loopback;
            try
            {
                loopback = options.LoopbackOnly;
            }
            catch (FormatException e)
            {
                throw new InputRefusedException($"--urls: {e.Message}");
            }

            await ServeAgain.ServeAsync(() => BuildAsync(options), app => SayAsync(app, loopback, terminal), cancellationToken);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task<WebApplication> BuildAsync(ServeOptions options)
    {
        try
        {
            return await WebShop.BuildAsync(options);
        }
        catch (FormatException e)
        {
            throw new InputRefusedException(e.Message);
        }
        catch (System.Data.Common.DbException e) when (e.SqlState is not null || e.InnerException is System.Net.Sockets.SocketException)
        {
            throw new InputRefusedException($"--book: the server does not let us in: {e.Message}");
        }
    }

    private static async Task SayAsync(WebApplication app, bool loopback, ITerminal terminal)
    {
        foreach (string url in app.Urls)
            await terminal.Output.WriteLineAsync($"Whetwright is served at {url}");
        await terminal.Output.WriteLineAsync("Ctrl+C ends it.");
        await terminal.Output.FlushAsync();
        if (!loopback)
            await terminal.Error.WriteLineAsync("Mind: this is open to the network. Whoever reaches it can read and change the book.");
    }
}
