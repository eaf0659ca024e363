using System.CommandLine;
using Whetwright.Cli.Terminal;
using Whetwright.Web.Doors;

namespace Whetwright.Cli.Commands;

/// <summary>passphrase: sets the master's passphrase, at the machine.</summary>
internal static class PassphraseCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string> data = new("--data") { Description = "Folder of the book.", HelpName = "DIR", Required = true };
        Command command = new("passphrase",
            "Set the master's passphrase, which a shop needs before it is opened to the network. It is read from standard input, one line,\n"
            + $"{DoorLimits.ShortestPassphrase} to {DoorLimits.LongestPassphrase} characters; only a hash of it is kept. Whoever had signed in by an older one is asked again.\n\n"
            + "  whetwright passphrase --data ./shop\n"
            + "  whetwright passphrase --data ./shop < passphrase.txt")
        {
            data,
        };
        command.SetAction(parsed =>
        {
            string folder = Path.GetFullPath(parsed.GetValue(data)!);
            if (!Directory.Exists(folder))
                throw new InputRefusedException($"--data: there is no folder '{folder}'; the folder of the book would be right");
            terminal.Error.WriteLine("The new passphrase, then Enter:");
            string typed = terminal.ReadSecretLine() ?? "";
            DoorList doors = new(folder, TimeProvider.System, new DoorLimits());
            if (doors.SetPassphrase(typed) is { } problem)
                throw new InputRefusedException($"The passphrase {problem}");
            terminal.Output.WriteLine("The passphrase is set.");
            return ExitCode.Done;
        });
        return command;
    }
}
