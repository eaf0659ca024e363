using Whetwright.Core.Optics;
using Whetwright.Core.Quantities;
using Whetwright.Sight.Marks;

namespace Whetwright.Sight.Reading;

/// <summary>What a mark in the photo was taken for.</summary>
public enum SeenRole
{
    /// <summary>Edge bevel.</summary>
    Edge = 0,

    /// <summary>Primary grind.</summary>
    Primary = 1,

    /// <summary>Micro-bevel.</summary>
    Micro = 2,

    /// <summary>The beam that passes the blade, or the primary merged with it.</summary>
    Bare = 3,

    /// <summary>Light off the reading row: a glint on the blade, or a ghost.</summary>
    Stray = 4,

    /// <summary>Ink in the laser's colour.</summary>
    Pen = 5,
}

/// <summary>A mark seen in a photo.</summary>
/// <param name="Mount">Which placing, from 0.</param>
/// <param name="Target">Side of the target.</param>
/// <param name="Role">What it was taken for.</param>
/// <param name="TargetMm">Its place on the sheet (reading point for used marks, middle for others), mm as drawn.</param>
/// <param name="PhotoPx">The same in the photo.</param>
/// <param name="AsRead">Bevel as read with its standard uncertainty; null for what is no facet.</param>
public sealed record SeenMark(int Mount, Side Target, SeenRole Role, Point2 TargetMm, Point2 PhotoPx, MeasuredAngle? AsRead)
{
    /// <summary>Range over a curved facet as read, inner to outer; null where the mark is no wider than its flanks.</summary>
    public (Angle Inner, Angle Outer)? Range { get; init; }

    /// <summary>Clarity, 0 to 1.</summary>
    public double? Clarity { get; init; }

    /// <summary>Part of its brighter half that is burnt out, 0 to 1.</summary>
    public double BurntOut => Shape?.Clipped ?? 0;

    /// <summary>Peak in units of the noise there; 0 where nobody measured it.</summary>
    public double SignalToNoise => Shape?.SignalToNoise ?? 0;

    /// <summary>The mark as the combination would take it, also where it was left out; null for what is no facet.</summary>
    public ReadingObservation? Observation { get; init; }

    internal MarkShape? Shape { get; init; }
}
