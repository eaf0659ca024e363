using Whetwright.Cli.Terminal;
using Whetwright.Formats.Results;

namespace Whetwright.Cli.Tables;

/// <summary>An outline on the terminal.</summary>
internal static class TraceTables
{
    public static void Write(TextWriter output, Display display, TraceResult result, string? bladeFile)
    {
        output.WriteLine(result.Refused ? "Outline refused" : "Outline");
        if (result.Refused)
            return;
        TextTable facts = new("what", "value");
        facts.Row("length, heel to tip", $"{display.Mm(result.LengthMm ?? double.NaN, 1)} ± {display.Mm(2 * result.LengthUMm ?? double.NaN, 1)} (k = 2)");
        facts.Row("height of the blade", $"{display.Mm(result.HeightMm ?? double.NaN, 1)} ± {display.Mm(2 * result.HeightUMm ?? double.NaN, 1)} (k = 2)");
        facts.Row("edge over the mat", result.EdgeHeightMm is { } z ? $"{display.Mm(z)} ± {display.Mm(2 * result.EdgeHeightUMm ?? 0)} (k = 2)" : "not known");
        facts.Row("edge known to (k = 2)", $"± {display.Mm(2 * result.UMm ?? double.NaN)}");
        facts.Row("shift by parallax", display.Mm(result.ParallaxMm ?? double.NaN));
        facts.Row("camera tilted by", $"{Display.Number(result.ViewTiltDeg ?? double.NaN, 1)}°");
        facts.Write(output);
        output.WriteLine();
        if (result.Chips.Count == 0)
        {
            output.WriteLine("No chip found.");
        }
        else
        {
            TextTable chips = new("chip at, from the heel", "deep (k = 2)", "wide");
            foreach ((double at, double depth, double u, double width) in result.Chips)
                chips.Row(display.Mm(at, 1), $"{display.Mm(depth)} ± {display.Mm(2 * u)}", display.Mm(width));
            chips.Write(output);
        }

        ReasonList.Write(output, "Mind", result.Reasons);
        if (bladeFile is not null)
            output.WriteLine($"Written: {bladeFile}");
    }
}
