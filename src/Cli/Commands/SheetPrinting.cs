using System.CommandLine;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Reading;

namespace Whetwright.Cli.Commands;

/// <summary>What target and mat share: the paper, the two files, the printer's check lines.</summary>
internal sealed class SheetPrinting
{
    private readonly Option<string> paper = new("--paper") { Description = "Paper, wide side across.", HelpName = string.Join('|', KnownPaperSizes.All.Select(p => p.Name)), DefaultValueFactory = _ => "a4" };
    private readonly Option<string> into;
    private readonly Option<string?> across = TypedOptions.Make("--across-mm", "The check line across the sheet, as measured after printing.", "m");
    private readonly Option<string?> down = TypedOptions.Make("--down-mm", "The check line down the sheet, as measured after printing.", "m");

    public SheetPrinting(string name) => into = new("--out")
    {
        Description = $"The PDF; the description is written beside it as {name}.json.", HelpName = $"{name}.pdf", DefaultValueFactory = _ => $"{name}.pdf",
    };

    public void AddTo(Command command)
    {
        command.Options.Add(paper);
        command.Options.Add(into);
        command.Options.Add(across);
        command.Options.Add(down);
    }

    public PaperSize Paper(ParseResult parsed)
    {
        try
        {
            return KnownPaperSizes.Named(parsed.GetValue(paper)!);
        }
        catch (ArgumentException e)
        {
            throw new InputRefusedException($"--paper: {ReadCommand.Plain(e)}");
        }
    }

    /// <summary>The printer's scale where the check lines were measured; null where not.</summary>
    public PrintScale? Scale(ParseResult parsed)
    {
        double? x = parsed.Mm(across, new Limits(90, 110)), y = parsed.Mm(down, new Limits(90, 110));
        if (x is null != y is null)
            throw new InputRefusedException($"{(x is null ? across : down).Name} is missing beside {(x is null ? down : across).Name}; both check lines as measured would be right");
        return x is { } a && y is { } d ? PrintScale.FromCheckLines(Length.FromMillimetres(a), Length.FromMillimetres(d)) : null;
    }

    /// <summary>Writes PDF and description; the names are checked before anything is written.</summary>
    public (string Pdf, string Json) Write(ParseResult parsed, byte[] pdf, string json)
    {
        string path = parsed.GetValue(into)!;
        if (!path.EndsWith(".pdf", StringComparison.OrdinalIgnoreCase))
            throw new InputRefusedException($"--out is {path}: a name that ends in .pdf would be right; the .json is written beside it");
        string beside = Path.ChangeExtension(path, ".json");
        AtomicFile.Write(path, pdf);
        AtomicFile.Write(beside, json);
        return (path, beside);
    }
}
