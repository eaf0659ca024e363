using Whetwright.Cli.Terminal;

namespace Whetwright.Cli;

internal static class Program
{
    private static int Main(string[] args)
    {
        // What the command line reads and prints is invariant by contract, and loading the cultures' tables costs every verb some milliseconds.
        // Only the pages of `serve` show the shop's culture. Nothing has asked for a culture yet at this point; a process test holds it.
        if (args is not ["serve", ..])
            AppContext.SetSwitch("System.Globalization.Invariant", true);
        using var terminal = new ProcessTerminal();
        return Application.Run(args, terminal);
    }
}
