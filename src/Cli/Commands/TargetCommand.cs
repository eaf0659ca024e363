using System.CommandLine;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Quantities;
using Whetwright.Formats;
using Whetwright.Formats.Reading;
using Whetwright.Formats.Writing;
using Whetwright.Paper.Targets;

namespace Whetwright.Cli.Commands;

/// <summary>target: the printed sheet that the laser's light falls on.</summary>
internal static class TargetCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string?> distance = TypedOptions.Make("--distance-mm", "Distance from the edge to the sheet that it is printed for (default 100 mm).", "L");
        SheetPrinting sheet = new("target");
        CommonOptions common = new();
        Command command = new("target",
            "Print the target that the laser's light falls on: a PDF at exact size and target.json, which the photo reader needs.\n\n"
            + "  whetwright target --paper a4 --distance-mm 100 --out target.pdf\n"
            + "  whetwright target --paper a4 --distance-mm 100 --across-mm 99.6 --down-mm 99.8 --out target.pdf\n\n"
            + "Print at 100 %, no \"fit to page\", on matt paper. Measure both check lines; where they are not 100 mm, run it again with what\n"
            + "you got, so that every result uses it (the PDF stays the same).")
        {
            distance,
        };
        sheet.AddTo(command);
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            double mm = parsed.Mm(distance, Limits.Positive) ?? 100;
            TargetPrint print;
            try
            {
                print = TargetPrint.For(sheet.Paper(parsed), Length.FromMillimetres(mm));
            }
            catch (ArgumentException e)
            {
                throw new InputRefusedException($"--distance-mm: {ReadCommand.Plain(e)}");
            }

            print = print with { Sheet = print.Sheet with { PrintScale = sheet.Scale(parsed) } };
            (string pdf, string json) = sheet.Write(parsed, print.Pdf, TargetFormat.Text(print.Sheet));
            if (choice.Json)
                terminal.Output.Write(JsonResults.Document(writer => TargetFormat.Write(writer, print.Sheet)));
            else
                terminal.Output.WriteLine($"Target {print.Sheet.Paper}, printed for {choice.Display.Mm(mm, 1)} from edge to sheet.\nWritten: {pdf}\nWritten: {json}\nNever look into the beam or its reflection from a polished bevel.");
            return ExitCode.Done;
        });
        return command;
    }
}
