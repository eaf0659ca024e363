using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// What stands in where nothing was measured. Every value of <see cref="Default"/> is chosen, not derived, and results that lean on one say so.
/// </summary>
public sealed record ReadingAssumptions
{
    /// <summary>The chosen defaults.</summary>
    public static ReadingAssumptions Default { get; } = new();

    /// <summary>Scatter of the roll between clampings, before repeats say better: 0.2° (chosen).</summary>
    public Angle Scatter { get; init; } = Angle.FromDegrees(0.2);

    /// <summary>How many degrees of freedom the prior scatter is worth against that of repeats: 4 (chosen).</summary>
    public double ScatterPriorDegreesOfFreedom { get; init; } = 4;

    /// <summary>Standard uncertainty of the holder's roll where no measurement tells it: 1° (chosen).</summary>
    public Angle HolderRollUncertainty { get; init; } = Angle.FromDegrees(1);

    /// <summary>Standard uncertainty of half the difference between the two primaries, which are taken as equal: 0.2° (chosen).</summary>
    public Angle PrimaryHalfDifference { get; init; } = Angle.FromDegrees(0.2);

    /// <summary>Relative standard uncertainty of the distance where no instrument file tells it: 0.5 % (chosen).</summary>
    public double DistanceRelativeUncertainty { get; init; } = 0.005;

    /// <summary>Standard uncertainty of the zero, as a part of the distance, where no instrument file tells it: 0.5 % (chosen).</summary>
    public double ZeroRelativeUncertainty { get; init; } = 0.005;

    /// <summary>Distance of a scale that does not name its own: 100 mm (chosen; a degree scale reads the same at any distance it was printed for).</summary>
    public Length Distance { get; init; } = Length.FromMillimetres(100);

    /// <summary>Chance that any one mark is wild (misread, mistyped, another facet's): 1 % (chosen).</summary>
    public double WildChance { get; init; } = 0.01;

    /// <summary>Standard deviation of a wild mark about the truth: 5° (chosen).</summary>
    public Angle WildSpread { get; init; } = Angle.FromDegrees(5);
}
