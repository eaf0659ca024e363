using Whetwright.Cli.Terminal;

namespace Whetwright.Cli;

internal static class Program
{
    private static int Main(string[] args)
    {
        using var terminal = new ProcessTerminal();
        return Application.Run(args, terminal);
    }
}
