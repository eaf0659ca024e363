using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>What a mark comes from.</summary>
public enum MarkRole
{
    /// <summary>The edge bevel, or the one bevel of a piece that has no other.</summary>
    Edge = 0,

    /// <summary>The primary grind: the mark nearest zero (common practice, no source).</summary>
    Primary = 1,

    /// <summary>A micro-bevel: the mark farthest out.</summary>
    Micro = 2,
}

/// <summary>What the numbers on the scale mean.</summary>
public enum MarkScale
{
    /// <summary>Degrees of bevel, half of what the light is turned by.</summary>
    Bevel = 0,

    /// <summary>Degrees that the light is turned by, twice the bevel.</summary>
    Deflection = 1,

    /// <summary>Millimetres from the target's zero.</summary>
    TargetMillimetres = 2,
}

/// <summary>
/// Marks read by eye on one side of the target, in the units of the scale, counted outward from zero. A primary's mark may lie below
/// zero where the bare beam does not fall on the printed zero. In millimetres the left side may also be typed as the sheet's own x, all below zero.
/// </summary>
/// <param name="Edge">Readings of the edge bevel's mark; several are repeats.</param>
/// <param name="Primary">Readings of the primary grind's mark.</param>
/// <param name="Micro">Readings of a micro-bevel's mark.</param>
public sealed record BenchSideMarks(IReadOnlyList<double> Edge, IReadOnlyList<double> Primary, IReadOnlyList<double> Micro)
{
    /// <summary>No mark was seen on this side.</summary>
    public static BenchSideMarks None { get; } = new([], [], []);

    /// <summary>The readings of one role.</summary>
    public IReadOnlyList<double> Of(MarkRole role) => role switch
    {
        MarkRole.Edge => Edge,
        MarkRole.Primary => Primary,
        _ => Micro,
    };
}

/// <summary>One placing of the blade in the beam.</summary>
/// <param name="Tip">Where the tip was; null where nobody noted it (allowed for a single mount only).</param>
/// <param name="Left">Marks on the target's left, looking along the beam.</param>
/// <param name="Right">Marks on the target's right.</param>
public sealed record BenchMount(TipDirection? Tip, BenchSideMarks Left, BenchSideMarks Right)
{
    /// <summary>The marks on one side of the target.</summary>
    public BenchSideMarks On(Side target) => target == Side.Left ? Left : Right;
}

/// <summary>Marks of one blade read by eye: all that a reading needs.</summary>
/// <param name="Scale">What the typed numbers mean.</param>
/// <param name="ResolutionDeg">
/// The finest step that was told apart: bevel degrees on a bevel or a millimetre scale, degrees of deflection on a deflection scale.
/// </param>
/// <param name="Mounts">The placings, in the order they were read.</param>
public sealed record BenchMarks(MarkScale Scale, double ResolutionDeg, IReadOnlyList<BenchMount> Mounts)
{
    /// <summary>The finest step in millimetres, in place of <see cref="ResolutionDeg"/> on a millimetre scale; null: the degrees count.</summary>
    public double? ResolutionMm { get; init; }

    /// <summary>The target with its distance and zero; null: the scale's own distance is taken, with default uncertainties that are labelled.</summary>
    public Instrument? Instrument { get; init; }

    /// <summary>The distance a degree scale was printed for; null: the instrument's distance.</summary>
    public Length? ScaleDistance { get; init; }

    /// <summary>True for single-bevel knives, chisels, plane irons and scissors, whose second face is the back.</summary>
    public bool HasBack { get; init; }

    /// <summary>What was known before, such as the last visit's check.</summary>
    public IReadOnlyList<PriorAngle> Priors { get; init; } = [];

    /// <summary>The assumptions that stand where nothing was measured.</summary>
    public ReadingAssumptions Assumptions { get; init; } = ReadingAssumptions.Default;
}

/// <summary>An angle of the blade that was known before this reading.</summary>
/// <param name="Blade">Side of the blade.</param>
/// <param name="Role">Which grind.</param>
/// <param name="Angle">Per side, from the mid-plane, with standard uncertainty.</param>
public sealed record PriorAngle(Side Blade, MarkRole Role, MeasuredAngle Angle);
