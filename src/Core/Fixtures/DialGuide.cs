using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>A guide with its own degree marks, or a fixed one: what it grinds is what it says plus what the shop has learnt about it.</summary>
public static class DialGuide
{
    /// <summary>α = marked + correction, where correction is got less set, as learnt from checks.</summary>
    public static Angle Ground(Angle marked, Angle learntCorrection) => marked + learntCorrection;

    /// <summary>marked = α − correction: the inverse.</summary>
    public static Angle Marked(Angle ground, Angle learntCorrection) => ground - learntCorrection;

    /// <summary>Derivation of the mark to dial.</summary>
    public static Derivation Explain(Angle ground, Angle learntCorrection, bool isDefault) => new(
        "angle to dial",
        Marked(ground, learntCorrection).Degrees,
        "deg",
        "marked = α − correction",
        "definition",
        [
            new("α", "angle to grind", ground.Degrees, "deg", 1),
            new("correction", "got less set, learnt from checks", learntCorrection.Degrees, "deg", -1, IsDefault: isDefault),
        ],
        "fixtures.dial/1");
}

/// <summary>A belt over nothing: it gives under the blade and leaves a convex facet, so only the angle at which the blade enters is ours to state.</summary>
public static class SlackBelt
{
    /// <summary>What the entry angle does not say.</summary>
    public static Reason OnlyEntryAngle(Angle entry) => new(
        "entry-angle-only",
        $"A slack belt grinds a convex facet: {entry} is the angle at which the blade meets the belt. The angle at the apex is larger by an amount that depends on tension, pressure and grit; read the edge after a few passes.");
}
