using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>Shows that the work was refused: the JSON with its reasons is still printed, and the reasons stand on standard error.</summary>
internal static class Refusal
{
    public static int Show(ITerminal terminal, CommonChoice choice, IReadOnlyList<Reason> reasons)
    {
        if (choice.Json)
            terminal.Output.Write(JsonResults.Document(json => json.Refusal(reasons)));
        ReasonList.Write(terminal.Error, "Refused:", reasons);
        return ExitCode.WorkRefused;
    }
}
