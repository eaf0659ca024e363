using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>The numbers of a section as chains of formula, source and inputs, built on request.</summary>
public static class SectionExplanation
{
    private const string Source = "derived in docs/sources.md [section]";
    private const string Method = "sections.clip/1";

    /// <summary>One derivation for each number of the result.</summary>
    public static IReadOnlyList<Derivation> Explain(SectionResult result)
    {
        SectionInput input = result.Input;
        Derivation recession = Recession(result);
        var list = new List<Derivation> { recession, Full(result) };
        double removed = 0;
        foreach (Side side in (ReadOnlySpan<Side>)[Side.Left, Side.Right])
        {
            if (input.Back == side)
                continue;
            string name = side == Side.Left ? "left" : "right";
            DerivationInput[] inputs =
            [
                new("t_e", "behindEdgeMm", input.BehindEdgeMm, "mm"),
                new("β", "flank from the mid-plane", input.Back is null ? input.PrimaryHalfDeg : 2 * input.PrimaryHalfDeg, "deg"),
                new("θ0", $"old.{name}Deg", input.Old[side], "deg"),
                new("θ1", $"new.{name}Deg", input.New[side], "deg"),
                new("r", "recessionMm", result.RecessionMm, "mm", From: recession),
                new("v", "landMm", input.LandMm, "mm"),
            ];
            list.Add(new($"{name} facet width", result[side].FacetWidthMm, "mm",
                "distance from the apex (0, r) to where (y − r) tan θ1 meets the old facet y tan θ0 or the flank a + (y − b₀) tan β; arcs likewise", Source, inputs, Method));
            list.Add(new($"{name} area removed", result[side].RemovedMm2, "mm²",
                "∫ max(0, old(y) − new(y)) dy from the land upward, in closed form between crossings", Source,
                [.. inputs[..4], inputs[4] with { Partial = AreaPartial(input, side, result.RecessionMm) }, inputs[5]], Method));
            removed += result[side].RemovedMm2;
        }
        var volume = new Derivation("steel removed", result.RemovedMm3, "mm³", "(A_left + A_right) · length", Source,
            [new("A", "both areas", removed, "mm²", input.LengthMm), new("length", "lengthMm", input.LengthMm, "mm", removed)], Method);
        list.Add(volume);
        double density = input.DensityMgPerMm3 ?? SectionDefaults.SteelDensityMgPerMm3;
        list.Add(new("mass removed", result.RemovedMg, "mg", "volume · density", "from memory, no table read",
            [new("V", "steel removed", result.RemovedMm3, "mm³", density, volume), new("ρ", "densityMgPerMm3", density, "mg/mm³", result.RemovedMm3, IsDefault: input.DensityMgPerMm3 is null)], Method));
        DerivationInput flank = new("β", "primaryHalfDeg", input.PrimaryHalfDeg, "deg");
        list.Add(new("growth at fixed height", result.GrowthPerMm.FixedHeight, "mm/mm", "Σ tan β over the sides (2 tan β; with a back tan 2β)", Source, [flank], Method));
        var growth = new Derivation("growth at the shoulder", result.GrowthPerMm.Shoulder, "mm/mm", "Σ tan β · tan θ / (tan θ − tan β)", Source,
            [flank, new("θL", "new.leftDeg", input.New.LeftDeg, "deg"), new("θR", "new.rightDeg", input.New.RightDeg, "deg")], Method);
        list.Add(growth);
        if (result.VisitsUntilThinning is { } visits)
        {
            list.Add(new("visits until thinning", visits, "1", "⌊(limit − t) / (growth · r_visit)⌋, 0 where t is past the limit", "common practice, no source",
            [
                new("limit", "thinningLimitMm", input.ThinningLimitMm ?? SectionDefaults.ThinningLimitMm, "mm", IsDefault: input.ThinningLimitMm is null),
                new("t", "thickness behind the edge after", result.BehindEdgeAfterMm, "mm"),
                new("growth", "growth at the shoulder", result.GrowthPerMm.Shoulder, "mm/mm", From: growth),
                new("r_visit", "visitRecessionMm", input.VisitRecessionMm ?? SectionDefaults.VisitRecessionMm, "mm", IsDefault: input.VisitRecessionMm is null),
            ], Method));
        }
        return list;
    }

    private static Derivation Recession(SectionResult result)
    {
        SectionInput input = result.Input;
        double perLand = input.LandMm > 0 ? result.LandRecessionMm / input.LandMm : 0;
        DerivationInput land = new("v", "landMm", input.LandMm, "mm", perLand);
        (string formula, DerivationInput[] inputs) = result.Cause switch
        {
            RecessionCause.Given => ("given: it wins over land, chip and until", (DerivationInput[])[]),
            RecessionCause.Land => ("v / (tan θ0L + tan θ0R) + burr allowance",
                [land, new("burr", "burrAllowanceMm", input.BurrAllowanceMm ?? SectionDefaults.BurrAllowanceMm, "mm", 1, IsDefault: input.BurrAllowanceMm is null)]),
            RecessionCause.Chip => ("v / (tan θ0L + tan θ0R) + c + margin",
                [land, new("c", "chipMm", input.ChipMm, "mm", 1), new("margin", "chipMarginMm", input.ChipMarginMm ?? SectionDefaults.ChipMarginMm, "mm", 1, IsDefault: input.ChipMarginMm is null)]),
            RecessionCause.BluedSteel => ("v / (tan θ0L + tan θ0R) + blued depth", [land, new("depth", "bluedDepthMm", input.BluedDepthMm, "mm", 1)]),
            RecessionCause.MicroBevel => ("m sin(θ1 − θ0) / sin θ0, the larger side", [new("m", "microWidthMm", input.MicroWidthMm ?? 0, "mm", input.MicroWidthMm is { } m ? result.RecessionMm / m : null)]),
            RecessionCause.FullFacet => ("b₀ (1 − tan θ0 / tan θ1), the larger side", [new("t_e", "behindEdgeMm", input.BehindEdgeMm, "mm", result.RecessionMm / input.BehindEdgeMm)]),
            _ => ("no land, chip or blued steel, and no new facet that asks for more", []),
        };
        return new Derivation("recession of the apex", result.RecessionMm, "mm", formula, Source,
            [.. inputs, new("θ0L", "old.leftDeg", input.Old.LeftDeg, "deg"), new("θ0R", "old.rightDeg", input.Old.RightDeg, "deg")], Method);
    }

    private static Derivation Full(SectionResult result) => new(
        "recession that leaves nothing of the old facet", result.FullRecessionMm, "mm", "b₀ (1 − tan θ0 / tan θ1), the larger side; b₀ = t_e / (tan θ0L + tan θ0R)", Source,
        [
            new("t_e", "behindEdgeMm", result.Input.BehindEdgeMm, "mm", result.FullRecessionMm / result.Input.BehindEdgeMm),
            new("θ0L", "old.leftDeg", result.Input.Old.LeftDeg, "deg"), new("θ0R", "old.rightDeg", result.Input.Old.RightDeg, "deg"),
            new("θ1L", "new.leftDeg", result.Input.New.LeftDeg, "deg"), new("θ1R", "new.rightDeg", result.Input.New.RightDeg, "deg"),
        ], Method);

    /// <summary>dA/dr by a central difference of the closed forms; null where the section refuses a step to either hand.</summary>
    private static double? AreaPartial(SectionInput input, Side side, double recessionMm)
    {
        double step = Math.Max(1e-6, recessionMm * 1e-4);
        return SectionChange.Evaluate(input with { RecessionMm = recessionMm + step }) is SectionOutcome.Computed more
            && SectionChange.Evaluate(input with { RecessionMm = Math.Max(0, recessionMm - step) }) is SectionOutcome.Computed less
            ? (more.Result[side].RemovedMm2 - less.Result[side].RemovedMm2) / (more.Result.RecessionMm - less.Result.RecessionMm)
            : null;
    }
}
