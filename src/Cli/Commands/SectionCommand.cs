using System.CommandLine;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;
using Whetwright.Formats;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>section: what a change of angle costs in steel.</summary>
internal static class SectionCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("section.json") { Description = "The section as found and as wanted; - reads standard input." };
        CommonOptions common = new();
        Command command = new("section",
            "Section before and after: facet widths, steel and height lost, growth behind the edge.\n\n"
            + "  whetwright section samples/sections/dull-to-13.json\n"
            + "  echo '{\"behindEdgeMm\":0.35,\"primaryHalfDeg\":2.2,\"landMm\":0.03,\"old\":{\"leftDeg\":15,\"rightDeg\":15},\n"
            + "         \"new\":{\"leftDeg\":13,\"rightDeg\":13},\"chipMm\":0.2,\"lengthMm\":220}' | whetwright section - --json\n\n"
            + "Even at its own angle a dull edge costs steel. A new facet steeper than the old one must say what for:\n"
            + "\"until\": \"apex\" (clean apex), \"micro\" (with microWidthMm) or \"full\" (nothing of the old facet left).")
        {
            file,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string path = parsed.GetValue(file)!;
            SectionInput input = InputFile.Read(terminal, path, SectionFormat.Read);
            SectionOutcome outcome = Evaluate(path, input);
            if (outcome is SectionOutcome.Refused refused)
                return Refusal.Show(terminal, choice, refused.Reasons);
            SectionResult result = ((SectionOutcome.Computed)outcome).Result;
            EdgeRatios ratios = EdgeRatios.Of(input.Old, input.New);
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    SectionChangeResult.Write(json, result, ratios);
                    if (choice.Explain)
                        json.Derivations(Chain(result, ratios));
                }));
                return ExitCode.Done;
            }

            SectionTables.Write(terminal.Output, choice.Display, result, ratios);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, Chain(result, ratios));
            return ExitCode.Done;
        });
        return command;
    }

    private static IReadOnlyList<Derivation> Chain(SectionResult result, EdgeRatios ratios) =>
        [.. SectionExplanation.Explain(result), .. EdgeRatiosExplanation.Explain(ratios, result.Input.Old, result.Input.New)];

    internal static SectionOutcome Evaluate(string path, SectionInput input)
    {
        try
        {
            return SectionChange.Evaluate(input);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException($"{path}: {ReadCommand.Plain(e)}");
        }
    }
}
