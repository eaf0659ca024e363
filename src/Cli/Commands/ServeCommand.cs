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
            Description = "Addresses to serve at, several with a semicolon between. Beyond this machine every device signs in, and a passphrase must be set before.",
            HelpName = "URL",
            DefaultValueFactory = _ => [ServeOptions.DefaultUrl],
            AllowMultipleArgumentsPerToken = true,
        };
        Option<string[]> hosts = new("--host") { Description = "A name under which other devices open the shop, beside its address in figures.", HelpName = "NAME", AllowMultipleArgumentsPerToken = true };
        Option<string> signIn = new("--sign-in") { Description = "'network': whoever sits at this machine is the master where nobody else can reach the shop. 'always': everybody signs in; needed behind a proxy or a tunnel.", DefaultValueFactory = _ => "network" };
        signIn.AcceptOnlyFromAmong("network", "always");
        Option<string?> certificate = new("--certificate") { Description = "PKCS #12 file (.pfx) with certificate and key, for https addresses.", HelpName = "file" };
        Option<string?> password = new("--certificate-password-file") { Description = "File whose first line is the certificate's password.", HelpName = "file" };
        Option<string?> telemetry = new("--telemetry") { Description = "Send metrics and traces there by OpenTelemetry's protocol (OTLP over HTTP). Nothing is sent without.", HelpName = "URL" };
        Command command = new("serve",
            "The shop in the browser: counter, rack, bench, book. Runs until Ctrl+C.\n\n"
            + "  whetwright serve --data ./shop\n"
            + "  whetwright serve --data ./shop --urls http://127.0.0.1:8080\n\n"
            + "For the shop's network (docs/security.md):\n"
            + "  whetwright passphrase --data ./shop\n"
            + "  whetwright serve --data ./shop --urls https://0.0.0.0:5210 --certificate shop.pfx --certificate-password-file shop.txt")
        {
            data,
            urls,
            book,
            hosts,
            signIn,
            certificate,
            password,
            telemetry,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            ServeOptions options = new(
                parsed.GetValue(data)!,
                [.. parsed.GetValue(urls)!.SelectMany(u => u.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))])
            {
                Book = parsed.GetValue(book),
                AlwaysSignIn = parsed.GetValue(signIn) == "always",
                Hosts = parsed.GetValue(hosts) ?? [],
                CertificateFile = parsed.GetValue(certificate),
                CertificatePasswordFile = parsed.GetValue(password),
                Telemetry = Address(parsed.GetValue(telemetry)),
            };
            try
            {
                _ = options.LoopbackOnly;
            }
            catch (FormatException e)
            {
                throw new InputRefusedException($"--urls: {e.Message}");
            }

            await ServeAgain.ServeAsync(() => BuildAsync(options), app => SayAsync(app, options, terminal), cancellationToken);
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
        catch (ServeRefusedException e)
        {
            throw new InputRefusedException(e.Message);
        }
        catch (FormatException e)
        {
            throw new InputRefusedException(e.Message);
        }
        catch (Exception e) when (Records.ServerAway.Said(e) is { } said)
        {
            throw new InputRefusedException($"--book: the server is away or does not let us in ({said}); one that runs, and a user it knows, would be right");
        }
    }

    private static async Task SayAsync(WebApplication app, ServeOptions options, ITerminal terminal)
    {
        foreach (string url in app.Urls)
            await terminal.Output.WriteLineAsync($"Whetwright is served at {url}");
        await terminal.Output.WriteLineAsync("Ctrl+C ends it.");
        await terminal.Output.FlushAsync();
        if (!options.LoopbackOnly && options.CertificateFile is null)
            await terminal.Error.WriteLineAsync("Mind: without a certificate (https) whoever shares the network can read along, sign-ins too. See docs/security.md.");
    }

    private static Uri? Address(string? typed) => typed is null ? null
        : Uri.TryCreate(typed, UriKind.Absolute, out Uri? uri) && uri.Scheme is "http" or "https" ? uri
        : throw new InputRefusedException($"--telemetry: '{typed}' is not an address; http://127.0.0.1:4318 would be right");
}
