using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>The numbers of a profile repair as chains of formula, source and inputs, built on request.</summary>
public static class ReshapeExplanation
{
    /// <summary>Worst gap, area, steel and both ends of the time.</summary>
    public static IReadOnlyList<Derivation> Explain(ReshapeInput input, ReshapeResult result)
    {
        const string source = "derived in docs/sources.md [section]", method = "sections.reshape/1";
        var area = new Derivation("area between the outlines", result.RemovedMm2, "mm²", "∫ (old depth − new depth) dx over all columns", source, [], method);
        var volume = new Derivation("steel removed", result.RemovedMm3, "mm³", "∫∫ t(d) dd dx, t(d) = t_e + (T − t_e) d / h", source,
        [
            new("A", "area between the outlines", result.RemovedMm2, "mm²", From: area),
            new("t_e", "behindEdgeMm", input.BehindEdgeMm, "mm"),
            new("T", "spineThicknessMm", input.SpineThicknessMm, "mm"),
        ], method);
        return
        [
            new("worst gap along the edge", result.WorstGapMm, "mm", "largest of the shortest distances from old edge to new", source, [], method),
            area,
            volume,
            Minutes("least time", result.MinutesFrom, input.RemovalMm3PerMinute ?? ReshapeInput.FastestMm3PerMinute),
            Minutes("most time", result.MinutesTo, input.RemovalMm3PerMinute ?? ReshapeInput.SlowestMm3PerMinute),
        ];

        Derivation Minutes(string name, double minutes, double rate) => new(name, minutes, "min", "V / rate", "chosen, not derived",
            [
                new("V", "steel removed", result.RemovedMm3, "mm³", 1 / rate, volume),
                new("rate", "removalMm3PerMinute", rate, "mm³/min", -minutes / rate, IsDefault: input.RemovalMm3PerMinute is null),
            ], method);
    }
}
