using System.CommandLine;
using Whetwright.Cli.Photos;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;
using Whetwright.Workbench;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Commands;

/// <summary>read: from marks to angles.</summary>
internal static class ReadCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string[]> photos = new("PHOTO") { Description = "Photo of the laser's marks on the printed target, JPEG or PNG; several are repeats of one placing.", Arity = ArgumentArity.ZeroOrMore };
        Option<string?> marks = new("--marks") { Description = "Marks read by eye: a marks.json.", HelpName = "marks.json" };
        Option<string?> batch = new("--batch") { Description = "Read every photo, and every sub-folder with a photo.jpg, in a folder; beside NAME.jpg lie NAME_dark.jpg, NAME_off.jpg, NAME_turned.jpg, NAME_turned_dark.jpg. A distances.csv (photo,distanceMm,distanceUMm) or distances.json in it tells the distance photo by photo.", HelpName = "FOLDER" };
        Option<string?> csv = new("--csv") { Description = "The table that --batch writes, one row per photo.", HelpName = "out.csv" };
        Option<string?> instrument = new("--instrument") { Description = "Target, distance and zero as calibrated.", HelpName = "instrument.json" };
        Option<string?> distance = TypedOptions.Make("--distance-mm", "Distance from the edge to the target, where there is no instrument file.", "L");
        Option<string?> distanceU = TypedOptions.Make("--distance-u-mm", "Its standard uncertainty (default: 0.5 % of the distance).", "u");
        PhotoOptions photo = new();
        CommonOptions common = new();
        Command command = new("read",
            "Read the angles of an edge from where a laser's light falls, in photographs of a printed target or by eye.\n\n"
            + "  whetwright read photo.jpg --target target.json --tip up\n"
            + "  whetwright read photo.jpg --dark dark.jpg --turned turned.jpg --target target.json --distance-mm 100 --distance-u-mm 0.2\n"
            + "  whetwright read photo.jpg --target target.json --laser green --beam line --form hollow --annotate seen.png --json\n"
            + "  whetwright read photo.jpg --graduations graduations.json\n"
            + "  whetwright read --batch photos --csv angles.csv --target target.json\n"
            + "  whetwright read --marks marks.json --instrument instrument.json --explain\n\n"
            + "Mount the blade with its edge toward the laser. Photograph the whole target, sharp, in dim light; or note where the light\n"
            + "falls left and right of zero and whether the tip was up or down. Turn the blade end for end and read again, so that the\n"
            + "roll of the holder drops out of the sides. A second photo in the dark, exposed for the marks, makes a hard case surer.\n"
            + "Never look into the beam or its reflection from a polished bevel.")
        {
            photos, marks, batch, csv, instrument, distance, distanceU,
        };
        photo.AddTo(command);
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string[] given = parsed.GetValue(photos) ?? [];
            OneWay(parsed, given, photo, marks, batch, csv);
            Instrument? told = parsed.GetValue(instrument) is { } instrumentPath ? InputFile.Read(terminal, instrumentPath, InstrumentFormat.Read) : null;
            double? mm = parsed.Mm(distance, new Limits(5, 5000)), uMm = parsed.Mm(distanceU, Limits.NotNegative);
            if (parsed.GetValue(marks) is { } path)
                return ByEye(terminal, choice, path, told, mm, uMm);
            if (photo.OtherScale(parsed, terminal, given, told) is { } scale)
                return PhotoRun.OtherScale(terminal, choice, given[0], scale.File, scale.Choice);
            PhotoChoice beside = photo.Choice(parsed, terminal, told, mm, uMm);
            return parsed.GetValue(batch) is { } folder
                ? BatchRun.Run(terminal, choice, folder, parsed.GetValue(csv)!, beside)
                : PhotoRun.Run(terminal, choice, photo.Files(parsed, given), beside, photo.Annotate(parsed, photo.Files(parsed, given).All));
        });
        return command;
    }

    /// <summary>Photos, a folder of them, or marks: one of the three, with the options that go with it.</summary>
    private static void OneWay(ParseResult parsed, string[] photos, PhotoOptions options, Option<string?> marks, Option<string?> batch, Option<string?> csv)
    {
        // A mistyped option would otherwise pass for a photo's name.
        if (Array.Find(photos, p => p.StartsWith('-') && !File.Exists(p)) is { } stray)
        {
            string? near = NearestName.To(stray, parsed.CommandResult.Command.Options.Select(o => o.Name));
            throw new InputRefusedException($"'{stray}' is not known here{(near is null ? "; see whetwright read --help" : $"; did you mean {near}?")}");
        }

        bool byEye = parsed.GetValue(marks) is not null, many = parsed.GetValue(batch) is not null, table = parsed.GetValue(csv) is not null;
        int ways = (photos.Length > 0 ? 1 : 0) + (byEye ? 1 : 0) + (many ? 1 : 0);
        if (ways == 0)
            throw new InputRefusedException("nothing to read; a PHOTO with --target, a folder with --batch, or a marks.json with --marks would be right");
        if (ways > 1)
            throw new InputRefusedException("photos, --batch and --marks exclude each other; one of them would be right");
        if (many != table)
            throw new InputRefusedException(many ? "--csv is missing; the name of the table that --batch writes would be right" : "--csv goes with --batch; a folder of photos would be right");
        string[] foreign = [.. options.Given(parsed).Where(n => byEye || (many && n is "--dark" or "--off" or "--turned" or "--turned-dark" or "--annotate" or "--graduations"))];
        if (foreign.Length > 0)
            throw new InputRefusedException($"{string.Join(", ", foreign)} {(foreign.Length == 1 ? "goes" : "go")} with a PHOTO, not with {(byEye ? "--marks" : "--batch")}");
    }

    private static int ByEye(ITerminal terminal, CommonChoice choice, string path, Instrument? instrument, double? mm, double? uMm)
    {
        BenchMarks typed = InputFile.Read(terminal, path, MarksFormat.Read);
        if (instrument is not null)
            typed = typed with { Instrument = instrument };
        if (mm is { } told)
            typed = typed with { Instrument = InstrumentOnBench.AtDistance(typed.Instrument, told, uMm) };
        CombinedReading reading = Combine(path, typed);
        Show(terminal, choice, reading, () => ReadingTables.Explain(reading, typed));
        return reading.Outcome == ReadingOutcome.Refused ? ExitCode.WorkRefused : ExitCode.Done;
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
    internal static string Plain(ArgumentException e) => Faults.Plain(e);

    internal static void Show(ITerminal terminal, CommonChoice choice, CombinedReading reading, Func<IReadOnlyList<Derivation>> explain)
    {
        if (choice.Json)
        {
            terminal.Output.Write(JsonResults.Document(json =>
            {
                ReadingResult.Write(json, reading);
                if (choice.Explain)
                    json.Derivations(explain());
            }));
            return;
        }

        ReadingTables.Write(terminal.Output, reading);
        if (choice.Explain)
            DerivationText.Write(terminal.Output, explain());
    }
}
