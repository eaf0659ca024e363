using System.CommandLine;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.PenTest;
using Whetwright.Formats;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>touch: the pen test both ways.</summary>
internal static class TouchCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("touch.json") { Description = "Facet and rig; - reads standard input." };
        CommonOptions common = new();
        Command command = new("touch",
            "Pen test: ink on the facet, one light touch, and where the ink goes; or, from the strip seen, how far the setting is off.\n\n"
            + "  whetwright touch samples/touch/too-flat.json\n"
            + "  echo '{\"oldDeg\":15,\"setDeg\":13,\"widthMm\":0.7,\"wheelDiameterMm\":250}' | whetwright touch - --json\n"
            + "  echo '{\"oldDeg\":15,\"widthMm\":0.7,\"wheelDiameterMm\":250,\"seenBandMm\":[0.5,0.7]}' | whetwright touch -\n\n"
            + "oldRadiusMm is the old facet's radius: hollow positive, convex negative, null flat. wheelDiameterMm null is a flat stone.")
        {
            file,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string path = parsed.GetValue(file)!;
            TouchQuestion question = InputFile.Read(terminal, path, TouchFormat.Read);
            try
            {
                return question.Seen is { } seen
                    ? Inverse(terminal, choice, question.Input, seen)
                    : Forward(terminal, choice, Touch.Forecast(question.Input));
            }
            catch (ArgumentException e)
            {
                throw new InputRefusedException($"{path}: {ReadCommand.Plain(e)}");
            }
        });
        return command;
    }

    private static int Forward(ITerminal terminal, CommonChoice choice, TouchForecast forecast)
    {
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                TouchTestResult.Write(json, forecast);
                if (choice.Explain)
                    json.Derivations(Touch.Explain(forecast));
            }));
            return ExitCode.Done;
        }

        TextWriter output = terminal.Output;
        output.WriteLine("Pen test to expect");
        output.WriteLine($"  first touch: {TouchTestResult.Word(forecast.FirstTouch)}");
        output.WriteLine($"  ink goes from {choice.Display.Mm(forecast.Band.FromMm)} to {choice.Display.Mm(forecast.Band.ToMm)} from the apex, of a facet {choice.Display.Mm(forecast.Input.WidthMm)} wide");
        if (forecast.SecondBand is { } second)
            output.WriteLine($"  and from {choice.Display.Mm(second.FromMm)} to {choice.Display.Mm(second.ToMm)}: the abrasive bridges the hollow");
        ReasonList.Write(output, "Mind", forecast.Notes);
        if (choice.Explain)
            DerivationText.Write(output, Touch.Explain(forecast));
        return ExitCode.Done;
    }

    private static int Inverse(ITerminal terminal, CommonChoice choice, TouchInput input, InkBand seen)
    {
        TouchFinding finding = PenTestReading.Read(input, seen);
        if (finding is TouchFinding.Refused refused)
            return Refusal.Show(terminal, choice, [refused.Reason]);
        var off = (TouchFinding.Off)finding;
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                TouchTestResult.Write(json, off);
                if (choice.Explain)
                    json.Derivations(PenTestReading.Explain(input, seen, off));
            }));
            return ExitCode.Done;
        }

        terminal.Output.WriteLine("What the strip says");
        terminal.Output.WriteLine($"  setting minus facet: {Display.Deg(off.FromDeg)} to {Display.Deg(off.ToDeg)} (positive: too steep)");
        terminal.Output.WriteLine($"  {off.Advice}");
        terminal.Output.WriteLine($"  allowed for: an advance of {choice.Display.Mm(off.AdvanceFromMm, 4)} to {choice.Display.Mm(off.AdvanceToMm, 4)} (a guess), either end misread by {choice.Display.Mm(off.ReadingMm)}");
        if (choice.Explain)
            DerivationText.Write(terminal.Output, PenTestReading.Explain(input, seen, off));
        return ExitCode.Done;
    }
}
