using System.Globalization;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>How far the apex must go back, and why: the largest of what land, chip, blued steel and the purpose ask for.</summary>
internal sealed record RecessionChoice(double RecessionMm, RecessionCause Cause, double FullRecessionMm, IReadOnlyList<Reason> Refusals)
{
    public static RecessionChoice Of(SectionWedge wedge)
    {
        SectionInput input = wedge.Input;
        double full = 0;
        foreach (Side side in wedge.GroundSides)
            full = Math.Max(full, wedge.ShoulderMm - wedge.New(side).HeightMm(wedge.Old(side).HalfMm(wedge.ShoulderMm)));

        var refusals = new List<Reason>();
        bool steeper = wedge.GroundSides.Any(side => input.New[side] > input.Old[side] + 1e-9);
        if (steeper && input.Until is null && input.RecessionMm is null)
            refusals.Add(new Reason("until-missing",
                "The new angle is steeper than the old one. Say how far to grind: until = \"apex\" (only a clean apex), \"micro\" with microWidthMm, or \"full\" (no old facet left)."));
        double micro = Micro(wedge, full, refusals);
        if (refusals.Count > 0)
            return new RecessionChoice(0, RecessionCause.Nothing, full, refusals);
        if (input.RecessionMm is { } given)
            return new RecessionChoice(given, RecessionCause.Given, full, []);

        double land = wedge.LandHeightMm;
        var choice = (Mm: 0.0, Cause: RecessionCause.Nothing);
        Consider(input.LandMm > 0, land + (input.BurrAllowanceMm ?? SectionDefaults.BurrAllowanceMm), RecessionCause.Land);
        Consider(input.ChipMm > 0, land + input.ChipMm + (input.ChipMarginMm ?? SectionDefaults.ChipMarginMm), RecessionCause.Chip);
        Consider(input.BluedDepthMm > 0, land + input.BluedDepthMm, RecessionCause.BluedSteel);
        Consider(input.Until == GrindUntil.Micro, micro, RecessionCause.MicroBevel);
        Consider(input.Until == GrindUntil.Full, full, RecessionCause.FullFacet);
        return new RecessionChoice(choice.Mm, choice.Cause, full, []);

        void Consider(bool asked, double mm, RecessionCause cause)
        {
            if (asked && mm > choice.Mm)
                choice = (mm, cause);
        }
    }

    /// <summary>Recession for the wanted micro-bevel on the side that needs most; see <see cref="SectionFormulas.MicroRecessionMm"/> for flat facets.</summary>
    private static double Micro(SectionWedge wedge, double fullMm, List<Reason> refusals)
    {
        SectionInput input = wedge.Input;
        if (input.Until != GrindUntil.Micro)
            return 0;
        if (input.MicroWidthMm is not { } width)
        {
            refusals.Add(new Reason("micro-width-missing", "until = \"micro\" needs microWidthMm, the width of the micro-bevel, above zero."));
            return 0;
        }
        double most = 0;
        bool steeper = false;
        foreach (Side side in wedge.GroundSides)
        {
            FacetCurve old = wedge.Old(side), made = wedge.New(side);
            if (input.New[side] <= input.Old[side] + 1e-9)
                continue;
            steeper = true;
            double chord = made.AngleRad + (made.IsFlat ? 0 : Math.Asin(Math.Clamp(width / (2 * made.RadiusMm), -1, 1)));
            double at = old.HeightMm(width * Math.Sin(chord));
            if (at > wedge.ShoulderMm)
            {
                refusals.Add(new Reason("micro-wider-than-facet", string.Create(CultureInfo.InvariantCulture,
                    $"A micro-bevel of microWidthMm = {width} does not fit on the old facet: it needs {width * Math.Sin(chord):0.###} mm of half-thickness, the shoulder has {old.HalfMm(wedge.ShoulderMm):0.###}. Take a narrower one, or until = \"full\" (recession {fullMm:0.###} mm).")));
                continue;
            }
            most = Math.Max(most, at - (width * Math.Cos(chord)));
        }
        if (!steeper)
        {
            refusals.Add(new Reason("micro-not-steeper", string.Create(CultureInfo.InvariantCulture,
                $"A micro-bevel must be steeper than the facet it stands on: new {input.New.LeftDeg}° and {input.New.RightDeg}°, old {input.Old.LeftDeg}° and {input.Old.RightDeg}°. Raise the new angle, or leave out until.")));
        }
        return most;
    }
}
