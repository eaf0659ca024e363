using System.CommandLine;
using Whetwright.Cli.Commands;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Workbench.Photos;

namespace Whetwright.Cli.Photos;

/// <summary>The options that tell what the photographs are and what is known beside them.</summary>
internal sealed class PhotoOptions
{
    private readonly Option<string?> dark = Path("--dark", "The room darkened, exposed for the marks, same pose.");
    private readonly Option<string?> off = Path("--off", "Laser off, same pose.");
    private readonly Option<string?> turned = Path("--turned", "The blade end for end in the same holder.");
    private readonly Option<string?> turnedDark = Path("--turned-dark", "The same with the room darkened.");
    private readonly Option<string?> target = new("--target") { Description = "The printed target in the photos.", HelpName = "target.json" };
    private readonly Option<string?> tip = new("--tip") { Description = "Where the tip was in the first photo; it ties the target's sides to the blade's.", HelpName = "up|down" };
    private readonly Option<string?> laser = new("--laser") { Description = "Colour of the laser (default: found in the photo).", HelpName = "red|green" };
    private readonly Option<string?> beam = new("--beam") { Description = "Shape of the beam (default: judged from the photo).", HelpName = "dot|line" };
    private readonly Option<string?> form = new("--form") { Description = "Form of the bevels: which end of a drawn-out mark is shoulder, which apex (default: as on a convex bevel, and said so).", HelpName = "flat|convex|hollow" };
    private readonly Option<bool> hasBack = new("--has-back") { Description = "A piece whose second face is its back: single-bevel knife, chisel, plane iron, scissors." };
    private readonly Option<string?> annotate = new("--annotate") { Description = "Write the photo with sheet grid, marks and angles drawn on it.", HelpName = "out.png" };

    private readonly Option<string?> graduations = new("--graduations") { Description = "Any other degree scale in the photo, in place of --target: four or more of its graduations.", HelpName = "graduations.json" };

    /// <summary>Every option that only photographs have.</summary>
    public IEnumerable<Option> All => [dark, off, turned, turnedDark, target, tip, laser, beam, form, hasBack, annotate, graduations];

    public void AddTo(Command command)
    {
        tip.AcceptOnlyFromAmong("up", "down");
        laser.AcceptOnlyFromAmong("red", "green");
        beam.AcceptOnlyFromAmong("dot", "line");
        form.AcceptOnlyFromAmong("flat", "convex", "hollow");
        foreach (Option option in All)
            command.Options.Add(option);
    }

    /// <summary>The options of these that were given, by name.</summary>
    public IEnumerable<string> Given(ParseResult parsed) =>
        All.Where(o => parsed.GetResult(o) is { Implicit: false }).Select(o => o.Name);

    public PhotoFiles Files(ParseResult parsed, IReadOnlyList<string> photos) => new(photos[0])
    {
        Repeats = [.. photos.Skip(1)],
        Dark = parsed.GetValue(dark),
        Off = parsed.GetValue(off),
        Turned = parsed.GetValue(turned),
        TurnedDark = parsed.GetValue(turnedDark),
    };

    public PhotoChoice Choice(ParseResult parsed, ITerminal terminal, Instrument? instrument, double? distanceMm, double? distanceUMm)
    {
        string path = parsed.GetValue(target)
            ?? throw new InputRefusedException("--target is missing; the target.json written beside the printed target would be right (whetwright target --help)");
        TargetSheet sheet = InputFile.Read(terminal, path, TargetFormat.Read);
        return new(sheet)
        {
            Tip = Tip(parsed),
            Instrument = instrument,
            Distance = PhotoChoice.DistanceTold(sheet, instrument, distanceMm, distanceUMm),
            DistanceUIsDefault = distanceMm is not null && distanceUMm is null,
            Laser = parsed.GetValue(laser),
            Beam = parsed.GetValue(beam),
            Form = PhotoReadings.Form(parsed.GetValue(form)),
            HasBack = parsed.GetValue(hasBack),
        };
    }

    /// <summary>The graduations of another scale and what is told beside them; null where the photo is of a target.</summary>
    public (GraduationsFile File, ScaleChoice Choice)? OtherScale(ParseResult parsed, ITerminal terminal, IReadOnlyList<string> photos, Instrument? instrument)
    {
        if (parsed.GetValue(graduations) is not { } path)
            return null;
        string[] foreign = [.. Given(parsed).Where(n => n is not ("--graduations" or "--tip" or "--laser" or "--has-back"))];
        if (foreign.Length > 0)
            throw new InputRefusedException($"{string.Join(", ", foreign)} {(foreign.Length == 1 ? "goes" : "go")} with a printed target, not with --graduations");
        if (photos.Count != 1)
            throw new InputRefusedException($"--graduations is given with {photos.Count} photos; one would be right, for the graduations are places in it");
        return (InputFile.Read(terminal, path, GraduationsFormat.Read), new(Tip(parsed), instrument, parsed.GetValue(laser), parsed.GetValue(hasBack)));
    }

    /// <summary>Where to write the annotated photo; null where it was not asked for.</summary>
    public string? Annotate(ParseResult parsed, IEnumerable<string> photos)
    {
        return Annotated(parsed.GetValue(annotate), photos);
    }

    /// <summary>A name for an annotated photo, checked; null where none was given.</summary>
    public static string? Annotated(string? path, IEnumerable<string> photos)
    {
        if (path is null)
            return null;
        if (!path.EndsWith(".png", StringComparison.OrdinalIgnoreCase))
            throw new InputRefusedException($"--annotate is {path}: a name that ends in .png would be right");
        string full = System.IO.Path.GetFullPath(path);
        return photos.Any(p => string.Equals(System.IO.Path.GetFullPath(p), full, StringComparison.OrdinalIgnoreCase))
            ? throw new InputRefusedException($"--annotate is {path}: that is one of the photos and would be lost; another name would be right")
            : path;
    }

    private TipDirection? Tip(ParseResult parsed) => parsed.GetValue(tip) switch { "up" => TipDirection.Up, "down" => TipDirection.Down, _ => null };

    private static Option<string?> Path(string name, string description) => new(name) { Description = description, HelpName = "photo.jpg" };
}
