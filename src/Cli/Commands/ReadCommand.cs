using System.CommandLine;
using Whetwright.Cli.Terminal;
using Whetwright.Cli.Tables;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>read: from marks to angles.</summary>
internal static class ReadCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string?> marks = new("--marks") { Description = "Marks read by eye: a marks.json.", HelpName = "marks.json" };
        Option<string?> instrument = new("--instrument") { Description = "Target, distance and zero as calibrated.", HelpName = "instrument.json" };
        Option<string?> distance = TypedOptions.Make("--distance-mm", "Distance from the edge to the target, where there is no instrument file.", "L");
        Option<string?> distanceU = TypedOptions.Make("--distance-u-mm", "Its standard uncertainty (default: 0.5 % of the distance).", "u");
        CommonOptions common = new();
        Command command = new("read",
            "Read the angles of an edge from where a laser's light falls.\n\n"
            + "  whetwright read --marks marks.json\n"
            + "  whetwright read --marks marks.json --instrument instrument.json --json\n"
            + "  whetwright read --marks marks.json --distance-mm 100 --explain\n\n"
            + "Mount the blade with its edge toward the laser, note where the light falls left and right of zero and whether the tip\n"
            + "was up or down; turn it end for end and read again, so that the roll of the holder drops out of the sides.\n"
            + "Never look into the beam or its reflection from a polished bevel.")
        {
            marks, instrument, distance, distanceU,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string path = parsed.GetValue(marks) ?? throw new InputRefusedException("--marks is missing; the path of a marks.json would be right");
            BenchMarks typed = InputFile.Read(terminal, path, MarksFormat.Read);
            if (parsed.GetValue(instrument) is { } instrumentPath)
                typed = typed with { Instrument = InputFile.Read(terminal, instrumentPath, InstrumentFormat.Read) };
            if (parsed.Mm(distance, new Limits(5, 5000)) is { } mm)
                typed = typed with { Instrument = AtDistance(typed.Instrument, mm, parsed.Mm(distanceU, Limits.NotNegative)) };
            CombinedReading reading = Combine(path, typed);
            Show(terminal, choice, reading, typed);
            return reading.Outcome == ReadingOutcome.Refused ? ExitCode.WorkRefused : ExitCode.Done;
        });
        return command;
    }

    /// <summary>Combines typed marks; what cannot be is wrong input.</summary>
    internal static CombinedReading Combine(string path, BenchMarks typed)
    {
        try
        {
            return BenchReading.Combine(typed);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException($"{path}: {Plain(e)}");
        }
    }

    /// <summary>The message of an exception without the parameter's name that the base library adds.</summary>
    internal static string Plain(ArgumentException e)
    {
        string message = e.Message;
        int at = message.IndexOf(" (Parameter '", StringComparison.Ordinal);
        string text = at < 0 ? message : message[..at];
        return e is ArgumentOutOfRangeException { ActualValue: { } value, ParamName: { } name } ? $"{name} is {FormattableString.Invariant($"{value}")}: {text}" : text;
    }

    private static Instrument AtDistance(Instrument? given, double mm, double? uMm)
    {
        ReadingAssumptions assumed = ReadingAssumptions.Default;
        MeasuredLength distance = MeasuredLength.FromMillimetres(mm, uMm ?? mm * assumed.DistanceRelativeUncertainty);
        return given is null
            ? new(distance, MeasuredLength.FromMillimetres(0, mm * assumed.ZeroRelativeUncertainty))
            : given with { Distance = distance };
    }

    private static void Show(ITerminal terminal, CommonChoice choice, CombinedReading reading, BenchMarks typed)
    {
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                ReadingResult.Write(json, reading);
                if (choice.Explain)
                    json.Derivations(ReadingTables.Explain(reading, typed));
            }));
            return;
        }

        ReadingTables.Write(terminal.Output, reading);
        if (choice.Explain)
            DerivationText.Write(terminal.Output, ReadingTables.Explain(reading, typed));
    }
}
