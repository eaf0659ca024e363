using System.CommandLine;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Sections;
using Whetwright.Formats;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>reshape: profile repair before any promise is made.</summary>
internal static class ReshapeCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("reshape.json") { Description = "The outline and the repair; - reads standard input." };
        CommonOptions common = new();
        Command command = new("reshape",
            "Profile repair: new outline from old, the gap along the edge, steel and time, before any promise is made.\n\n"
            + "  whetwright reshape samples/reshape/broken-tip.json\n\n"
            + "\"repair\" is one of broken-tip-from-spine, broken-tip-from-edge, full-bolster, over-ground-heel, board-gap, chip-run-out.")
        {
            file,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string path = parsed.GetValue(file)!;
            ReshapeInput input = InputFile.Read(terminal, path, ReshapeFormat.Read);
            ReshapeOutcome outcome;
            try
            {
                outcome = Reshape.Evaluate(input);
            }
            catch (ArgumentException e)
            {
                throw new InputRefusedException($"{path}: {ReadCommand.Plain(e)}");
            }

            if (outcome is ReshapeOutcome.Refused refused)
                return Refusal.Show(terminal, choice, refused.Reasons);
            ReshapeResult result = ((ReshapeOutcome.Repaired)outcome).Result;
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    ReshapedResult.Write(json, result);
                    if (choice.Explain)
                        json.Derivations(ReshapeExplanation.Explain(input, result));
                }));
                return ExitCode.Done;
            }

            Write(terminal.Output, choice.Display, result);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, ReshapeExplanation.Explain(input, result));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(TextWriter output, Display display, ReshapeResult result)
    {
        output.WriteLine("Profile repair");
        TextTable facts = new("what", "value");
        facts.Row("largest gap to the old edge", display.Mm(result.WorstGapMm));
        facts.Row("length lost", display.Mm(result.LengthLostMm));
        facts.Row("steel off", $"{Display.Number(result.RemovedMm3, 0)} mm³");
        facts.Row("time", $"{Display.Number(result.MinutesFrom, 0)} to {Display.Number(result.MinutesTo, 0)} min (an estimate)");
        facts.Write(output);
        output.WriteLine();
        TextTable gaps = new("along the chord", "gap");
        int step = Math.Max(1, result.Gaps.Count / 12);
        for (int i = 0; i < result.Gaps.Count; i += step)
            gaps.Row(display.Mm(result.Gaps[i].AtMm, 1), display.Mm(result.Gaps[i].GapMm));
        gaps.Write(output);
        ReasonList.Write(output, "Mind", result.Notes);
    }
}
