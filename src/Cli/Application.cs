using System.CommandLine;
using System.CommandLine.Parsing;
using Whetwright.Cli.Commands;
using Whetwright.Cli.Terminal;
using Whetwright.Formats.Reading;

namespace Whetwright.Cli;

/// <summary>The command line: parses, runs one verb, turns what went wrong into words on standard error and an exit code.</summary>
public static class Application
{
    /// <summary>Runs one command line.</summary>
    /// <returns>One of <see cref="ExitCode"/>.</returns>
    public static int Run(string[] args, ITerminal terminal)
    {
        try
        {
            RootCommand root = Build(terminal);
            ParseResult parsed = root.Parse(args);
            bool helpOrVersion = parsed.Action is System.CommandLine.Help.HelpAction || args.Contains("--version", StringComparer.Ordinal);
            if (!helpOrVersion && (parsed.Errors.Count > 0 || parsed.CommandResult.Command.Action is null))
                return Wrong(parsed, terminal);
            InvocationConfiguration streams = new() { Output = terminal.Output, Error = terminal.Error, EnableDefaultExceptionHandler = false };
            return parsed.Invoke(streams);
        }
        catch (InputRefusedException e)
        {
            foreach (string message in e.Messages)
                terminal.Error.WriteLine(message);
            return ExitCode.WrongInput;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            terminal.Error.WriteLine($"A file could not be read or written: {e.Message}");
            return ExitCode.WrongInput;
        }
#pragma warning disable CA1031 // The edge of the program: whatever is left is our own fault and is said to be so.
        catch (Exception e)
#pragma warning restore CA1031
        {
            terminal.Error.WriteLine("This is our own fault, not yours; please report it with the command and the file that led here.");
            terminal.Error.WriteLine(e);
            return ExitCode.OurFault;
        }
        finally
        {
            terminal.Output.Flush();
        }
    }

    /// <summary>The tree of verbs.</summary>
    public static RootCommand Build(ITerminal terminal)
    {
        RootCommand root = new(
            "Whetwright: from what an edge is to what to dial into the rig, for people who sharpen other people's edges.\n\n"
            + "Start with a whole piece:  whetwright visit samples/kitchen-knife/visit.json --out out\n"
            + "Every verb has its own help with examples:  whetwright set --help\n"
            + "Numbers may be typed 12.5 or 12,5; lengths also 3/8 in or 5.5\"; angles also 12°30′.\n"
            + "Exit codes: 0 done, 2 wrong input or arguments, 3 the work refused (reasons given), 1 our fault.")
        {
            VisitCommand.Make(terminal),
            ReadCommand.Make(terminal),
            InstrumentCommand.Make(terminal),
            TargetCommand.Make(terminal),
            MatCommand.Make(terminal),
            TraceCommand.Make(terminal),
            SetCommand.Make(terminal),
            SectionCommand.Make(terminal),
            ReshapeCommand.Make(terminal),
            TouchCommand.Make(terminal),
            PlanCommand.Make(terminal),
            OrderCommand.Make(terminal),
            GaugeCommand.Make(terminal),
            LearnCommand.Make(terminal),
            ServeCommand.Make(terminal),
            PassphraseCommand.Make(terminal),
            DemoCommand.Make(terminal),
            BackupCommand.Make(terminal),
            BackupCommand.MakeRestore(terminal),
            ExportCommand.Make(terminal),
            ReplayCommand.Make(terminal),
            DoctorCommand.Make(terminal),
            MoveBookCommand.Make(terminal),
            OwnerCommand.Make(terminal),
        };
        return root;
    }

    private static int Wrong(ParseResult parsed, ITerminal terminal)
    {
        Command command = parsed.CommandResult.Command;
        foreach (ParseError error in parsed.Errors.DistinctBy(e => e.Message, StringComparer.Ordinal))
            terminal.Error.WriteLine(error.Message);
        foreach (string token in parsed.UnmatchedTokens.Take(1))
        {
            IEnumerable<string> known = token.StartsWith('-')
                ? command.Options.Concat(parsed.RootCommandResult.Command.Options).Select(o => o.Name)
                : command.Subcommands.Select(c => c.Name);
            if (NearestName.To(token, known) is { } near)
                terminal.Error.WriteLine($"'{token}' is not known here; did you mean {near}?");
        }

        if (parsed.Errors.Count == 0)
            terminal.Error.WriteLine($"Say what to do: {string.Join(", ", command.Subcommands.Select(c => c.Name))}.");
        string path = Path(command);
        terminal.Error.WriteLine($"See: whetwright {path}{(path.Length > 0 ? " " : "")}--help");
        return ExitCode.WrongInput;
    }

    private static string Path(Command command)
    {
        string path = "";
        for (Command? c = command; c is not null and not RootCommand; c = c.Parents.OfType<Command>().FirstOrDefault())
            path = path.Length == 0 ? c.Name : $"{c.Name} {path}";
        return path;
    }
}
