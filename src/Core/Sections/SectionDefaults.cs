namespace Whetwright.Core.Sections;

/// <summary>Defaults of the section; each is labelled as one where it enters a result.</summary>
public static class SectionDefaults
{
    /// <summary>Density of the steel: 7.8 [mg/mm³] (tool and stainless blade steels lie near 7.7 to 7.9; from memory, no table read).</summary>
    public const double SteelDensityMgPerMm3 = 7.8;

    /// <summary>0.0005 [mm]: the apex is ground past the land by the radius of a keen edge, 0.5 µm [thomas2018]. Chosen, not derived.</summary>
    public const double BurrAllowanceMm = 0.0005;

    /// <summary>0.02 [mm] under a chip's root, for the cracked steel beside it. Chosen, not derived.</summary>
    public const double ChipMarginMm = 0.02;

    /// <summary>0.5 [mm] behind the edge: a kitchen knife thicker than that wedges and wants thinning (common practice, no source).</summary>
    public const double ThinningLimitMm = 0.5;

    /// <summary>0.06 [mm] of height at each visit, about what a land of 30 µm at 15° costs. Chosen, not derived.</summary>
    public const double VisitRecessionMm = 0.06;

    /// <summary>10 [mm]: where the blade's height is not known, no chip, blued steel or recession deeper than this is taken for sharpening; that is a new profile. Chosen, not derived.</summary>
    public const double DeepestWithoutHeightMm = 10;

    /// <summary>50 [mm]: where the blade's height is not known, no facet is taken to be wider than this. Chosen, not derived: about as high as kitchen knives are.</summary>
    public const double WidestFacetWithoutHeightMm = 50;

    /// <summary>2 [mm]: a blunt strip wider than this is no dull apex. Chosen, not derived.</summary>
    public const double WidestLandMm = 2;

    /// <summary>Friction coefficient in the push ratio: 0.2 [1]. Chosen, not derived: dry steel on food is not one number.</summary>
    public const double Friction = 0.2;
}
