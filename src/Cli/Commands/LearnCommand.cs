using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Metrology.Learning;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Workbench.Tables;

namespace Whetwright.Cli.Commands;

/// <summary>learn: what each rig and wheel really grinds against what it was set to.</summary>
internal static class LearnCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("log.csv") { Description = "Table with the columns when, rig, wheel, setDeg, gotDeg, uDeg and perhaps correctionDeg; - reads standard input." };
        CommonOptions common = new();
        Command command = new("learn",
            "Set against got: the bias of each rig and wheel with its uncertainty, steps (rig knocked, wheel moved), and a correction where one stands clear.\n\n"
            + "  whetwright learn samples/learn/log.csv\n\n"
            + "setDeg is what was aimed at, gotDeg what was read afterwards, uDeg the standard uncertainty of that reading (k = 1). correctionDeg is the\n"
            + "correction (got less set) that was in force, empty for none. A wheel with few pieces leans on its rig. Nothing is proposed until the bias\n"
            + "stands clear by three standard uncertainties.")
        {
            file,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            SetGotLog log = InputFile.Read(terminal, parsed.GetValue(file)!, SetGotTable.Read);
            IReadOnlyList<LearntRig> rigs = BiasLearning.Learn(log.Log);
            var chain = rigs.SelectMany(r => r.Wheels.Select(w => BiasLearning.Explain(r, w)));
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    LearnResult.Write(json, rigs, i => log.Lines[i]);
                    if (choice.Explain)
                        json.Derivations(chain);
                }));
                return ExitCode.Done;
            }

            foreach (LearntRig rig in rigs)
                Show(terminal.Output, rig, log);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, chain);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Show(TextWriter output, LearntRig rig, SetGotLog log)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{rig.Rig}: grinds {rig.MeanDeg:+0.00;-0.00}° ± {2 * rig.UDeg:0.00}° (k = 2) against what is set, on average over its wheels"));
        TextTable table = new("wheel", "pieces", "bias", "± k = 2", "correction to take out");
        foreach (LearntWheel w in rig.Wheels)
        {
            table.Row(w.Wheel, w.Pieces.ToString(CultureInfo.InvariantCulture), w.BiasDeg.ToString("+0.00;-0.00", CultureInfo.InvariantCulture) + "°", Display.Deg(2 * w.UDeg),
                w.ProposedCorrectionDeg is { } c ? c.ToString("+0.00;-0.00", CultureInfo.InvariantCulture) + "°" : "none stands clear");
        }

        table.Write(output);
        ReasonList.Write(output, "Steps", rig.Steps.Select(s => string.Create(CultureInfo.InvariantCulture,
            $"about {s.When:yyyy-MM-dd HH:mm} (line {log.Lines[s.At]}): {What(s)} moved by {s.SizeDeg:+0.0;-0.0}° ± {2 * s.SizeUDeg:0.0}° (k = 2); noticed at line {log.Lines[s.NoticedAt]}, {100 * s.Probability:0} % sure today. Look at jig, stops and wheel.")));
        ReasonList.Write(output, "Readings that look wild", rig.Trace.Where(t => t.WildProbability > 0.5).Select(t => string.Create(CultureInfo.InvariantCulture,
            $"line {log.Lines[t.At]}: {t.DifferenceDeg:+0.0;-0.0}° got less set, {100 * t.WildProbability:0} % sure; read again what it was.")));
        output.WriteLine();
    }

    private static string What(StepFound s) => s.Of switch
    {
        StepOf.Rig => "the whole rig",
        StepOf.Wheel => s.Wheel + " alone",
        _ => $"the rig or {s.Wheel} (more pieces will tell)",
    };
}
