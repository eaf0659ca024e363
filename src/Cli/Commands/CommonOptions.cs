using System.CommandLine;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Quantities;

namespace Whetwright.Cli.Commands;

/// <summary>The options that every verb has.</summary>
internal sealed class CommonOptions
{
    private readonly Option<bool> json = new("--json") { Description = "Print one JSON document on standard output instead of tables." };
    private readonly Option<bool> explain = new("--explain") { Description = "Print how each number came to be: formula, source, inputs, partial derivatives, method version." };
    private readonly Option<string> units = new("--units") { Description = "Display unit of lengths: mm or in. Files stay in millimetres and degrees.", HelpName = "mm|in", DefaultValueFactory = _ => "mm" };

    public void AddTo(Command command)
    {
        units.AcceptOnlyFromAmong("mm", "in");
        command.Options.Add(json);
        command.Options.Add(explain);
        command.Options.Add(units);
    }

    public CommonChoice Read(ParseResult parsed) => new(
        parsed.GetValue(json),
        parsed.GetValue(explain),
        new Display(parsed.GetValue(units) == "in" ? LengthUnit.Inch : LengthUnit.Millimetre));
}

/// <summary>What was chosen.</summary>
internal sealed record CommonChoice(bool Json, bool Explain, Display Display);
