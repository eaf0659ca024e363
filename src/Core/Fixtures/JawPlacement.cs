using Whetwright.Core.Blades;
using Whetwright.Core.Quantities;

namespace Whetwright.Core.Fixtures;

/// <summary>What is dialled to bring the pivot where it should be.</summary>
/// <param name="FromHeelMm">x of the middle of the jaw's front.</param>
/// <param name="ProtrusionMm">How far the line of the edge (y = 0) stands out of the jaw's front, square to it.</param>
/// <param name="PlaneTiltDeg">Turn of the holder in the blade's plane, positive where the jaw leans from the pivot toward the tip.</param>
public sealed record JawPlacement(double FromHeelMm, double ProtrusionMm, double PlaneTiltDeg)
{
    /// <summary>Least depth of blade that a jaw must hold, mm (chosen, not derived).</summary>
    public const double LeastHoldMm = 2;

    /// <summary>Front of the jaw, blade frame.</summary>
    public Point2 Front => new(FromHeelMm, -ProtrusionMm);

    /// <summary>
    /// Jaw from pivot: with the holder's length j and its turn φ, front = J + j(sin φ, cos φ). The blade is clamped square (φ = 0) unless its spine would
    /// strike the jaw's floor, jawDepth behind the front; then φ is the smallest turn that avoids it: cos φ = (pivotDistance − (height − jawDepth))/j,
    /// toward the side of the edge's middle. Source: derived in docs/conventions.md.
    /// </summary>
    public static JawPlacement Of(Blade blade, Point2 pivot, double jawToPivotMm, double? jawDepthMm)
    {
        double distance = -pivot.Y;
        double least = blade.Height is { } height && jawDepthMm is { } depth ? Math.Max(0, height.Millimetres - depth) : 0;
        double turn = 0;
        if (jawToPivotMm > 0 && distance - jawToPivotMm < least && distance > least)
            turn = Math.Acos((distance - least) / jawToPivotMm) * (pivot.X <= blade.Edge.ChordMm / 2 ? 1 : -1);
        return new(
            pivot.X + (jawToPivotMm * Math.Sin(turn)),
            distance - (jawToPivotMm * Math.Cos(turn)),
            double.RadiansToDegrees(turn));
    }

    /// <summary>Why the jaw cannot hold the blade so; null where it can, or where the blade's height is not known.</summary>
    public Reason? CannotHold(Blade blade)
    {
        if (ProtrusionMm <= 0)
            return new("jaw-cannot-hold", FormattableString.Invariant($"The jaw would stand {-ProtrusionMm:0.0} mm beyond the edge. The pivot must lie further behind the edge than jawToPivotMm."));
        return blade.Height is { } height && height.Millimetres - ProtrusionMm < LeastHoldMm
            ? new("jaw-cannot-hold", FormattableString.Invariant($"The edge would stand {ProtrusionMm:0.0} mm out of the jaw, but the blade is {height.Millimetres:0.0} mm high: the jaw would hold less than {LeastHoldMm} mm of it."))
            : null;
    }

    /// <summary>How far behind the tangents of the edge the jaw's front begins, mm: the least support distance of its middle over the stations. The jaw's own width is left out.</summary>
    public double LeastBehindMm(IEnumerable<EdgePoint> stations)
    {
        double least = double.PositiveInfinity;
        foreach (EdgePoint station in stations)
            least = Math.Min(least, station.SupportDistanceMm(Front));
        return least;
    }
}
