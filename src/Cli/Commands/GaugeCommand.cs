using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Metrology.Gauges;
using Whetwright.Core.Quantities;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Workbench.Tables;

namespace Whetwright.Cli.Commands;

/// <summary>gauge: a crossed gauge study.</summary>
internal static class GaugeCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("study.csv") { Description = "Table with the columns part, operator, trial, value; - reads standard input." };
        CommonOptions common = new();
        Command command = new("gauge",
            "A gauge study: what the measuring itself adds to the spread. Crossed, balanced or not, by analysis of variance.\n\n"
            + "  whetwright gauge samples/gauge/study.csv\n\n"
            + "Every operator (or instrument) measures every part several times. Repeatability is the same person again, reproducibility the\n"
            + "difference between people, part × operator what they disagree on part by part. Percent study variation does not add up to 100.")
        {
            file,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            IReadOnlyList<GaugeMeasurement> measurements = InputFile.Read(terminal, parsed.GetValue(file)!, GaugeStudyTable.Read);
            if (CrossedStudy.Analyse(measurements, out Reason? reason) is not { } study)
                return Refusal.Show(terminal, choice, [reason!]);
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    GaugeResult.Write(json, study);
                    if (choice.Explain)
                        json.Derivations(study.Explain());
                }));
                return ExitCode.Done;
            }

            Show(terminal.Output, study);
            if (choice.Explain)
                DerivationText.Write(terminal.Output, study.Explain());
            return ExitCode.Done;
        });
        return command;
    }

    private static void Show(TextWriter output, CrossedStudy study)
    {
        output.WriteLine("Analysis of variance");
        TextTable anova = new("source", "sum of squares", "df", "mean square", "F", "p");
        foreach (VarianceLine l in study.Anova)
            anova.Row(l.Source, Number(l.SumOfSquares), l.DegreesOfFreedom.ToString(CultureInfo.InvariantCulture), Number(l.MeanSquare), Number(l.F), Number(l.P));
        anova.Write(output);
        output.WriteLine();
        output.WriteLine(study.InteractionPooled ? "Components (part × operator shows nothing and is pooled with repeatability)" : "Components");
        TextTable shares = new("source", "standard deviation", "% contribution", "% study variation");
        foreach (VarianceShare s in study.Shares)
            shares.Row(s.Source, Number(s.StandardDeviation), Display.Number(s.PercentContribution, 1), Display.Number(s.PercentStudyVariation, 1));
        shares.Write(output);
        output.WriteLine();
        output.WriteLine(double.IsFinite(study.DistinctCategories)
            ? string.Create(CultureInfo.InvariantCulture, $"  Parts can be told apart in {Math.Floor(study.DistinctCategories):0} classes (5 or more are usual for a gauge worth its name: common practice).")
            : "  The gauge shows no scatter at all at this resolution.");
        if (!study.Balanced)
            output.WriteLine("  Not every operator measured every part equally often: the components are estimates by fitted constants.");
    }

    private static string? Number(double? value) => value is { } v && double.IsFinite(v) ? v.ToString("G5", CultureInfo.InvariantCulture) : null;
}
