using System.Globalization;
using Whetwright.Cli.Terminal;
using Whetwright.Core.Sections;
using Whetwright.Formats.Results;

namespace Whetwright.Cli.Tables;

/// <summary>A section before and after on the terminal.</summary>
internal static class SectionTables
{
    public static void Write(TextWriter output, Display display, SectionResult result, EdgeRatios ratios)
    {
        output.WriteLine("Section");
        TextTable sides = new("side", "old", "new", "facet before", "facet after", "old facet left", "steel off (mm²)");
        Row("left", result.Input.Old.LeftDeg, result.Input.New.LeftDeg, result.Left);
        Row("right", result.Input.Old.RightDeg, result.Input.New.RightDeg, result.Right);
        sides.Write(output);
        output.WriteLine();
        TextTable facts = new("what", "value");
        facts.Row("recession of the apex from the old virtual apex", $"{display.Mm(result.RecessionMm, 3)} (set by: {SectionChangeResult.Word(result.Cause)})");
        facts.Row("recession at which nothing of the old facet is left", display.Mm(result.FullRecessionMm, 3));
        facts.Row("height lost", display.Mm(result.HeightLostMm, 3));
        if (result.HeightLeftMm is { } left)
            facts.Row("height left", display.Mm(left));
        facts.Row("steel off", $"{Display.Number(result.RemovedMm3, 1)} mm³ = {Display.Number(result.RemovedMg, 0)} mg");
        facts.Row("thickness behind the edge after", display.Mm(result.BehindEdgeAfterMm, 3));
        facts.Row("growth per mm of height, at a fixed height", Display.Number(result.GrowthPerMm.FixedHeight, 4) + " mm/mm");
        facts.Row("growth per mm of height, at the shoulder", Display.Number(result.GrowthPerMm.Shoulder, 4) + " mm/mm");
        facts.Row("visits until it must be thinned", result.VisitsUntilThinning?.ToString(CultureInfo.InvariantCulture) ?? "never");
        facts.Row("strength, new to old", Display.Number(ratios.SectionModulus, 2));
        facts.Row("push, new to old", Display.Number(ratios.Push, 2));
        if (ratios.Life is { } life)
            facts.Row("expected cutting life, new to old", Display.Number(life, 2));
        facts.Write(output);
        ReasonList.Write(output, "Mind", [.. result.Notes, .. ratios.Notes]);

        void Row(string side, double old, double made, SectionSide s) => sides.Row(
            side, Display.Deg(old), Display.Deg(made), display.Mm(s.OldFacetWidthMm, 3), display.Mm(s.FacetWidthMm, 3), display.Mm(s.OldFacetLeftMm, 3),
            Display.Number(s.RemovedMm2, 4));
    }
}
