using Whetwright.Core.Quantities;

namespace Whetwright.Core.Sections;

/// <summary>What the new facets are ground for, where they are steeper than the old ones.</summary>
public enum GrindUntil
{
    /// <summary>Until the two new facets meet in a clean apex; part of the old facet stays as a second bevel.</summary>
    Apex = 0,

    /// <summary>Until the new facet is a micro-bevel of a wanted width.</summary>
    Micro = 1,

    /// <summary>Until nothing of the old facet is left.</summary>
    Full = 2,
}

/// <summary>A pair of angles, one for each blade side, degrees from the mid-plane (from the back for a piece with one: the back's own is 0).</summary>
/// <param name="LeftDeg">Left.</param>
/// <param name="RightDeg">Right.</param>
public sealed record SidePair(double LeftDeg, double RightDeg)
{
    /// <summary>The angle of one side.</summary>
    public double this[Side side] => side == Side.Left ? LeftDeg : RightDeg;
}

/// <summary>
/// The section of an edge as found and what is to become of it. Lengths count from the <i>virtual apex</i>, where the old
/// facets would meet if they were keen.
/// </summary>
/// <param name="BehindEdgeMm">Thickness t_e at the shoulder of the old facets, above 0.</param>
/// <param name="PrimaryHalfDeg">Half the included angle of the flanks, 0 to below 45. With a back: the one flank stands at twice this from the back.</param>
/// <param name="Old">Old facet angles at the apex, above the flank's and below 80.</param>
/// <param name="New">New facet angles at the apex.</param>
/// <param name="LengthMm">Length of the edge that is ground, above 0.</param>
public sealed record SectionInput(double BehindEdgeMm, double PrimaryHalfDeg, SidePair Old, SidePair New, double LengthMm)
{
    /// <summary>Width v of the blunt strip at the apex, measured across.</summary>
    public double LandMm { get; init; }

    /// <summary>Depth of the deepest chip under today's edge (that is, under the land).</summary>
    public double ChipMm { get; init; }

    /// <summary>Depth of steel under today's edge that was overheated (blued) and must go.</summary>
    public double BluedDepthMm { get; init; }

    /// <summary>Must be said where a new facet is steeper than the old one, unless the recession is given.</summary>
    public GrindUntil? Until { get; init; }

    /// <summary>Recession of the apex from the old virtual apex, where it is given: it wins over land, chip and until.</summary>
    public double? RecessionMm { get; init; }

    /// <summary>Width of the wanted micro-bevel, with <see cref="GrindUntil.Micro"/>.</summary>
    public double? MicroWidthMm { get; init; }

    /// <summary>The side that is the back of a single-bevel knife, a chisel or a scissor blade; it is never ground.</summary>
    public Side? Back { get; init; }

    /// <summary>Radius of the old facets: hollow positive, convex negative, null flat.</summary>
    public double? OldRadiusMm { get; init; }

    /// <summary>Radius of the new facets: that of the wheel (hollow, positive), a slack belt's (convex, negative), null flat.</summary>
    public double? NewRadiusMm { get; init; }

    /// <summary>Height of the blade from today's edge to the spine, where known.</summary>
    public double? HeightMm { get; init; }

    /// <summary>Allowance for the burr over the clean apex; null takes <see cref="SectionDefaults.BurrAllowanceMm"/>.</summary>
    public double? BurrAllowanceMm { get; init; }

    /// <summary>Margin under a chip's root; null takes <see cref="SectionDefaults.ChipMarginMm"/>.</summary>
    public double? ChipMarginMm { get; init; }

    /// <summary>Density of the steel; null takes <see cref="SectionDefaults.SteelDensityMgPerMm3"/>.</summary>
    public double? DensityMgPerMm3 { get; init; }

    /// <summary>House rule: thickness behind the edge at which a piece is thinned; null takes <see cref="SectionDefaults.ThinningLimitMm"/>.</summary>
    public double? ThinningLimitMm { get; init; }

    /// <summary>Recession expected at each later visit; null takes <see cref="SectionDefaults.VisitRecessionMm"/>.</summary>
    public double? VisitRecessionMm { get; init; }

    /// <summary>
    /// Reads the value of every field and throws on the first that is no number, negative or out of its range.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">Names the field as files spell it, the value and the allowed range.</exception>
    public void Validate()
    {
        Require.Positive(BehindEdgeMm, "behindEdgeMm");
        Require.Within(PrimaryHalfDeg, 0, 44.9, "primaryHalfDeg");
        ValidatePair(Old, "old");
        ValidatePair(New, "new");
        Require.Positive(LengthMm, "lengthMm");
        Require.NotNegative(LandMm, "landMm");
        Require.NotNegative(ChipMm, "chipMm");
        Require.NotNegative(BluedDepthMm, "bluedDepthMm");
        if (RecessionMm is { } r) Require.NotNegative(r, "recessionMm");
        if (MicroWidthMm is { } m) Require.Positive(m, "microWidthMm");
        if (HeightMm is { } h) Require.Positive(h, "heightMm");
        if (BurrAllowanceMm is { } b) Require.NotNegative(b, "burrAllowanceMm");
        if (ChipMarginMm is { } c) Require.NotNegative(c, "chipMarginMm");
        if (DensityMgPerMm3 is { } d) Require.Positive(d, "densityMgPerMm3");
        if (ThinningLimitMm is { } t) Require.Positive(t, "thinningLimitMm");
        if (VisitRecessionMm is { } v) Require.Positive(v, "visitRecessionMm");
        ValidateRadius(OldRadiusMm, "oldRadiusMm");
        ValidateRadius(NewRadiusMm, "newRadiusMm");
        if (Until is { } until) ValidateKnown(until, "until", "Must be apex, micro or full.");
        if (Back is { } back) ValidateKnown(back, "back", "Must be left or right.");
    }

    private static void ValidateKnown<T>(T value, string name, string allowed)
        where T : struct, Enum
    {
        if (!Enum.IsDefined(value))
            throw new ArgumentOutOfRangeException(name, value, allowed);
    }

    private void ValidatePair(SidePair pair, string name)
    {
        foreach (Side side in (ReadOnlySpan<Side>)[Side.Left, Side.Right])
        {
            string field = name + (side == Side.Left ? ".leftDeg" : ".rightDeg");
            if (Back == side)
                Require.Within(pair[side], 0, 0, field);
            else
                Require.Within(pair[side], 0.5, 80, field);
        }
    }

    private static void ValidateRadius(double? radiusMm, string name)
    {
        if (radiusMm is { } r && !(double.IsFinite(r) && Math.Abs(r) >= 1))
            throw new ArgumentOutOfRangeException(name, r, "Must be 1 mm or more (hollow), -1 mm or less (convex), or left out (flat).");
    }
}
