using System.CommandLine;
using Whetwright.Cli.Commands;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>Photographs in place of marks measured by hand, for the calibrations that can take them.</summary>
internal sealed class InstrumentPhotos
{
    /// <summary>Standard uncertainty of the distance between two marks in a photo where nobody tells it: chosen, not derived.</summary>
    private const double SeparationUMm = 0.15;

    private readonly Argument<string[]> photos;
    private readonly Option<string?> target = new("--target") { Description = "The printed target in the photos.", HelpName = "target.json" };
    private readonly Option<string?> laser = new("--laser") { Description = "Colour of the laser (default: found in the photo).", HelpName = "red|green" };

    public InstrumentPhotos(string description) => photos = new("PHOTO") { Description = description, Arity = ArgumentArity.ZeroOrMore };

    public void AddTo(Command command)
    {
        laser.AcceptOnlyFromAmong("red", "green");
        command.Arguments.Add(photos);
        command.Options.Add(target);
        command.Options.Add(laser);
    }

    /// <summary>Whether photos were given; together with typed marks they are refused.</summary>
    public bool Given(ParseResult parsed, params Option[] typed)
    {
        if (parsed.GetValue(photos) is not { Length: > 0 })
            return false;
        Option? both = Array.Find(typed, o => parsed.GetResult(o) is { Implicit: false });
        return both is null ? true : throw new InputRefusedException($"{both.Name} and photos exclude each other; one of the two would be right");
    }

    /// <summary>Where the bare beam fell, true mm right of the target's zero, and the finest step these places tell apart.</summary>
    public (double[] PlacesMm, Length Resolution) BareBeams(ParseResult parsed, ITerminal terminal, Instrument instrument)
    {
        TargetSheet sheet = Sheet(parsed, terminal);
        string[] paths = parsed.GetValue(photos)!;
        double scale = sheet.PrintScale?.Across ?? instrument.PrintScale?.Across ?? 1;
        (double Mm, double UMm)[] seen = [.. paths.Select(p => PhotoJob.BareBeam(p, sheet, parsed.GetValue(laser)))];
        // A rectangular step r has the standard uncertainty r/√12.
        double finest = Math.Sqrt(12) * scale * seen.Max(s => s.UMm);
        return ([.. seen.Select(s => s.Mm * scale)], Length.FromMillimetres(finest));
    }

    /// <summary>Distance between the edge's left and right mark, true mm, before and after the target was moved back.</summary>
    public (MeasuredLength Before, MeasuredLength After) Separations(ParseResult parsed, ITerminal terminal, Instrument? instrument, double stepMm, double? uMm)
    {
        TargetSheet sheet = Sheet(parsed, terminal);
        string[] paths = parsed.GetValue(photos)!;
        if (paths.Length != 2)
            throw new InputRefusedException($"{paths.Length} photo{(paths.Length == 1 ? " is" : "s are")} given; two, before and after the move, would be right");
        double near = instrument?.Distance.Value.Millimetres ?? sheet.DistanceMm;
        double scale = sheet.PrintScale?.Across ?? instrument?.PrintScale?.Across ?? 1;
        MeasuredLength Apart(string path, double distanceMm) => MeasuredLength.FromMillimetres(
            scale * EdgeMarksApart(path, new PhotoChoice(sheet) { Laser = parsed.GetValue(laser), Distance = MeasuredLength.FromMillimetres(distanceMm, 0.1 * distanceMm) }),
            uMm ?? SeparationUMm);
        return (Apart(paths[0], near), Apart(paths[1], near + stepMm));
    }

    /// <summary>The steps of a roll, one photo and one feeler each, and the distance to start from.</summary>
    public (IReadOnlyList<RollStep> Steps, Length Rough, double Scale) RollSteps(ParseResult parsed, ITerminal terminal, Instrument? instrument, IReadOnlyList<double> feelersMm)
    {
        TargetSheet sheet = Sheet(parsed, terminal);
        string[] paths = parsed.GetValue(photos)!;
        if (paths.Length != feelersMm.Count)
            throw new InputRefusedException($"--feelers-mm has {feelersMm.Count} thicknesses for {paths.Length} photos; one for each photo, in their order, would be right (0 for the flat stand)");
        double rough = instrument?.Distance.Value.Millimetres ?? sheet.DistanceMm;
        PhotoChoice choice = new(sheet) { Laser = parsed.GetValue(laser), Distance = MeasuredLength.FromMillimetres(rough, 0.1 * rough) };
        return ([.. paths.Select((p, i) => PhotoJob.RollStep(p, choice, Length.FromMillimetres(feelersMm[i])))], Length.FromMillimetres(rough),
            sheet.PrintScale?.Across ?? instrument?.PrintScale?.Across ?? 1);
    }

    /// <summary>Whether the files named are photos, told by a target beside them.</summary>
    public bool HasTarget(ParseResult parsed) => parsed.GetValue(target) is not null;

    /// <summary>The files named.</summary>
    public string[] Files(ParseResult parsed) => parsed.GetValue(photos) ?? [];

    private static double EdgeMarksApart(string path, PhotoChoice choice)
    {
        CombinedReading reading = PhotoJob.Read(new(path), choice).Reading;
        double? Place(Side side) => reading.Marks.FirstOrDefault(m => m.Role == MarkRole.Edge && m.Target == side)?.AtMm?.X;
        return Place(Side.Left) is { } left && Place(Side.Right) is { } right && reading.Outcome == ReadingOutcome.Read
            ? right - left
            : throw new PhotosRefusedException([.. reading.Reasons.Select(r => r with { Text = $"{path}: {r.Text}" })]);
    }

    public TargetSheet Sheet(ParseResult parsed, ITerminal terminal) => InputFile.Read(
        terminal,
        parsed.GetValue(target) ?? throw new InputRefusedException("--target is missing; the target.json of the sheet in the photos would be right"),
        TargetFormat.Read);
}
