using Whetwright.Core.Quantities;

namespace Whetwright.Core.Optics;

/// <summary>
/// One mark as the combination sees it, whether read by eye or from a photograph: a bevel as read, with the roll of its mount still in it.
/// </summary>
/// <param name="Mount">Which placing, counted from 0.</param>
/// <param name="Tip">Where the tip was in that placing.</param>
/// <param name="Target">The side of the target.</param>
/// <param name="Role">Which grind.</param>
/// <param name="AsRead">The bevel as read: half the turn of the light, counted outward.</param>
/// <param name="Noise">Independent parts of its standard uncertainty.</param>
/// <param name="Common">Parts that it shares with other marks, such as the distance.</param>
public sealed record ReadingObservation(
    int Mount,
    TipDirection Tip,
    Side Target,
    MarkRole Role,
    Angle AsRead,
    IReadOnlyList<NoisePart> Noise,
    IReadOnlyList<CommonPart> Common)
{
    /// <summary>Place on the target, printed millimetres from its zero, x right, y down; null where not known.</summary>
    public Point2? AtMm { get; init; }

    /// <summary>Place in the photograph, pixels; null for marks read by eye.</summary>
    public Point2? PhotoPx { get; init; }

    /// <summary>How many readings it is the mean of.</summary>
    public int Readings { get; init; } = 1;

    /// <summary>The value as a person read it, in the words of the scale (<c>15.5</c>); null where nobody read it.</summary>
    public string? AsTyped { get; init; }

    /// <summary>Side of the blade that threw the light.</summary>
    public Side Blade => Sides.BladeSide(Target, Tip);
}

/// <summary>An independent part of one mark's uncertainty.</summary>
/// <param name="Source">What it comes from, as budgets show it: <c>resolution</c>.</param>
/// <param name="UncertaintyDeg">Standard uncertainty, degrees.</param>
public readonly record struct NoisePart(string Source, double UncertaintyDeg);

/// <summary>A part of a mark's uncertainty that moves other marks too: all parts with one source move together.</summary>
/// <param name="Source">What it comes from: <c>distance</c>. One name, one unknown.</param>
/// <param name="DegPerU">How far the bevel as read moves, signed, when that source is wrong by one standard uncertainty.</param>
public readonly record struct CommonPart(string Source, double DegPerU);
