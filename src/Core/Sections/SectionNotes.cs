using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>What a person should know beside the numbers: defaults that entered, and what the change does not do.</summary>
internal static class SectionNotes
{
    public static IReadOnlyList<Reason> Of(
        SectionWedge wedge, RecessionChoice choice, SideProfile left, SideProfile right, SectionSide leftSide, SectionSide rightSide, double landMm, double behindMm)
    {
        SectionInput input = wedge.Input;
        var notes = new List<Reason>();
        if (landMm > 0)
            Add("land-left", $"The recession of {choice.RecessionMm:0.###} mm does not reach through the land at {wedge.LandHeightMm:0.###} mm: a blunt strip {landMm * 1000:0} µm wide stays. Grind further for a keen edge.");
        if (input.RecessionMm is { } r && input.Until == GrindUntil.Full && r < choice.FullRecessionMm - 1e-12)
            Add("not-full", $"The given recession of {r:0.###} mm is less than the {choice.FullRecessionMm:0.###} mm that take the whole old facet; part of it stays.");
        if (leftSide.RemovedMm2 + rightSide.RemovedMm2 <= 0)
            Add("nothing-removed", $"The new facets take nothing off the old section. Check the angles, or say how far to grind.");
        if (input.Until == GrindUntil.Micro && input.MicroWidthMm is { } m && wedge.GroundSides.Any(s => (s == Side.Left ? leftSide : rightSide).FacetWidthMm > m + 1e-6))
            Add("micro-wider", $"A side's micro-bevel comes out wider than microWidthMm = {m}: the other side, or the clean apex, asks for the larger recession of {choice.RecessionMm:0.###} mm.");
        if (left.Cuts.Count > 1 || right.Cuts.Count > 1 || StartsHigher(left) || StartsHigher(right))
            Add("cuts-in-strips", $"The new facet touches the old one in more than one strip, or away from the apex: the old curve is deeper between. The facet width is that of the strip at the apex.");
        double limit = input.ThinningLimitMm ?? SectionDefaults.ThinningLimitMm;
        if (behindMm > limit && input.PrimaryHalfDeg > 0)
            Add("thin-first", $"Behind the edge it will be {behindMm:0.##} mm thick, over the limit of {limit:0.##} mm: offer thinning.");
        if (input.PrimaryHalfDeg == 0)
            Add("parallel-flanks", $"The flanks are parallel: the thickness behind the edge does not grow with visits.");
        if (input.HeightMm is null)
            Add("height-not-given", $"heightMm is not given, so the height left is not stated and depths are not checked against it.");
        var defaults = new List<string>();
        Default(input.LandMm > 0 && input.RecessionMm is null && input.BurrAllowanceMm is null, $"burr allowance {SectionDefaults.BurrAllowanceMm} mm");
        Default(input.ChipMm > 0 && input.RecessionMm is null && input.ChipMarginMm is null, $"margin under the chip {SectionDefaults.ChipMarginMm} mm");
        Default(input.DensityMgPerMm3 is null, $"steel {SectionDefaults.SteelDensityMgPerMm3} mg/mm³");
        Default(input.ThinningLimitMm is null, $"thinning limit {SectionDefaults.ThinningLimitMm} mm (common practice, no source)");
        Default(input.VisitRecessionMm is null, $"{SectionDefaults.VisitRecessionMm} mm of height at each later visit");
        if (defaults.Count > 0)
            notes.Add(new Reason("defaults-used", "Taken as defaults, not measured: " + string.Join("; ", defaults) + "."));
        return notes;

        void Add(string code, FormattableString text) => notes.Add(new Reason(code, text.ToString(CultureInfo.InvariantCulture)));

        void Default(bool used, FormattableString text)
        {
            if (used)
                defaults.Add(text.ToString(CultureInfo.InvariantCulture));
        }

        static bool StartsHigher(SideProfile profile) => profile.Cuts.Count > 0 && profile.Cuts[0].FromMm > profile.StartMm;
    }
}
