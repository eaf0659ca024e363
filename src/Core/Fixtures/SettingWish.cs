using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>What is wanted of a rig for one piece.</summary>
public sealed record SettingWish
{
    /// <summary>0.5° (chosen, not derived: what a careful hand keeps).</summary>
    public static Angle UsualTolerance => Angle.FromDegrees(0.5);

    /// <summary>Angle for the left side; null where the left is not to be ground. From the back for pieces with one.</summary>
    public Angle? Left { get; init; }

    /// <summary>Angle for the right side, likewise.</summary>
    public Angle? Right { get; init; }

    /// <summary>How far α may stray; null for <see cref="UsualTolerance"/>.</summary>
    public Angle? Tolerance { get; init; }

    /// <summary>Stretch of arc length that counts; null for heel to a little short of the tip.</summary>
    public (double FromMm, double ToMm)? ScoreMm { get; init; }

    /// <summary>A given pivot foot, blade frame, evaluated instead of searched.</summary>
    public Point2? PivotMm { get; init; }

    /// <summary>With a given pivot, a given bar distance, pivot height or lift, evaluated as it is.</summary>
    public double? SettingMm { get; init; }

    /// <summary>Only this wheel; null for all.</summary>
    public string? Wheel { get; init; }

    /// <summary>The same angle on both sides.</summary>
    public static SettingWish Both(Angle angle) => new() { Left = angle, Right = angle };

    /// <summary>The angle for a side.</summary>
    public Angle? For(Side side) => side == Side.Left ? Left : Right;

    /// <summary>Tolerance in effect.</summary>
    public Angle ToleranceInEffect => Tolerance ?? UsualTolerance;
}
