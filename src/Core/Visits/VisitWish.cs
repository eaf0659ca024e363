using Whetwright.Core.Quantities;
using Whetwright.Core.Sections;

namespace Whetwright.Core.Visits;

/// <summary>What is wanted of one piece.</summary>
public sealed record VisitWish
{
    /// <summary>In words, as it was said at the counter.</summary>
    public string? Text { get; init; }

    /// <summary>Angle wanted per side (from the back for pieces with one); null keeps the found angle.</summary>
    public Angle? Angle { get; init; }

    /// <summary>How far the angle may stray along the edge; null for the usual 0.5°.</summary>
    public Angle? Tolerance { get; init; }

    /// <summary>The stretch that counts, along the edge from the heel, mm; null for heel to a little short of the tip.</summary>
    public (double FromMm, double ToMm)? ScoreMm { get; init; }

    /// <summary>Depth of the deepest chip, mm.</summary>
    public double ChipMm { get; init; }

    /// <summary>What a steeper facet is ground for; null for a clean apex.</summary>
    public GrindUntil? Until { get; init; }

    /// <summary>Width of a wanted micro-bevel, mm.</summary>
    public double? MicroWidthMm { get; init; }

    /// <summary>Radius of the old facets: hollow positive, convex negative, null flat.</summary>
    public double? OldRadiusMm { get; init; }

    /// <summary>Advance of the pen test's touch, mm; null for the labelled default.</summary>
    public double? AdvanceMm { get; init; }
}
