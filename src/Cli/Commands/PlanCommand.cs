using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Abrasives;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>plan: the chain of abrasives of least time.</summary>
internal static class PlanCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("plan.json") { Description = "The abrasives owned and the steel to take off; - reads standard input." };
        CommonOptions common = new();
        Command command = new("plan",
            "The abrasives in order, of least total time over what the shop owns, with passes per side and when to stop and look.\n\n"
            + "  whetwright plan samples/plan/three-wheels.json\n"
            + "  whetwright section samples/sections/dull-to-13.json --json     says the areaMm2 to take off (removedMm2)\n\n"
            + "Each abrasive has a system (fepa-f, fepa-p, jis, cami, or um for micrometres), its grade as marked, areaPerPassMm2 (a guess) and changeMinutes;\n"
            + "learnt:[{areaMm2, passes}] replaces the guess by visits of the log. wheelDiameterMm, rpm and markedLimitMs check the wheel's speed:\n"
            + "one beyond its mark is left out. maxRatio is the largest step from one grain to the next.")
        {
            file,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            PlanQuestion question = InputFile.Read(terminal, parsed.GetValue(file)!, PlanFormat.Read);
            AbrasivePlan plan = AbrasivePlanner.Plan(question.Owned, question.Task);
            if (plan.Refusals.Count > 0)
                return Refusal.Show(terminal, choice, plan.Refusals);
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    PlanResult.Write(json, plan);
                    if (choice.Explain)
                        json.Derivations(AbrasiveExplanation.Explain(plan, question.Task));
                }));
                return ExitCode.Done;
            }

            Show(terminal.Output, plan);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, AbrasiveExplanation.Explain(plan, question.Task));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Show(TextWriter output, AbrasivePlan plan)
    {
        output.WriteLine("Abrasives in order");
        TextTable table = new("abrasive", "d50 µm", "passes left", "right", "fewest to most", "minutes", "rate");
        foreach (AbrasiveStage s in plan.Stages)
        {
            table.Row(s.Abrasive.Name, Display.Number(s.Abrasive.D50Um, 1), s.PassesLeft.ToString(CultureInfo.InvariantCulture), s.PassesRight.ToString(CultureInfo.InvariantCulture),
                string.Create(CultureInfo.InvariantCulture, $"{s.PassesRange.Fewest} to {s.PassesRange.Most}"), Display.Number(s.Minutes, 1), s.Abrasive.Rate.Origin);
        }

        table.Write(output);
        output.WriteLine();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {plan.Minutes:0.#} min in all; with every rate at the ends of its 95 % interval {plan.MinutesRange.Least:0.#} to {plan.MinutesRange.Most:0.#}"));
        ReasonList.Write(output, "Stop and look", plan.Stages.SelectMany(s => s.Stops.GroupBy(t => (t.FromPass, t.ToPass, t.Text)).Select(g =>
            $"{s.Abrasive.Name}, {string.Join(" and ", g.Select(t => JsonResults.Word(t.Side)))}, {Passes(g.Key.FromPass, g.Key.ToPass)}: {g.Key.Text}")));
        ReasonList.Write(output, "Mind", plan.Notes);
    }

    private static string Passes(int from, int to) => from == to
        ? string.Create(CultureInfo.InvariantCulture, $"before pass {from}")
        : string.Create(CultureInfo.InvariantCulture, $"passes {from} to {to}");
}
