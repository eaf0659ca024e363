using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Terminal;
using Whetwright.Formats;
using Whetwright.Formats.Writing;
using Whetwright.Paper.Targets;

namespace Whetwright.Cli.Commands;

/// <summary>mat: the printed sheet on which a blade's outline is taken.</summary>
internal static class MatCommand
{
    public static Command Make(ITerminal terminal)
    {
        Option<string?> sheets = new("--sheets") { Description = "Sheets side by side, 1 to 3, for long blades (default 1).", HelpName = "n" };
        Option<bool> plain = new("--plain") { Description = "Without the fine lines ruled over the sheet, which show where an edge lies in its own shadow." };
        SheetPrinting sheet = new("mat");
        CommonOptions common = new();
        Command command = new("mat",
            "Print the mat on which a blade lies to have its outline taken: a PDF at exact size, one page per sheet, and mat.json.\n\n"
            + "  whetwright mat --paper a4 --out mat.pdf\n"
            + "  whetwright mat --paper a4 --sheets 2 --out long-mat.pdf\n\n"
            + "Print at 100 %, no \"fit to page\", on matt paper. Measure both check lines; where they are not 100 mm, run it again with\n"
            + "--across-mm and --down-mm as you got them.")
        {
            sheets,
            plain,
        };
        sheet.AddTo(command);
        common.AddTo(command);
        command.SetAction(parsed =>
        {
            CommonChoice choice = common.Read(parsed);
            MatPrint print = MatPrint.For(sheet.Paper(parsed), Count(parsed.GetValue(sheets)), ruled: !parsed.GetValue(plain));
            print = print with { Sheet = print.Sheet with { PrintScale = sheet.Scale(parsed) } };
            (string pdf, string json) = sheet.Write(parsed, print.Pdf, MatFormat.Text(print.Sheet));
            if (choice.Json)
            {
                terminal.Output.Write(JsonResults.Document(writer => MatFormat.Write(writer, print.Sheet)));
                return ExitCode.Done;
            }

            int n = print.Layout.SheetCount;
            terminal.Output.WriteLine(
                $"Mat {print.Sheet.Paper}, {n} sheet{(n == 1 ? "" : "s, to be joined on their lines")}. Fits edges up to {choice.Display.Mm(print.Layout.LongestEdgeMm, 0)}, blades up to {choice.Display.Mm(print.Layout.TallestBladeMm, 0)} tall.\nWritten: {pdf}\nWritten: {json}");
            return ExitCode.Done;
        });
        return command;
    }

    private static int Count(string? typed) => typed is null ? 1
        : int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out int n) && n is >= 1 and <= 3 ? n
        : throw new InputRefusedException($"--sheets is {typed}: 1, 2 or 3 would be right (the dictionary has codes for three)");
}
