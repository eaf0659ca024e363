using System.CommandLine;
using System.Globalization;
using Whetwright.Cli.Commands;
using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Formats.Reading;

namespace Whetwright.Cli.Photos;

/// <summary>Two lengths pointed out in a photo of a printed sheet: --from, --to and --true-mm, each given twice.</summary>
internal sealed class PrintPoints
{
    /// <summary>How high a thin ruler's graduations lie over the paper where nobody tells it, and how well that is known, mm. Chosen.</summary>
    private const double UsualRaisedMm = 0.5, RaisedShare = 0.5;

    private readonly Option<string[]?> from = Many("--from", "x,y", "Pixel at one end of a known length; once for a length across, once for one down.");
    private readonly Option<string[]?> to = Many("--to", "x,y", "Pixel at its other end.");
    private readonly Option<string[]?> length = Many("--true-mm", "l", "The true length between the two.");
    private readonly Option<string?> lengthU = TypedOptions.Make("--true-u-mm", "Standard uncertainty of each length (default 0.1 mm, chosen).", "u");
    private readonly Option<string?> raised = TypedOptions.Make("--raised-mm", "How high the ruler's graduations lie over the paper (default 0.5 mm, chosen); 0 for printed points.", "t");

    public void AddTo(Command command)
    {
        foreach (Option option in (Option[])[from, to, length, lengthU, raised])
            command.Options.Add(option);
    }

    public (PrintScale Scale, double U, IReadOnlyList<Derivation> Chain) Read(ParseResult parsed, string[] photos, TargetSheet sheet)
    {
        if (photos.Length != 1)
            throw new InputRefusedException($"{photos.Length} photos are given; one, in which the points lie, would be right");
        string[] a = parsed.GetValue(from) ?? [], b = parsed.GetValue(to) ?? [], l = parsed.GetValue(length) ?? [];
        if (a.Length != 2 || b.Length != 2 || l.Length != 2)
            throw new InputRefusedException($"--from is given {a.Length}, --to {b.Length} and --true-mm {l.Length} times; each twice would be right, once for a length across and once for one down");
        double u = parsed.Mm(lengthU, Limits.Positive) ?? 0.1;
        (Point2, Point2, MeasuredLength)[] lengths =
            [.. Enumerable.Range(0, 2).Select(i => (Place("--from", a[i]), Place("--to", b[i]), MeasuredLength.FromMillimetres(TypedOptions.Mm("--true-mm", l[i], Limits.Positive), u)))];
        double t = RaisedMm(parsed);
        return PhotoJob.Printed(photos[0], sheet, lengths, MeasuredLength.FromMillimetres(t, RaisedShare * t));
    }

    /// <summary>What was taken for the height of the ruler.</summary>
    public Reason Raised(ParseResult parsed) => new("ruler-raised", FormattableString.Invariant(
        $"The graduations are taken to lie {RaisedMm(parsed):0.##} mm over the paper ({(parsed.GetValue(raised) is null ? "a chosen default" : "as told")}), known to half of that; a ruler 1 mm higher makes a print look about 0.3 % larger in a photo from 35 cm."));

    private double RaisedMm(ParseResult parsed) => parsed.Mm(raised, new Limits(0, 30)) ?? UsualRaisedMm;

    private static Point2 Place(string name, string text)
    {
        string[] parts = text.Contains(';', StringComparison.Ordinal) ? text.Replace(',', '.').Split(';', StringSplitOptions.TrimEntries) : text.Split(',', StringSplitOptions.TrimEntries);
        return parts.Length == 2
            && double.TryParse(parts[0], NumberStyles.Float, CultureInfo.InvariantCulture, out double x) && double.IsFinite(x)
            && double.TryParse(parts[1], NumberStyles.Float, CultureInfo.InvariantCulture, out double y) && double.IsFinite(y)
                ? new(x, y)
                : throw new InputRefusedException($"{name} is {text}: two pixels such as 410,1210 or \"410.5;1210\" would be right");
    }

    private static Option<string[]?> Many(string name, string helpName, string description) => new(name) { Description = description, HelpName = helpName, Arity = ArgumentArity.OneOrMore };
}
