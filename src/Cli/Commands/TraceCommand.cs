using System.CommandLine;
using Whetwright.Cli.Photos;
using Whetwright.Cli.Tables;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Targets;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Results;
using Whetwright.Formats.Writing;

namespace Whetwright.Cli.Commands;

/// <summary>trace: a blade's outline from a photo on the printed mat.</summary>
internal static class TraceCommand
{
    public static Command Make(ITerminal terminal)
    {
        Argument<string[]> photos = new("PHOTO") { Description = "The blade on the mat from above, JPEG or PNG; a second photo from another place measures the edge's height.", Arity = new(1, 2) };
        Option<string?> mat = new("--mat") { Description = "The printed mat in the photo.", HelpName = "mat.json" };
        Option<string?> height = TypedOptions.Make("--edge-height-mm", "How high the middle of the edge floats over the mat.", "z");
        Option<string?> spine = TypedOptions.Make("--spine-mm", "How thick the spine is at the heel; tells how high heel and tip float.", "s");
        Option<bool> flank = new("--on-flank") { Description = "The blade lies flat on its flank, a tang or thin handle with it: it floats on half the spine, and --spine-mm alone tells how high." };
        Option<string?> focal = TypedOptions.Make("--focal35-mm", "The phone's focal length as 35 mm equivalent, where it is known.", "f");
        Option<string?> edge = new("--edge") { Description = "Which side of the mat the edge points to, its print read upright (default: judged from the photo).", HelpName = "top|bottom|left|right" };
        Option<string?> heel = new("--heel") { Description = "Toward which side of the mat the heel lies, its print read upright (default: judged from handle, taper and sweep).", HelpName = "top|bottom|left|right" };
        Option<string?> blade = new("--blade") { Description = "Write the edge and the height as a blade file, which set and visit read.", HelpName = "blade.json" };
        Option<string?> annotate = new("--annotate") { Description = "Write the (first) photo with the mat's millimetres, outline, edge, heel, tip and chips drawn on it.", HelpName = "out.png" };
        CommonOptions common = new();
        Command command = new("trace",
            "Trace a blade's outline from a photo on the printed mat: edge, heel, tip, length, height, chips, in millimetres.\n\n"
            + "  whetwright trace photo.jpg --mat mat.json --edge-height-mm 1.1 --spine-mm 2.4\n"
            + "  whetwright trace photo.jpg second.jpg --mat mat.json --blade blade.json --json\n\n"
            + "Lay the blade on the mat, the edge along it, heel and tip clear; soft light from all sides, no flash; photograph from\n"
            + "straight above. The edge floats over the mat: tell how high and how thick the spine is, or take a second photo a hand's\n"
            + "breadth to the side.\n"
            + "Where the photo does not show which side is the edge or which end the heel, it is refused and asks for --edge or --heel.")
        {
            photos, mat, height, spine, flank, focal, edge, heel, blade, annotate,
        };
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            string path = parsed.GetValue(mat)
                ?? throw new InputRefusedException("--mat is missing; the mat.json written beside the printed mat would be right (whetwright mat --help)");
            MatSheet sheet = InputFile.Read(terminal, path, MatFormat.Read);
            string[] given = parsed.GetValue(photos)!;
            string? bladeFile = parsed.GetValue(blade);
            if (bladeFile is not null && !bladeFile.EndsWith(".json", StringComparison.OrdinalIgnoreCase))
                throw new InputRefusedException($"--blade is {bladeFile}: a name that ends in .json would be right");
            string? picture = PhotoOptions.Annotated(parsed.GetValue(annotate), given);
            (TraceResult result, var chain, byte[]? annotated) = TraceJob.Trace(
                given[0], given.Length > 1 ? given[1] : null, sheet, parsed.Mm(height, new Limits(0, 60)), parsed.Mm(focal, new Limits(8, 400)), picture is not null, Side(edge, parsed.GetValue(edge)), Side(heel, parsed.GetValue(heel)), parsed.Mm(spine, new Limits(0.2, 30)), parsed.GetValue(flank) ? true : null);
            if (picture is not null)
                PhotoRun.Write(terminal, picture, annotated is null ? [] : [annotated]);
            if (bladeFile is not null && !result.Refused)
                AtomicFile.Write(bladeFile, result.BladeText(Path.GetFileNameWithoutExtension(given[0])));
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(json =>
                {
                    result.Write(json);
                    if (choice.Explain)
                        json.Derivations(chain);
                }));
            }
            else
            {
                TraceTables.Write(terminal.Output, choice.Display, result, result.Refused ? null : bladeFile);
                if (choice.Explain)
                    DerivationText.Write(terminal.Output, chain);
            }

            if (!result.Refused)
                return ExitCode.Done;
            ReasonList.Write(terminal.Error, "Refused:", result.Reasons);
            return ExitCode.WorkRefused;
        });
        return command;
    }

    private static MatSide? Side(Option<string?> option, string? typed) => typed is null ? null
        : Enum.GetValues<MatSide>().Cast<MatSide?>().FirstOrDefault(s => s.ToString()!.Equals(typed.Trim(), StringComparison.OrdinalIgnoreCase))
        ?? throw new InputRefusedException($"{option.Name} is {typed}: top, bottom, left or right would be right, as the mat's print is read");
}
