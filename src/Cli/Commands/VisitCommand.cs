using System.CommandLine;
using Whetwright.Cli.Photos;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Blades;
using Whetwright.Core.Fixtures;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Visits;
using Whetwright.Formats;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>visit: everything for one piece.</summary>
internal static class VisitCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string> file = new("visit.json") { Description = "Names the blade, marks or photos, instrument and rig files (relative to itself) and the wish." };
        Option<string> into = new("--out") { Description = "Folder for the bench sheet (PDF, HTML) and the JSON.", HelpName = "DIR", DefaultValueFactory = _ => "out" };
        CommonOptions common = new();
        Command command = new("visit",
            "Everything for one piece: the reading, the clamp and its bound, what to dial from how the rig stands now, the angle along the\n"
            + "edge, the section before and after, steel lost, the pen test to expect; and the bench sheet as PDF and HTML.\n\n"
            + "  whetwright visit samples/kitchen-knife/visit.json --out out\n"
            + "  whetwright visit visit.json --json --explain")
        {
            file, into,
        };
        common.AddTo(command);
        command.SetAction(parsed => Run(terminal, common.Read(parsed), parsed.GetValue(file)!, parsed.GetValue(into)!));
        return command;
    }

    private static int Run(ITerminal terminal, CommonChoice choice, string path, string folder)
    {
        VisitFile visit = InputFile.Read(terminal, path, VisitFormat.Read);
        string home = path == "-" ? "." : Path.GetDirectoryName(Path.GetFullPath(path))!;
        Blade blade = InputFile.Read(terminal, Path.Combine(home, visit.Blade), BladeFormat.Read);
        Rig rig = InputFile.Read(terminal, Path.Combine(home, visit.Rig), RigFormat.Read);
        BenchMarks? marks = Marks(terminal, visit, home, blade);
        CombinedReading? reading = visit.Photos is not null ? VisitPhotoReading.Read(terminal, visit, home, blade)
            : marks is null ? null : ReadCommand.Combine(Path.Combine(home, visit.Marks!), marks);
        terminal.Error.WriteLine("Looking for the best clamp …");
        VisitPlan plan = VisitPlan.Make(blade, reading, rig, visit.Wish);
        string reference = visit.Reference ?? (path == "-" ? "visit" : Path.GetFileNameWithoutExtension(path));
        IReadOnlyList<Derivation> chain = choice.Explain ? plan.Explain(marks is null ? null : BenchReading.Observations(marks).SetUp) : [];
        List<string> files = [];
        bool hasSheet = !plan.Refused && plan.Setting is { Clamps.Count: > 0 };
        if (hasSheet)
        {
            files = [Path.Combine(folder, "bench-sheet.pdf"), Path.Combine(folder, "bench-sheet.html"), Path.Combine(folder, "visit.json")];
            SheetFiles.Write(plan, visit, reference, choice.Display.Unit == LengthUnit.Inch, files[0], files[1]);
        }

        string json = JsonResults.Document(writer =>
        {
            VisitResult.Write(writer, plan, reference, files);
            if (choice.Explain)
                writer.Derivations(chain);
        });
        if (hasSheet)
            AtomicFile.Write(files[2], json);
        if (choice.Json)
            terminal.Output.Write(json);
        else
            VisitTables.Write(terminal.Output, choice.Display, plan, visit, reference, files);
        if (!choice.Json && choice.Explain)
            DerivationText.Write(terminal.Output, chain);
        if (!plan.Refused)
            return ExitCode.Done;
        ReasonList.Write(terminal.Error, "Refused:", plan.Refusals);
        return ExitCode.WorkRefused;
    }

    private static BenchMarks? Marks(ITerminal terminal, VisitFile visit, string home, Blade blade)
    {
        if (visit.Marks is not { } path)
            return null;
        BenchMarks marks = InputFile.Read(terminal, Path.Combine(home, path), MarksFormat.Read);
        Instrument? instrument = visit.Instrument is { } i ? InputFile.Read(terminal, Path.Combine(home, i), InstrumentFormat.Read) : null;
        return marks with { Instrument = instrument, HasBack = blade.Reference == AngleReference.Back };
    }
}
