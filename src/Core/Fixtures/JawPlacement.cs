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

    /// <summary>
    /// Distances of the pivot behind the edge at which the jaw holds the blade: the front stands before the edge's line and at least <see cref="LeastHoldMm"/>
    /// of the blade is in the jaw, d ≤ j + height − 2; a blade higher than the jaw is deep rests on the jaw's floor, so the pivot must lie behind it,
    /// d &gt; height − depth. Infinite to one side where the height is not known.
    /// </summary>
    public static (double LeastMm, double MostMm) Reach(Blade blade, double jawToPivotMm, double? jawDepthMm)
    {
        if (blade.Height is not { Millimetres: var height })
            return (jawToPivotMm + ClearOfEdgeMm, double.PositiveInfinity);
        double floor = jawDepthMm is { } depth ? Math.Max(0, height - depth) : 0;
        return (Math.Max(jawToPivotMm, floor) + ClearOfEdgeMm, jawToPivotMm + height - LeastHoldMm);
    }

    /// <summary>Least that the edge stands out of the jaw, mm (chosen, not derived).</summary>
    public const double ClearOfEdgeMm = 1;

    /// <summary>A billionth of a millimetre: sums of lengths do not come out exact.</summary>
    private const double RoundingMm = 1e-9;

    /// <summary>Why the jaw cannot hold the blade so; null where it can, or where the blade's height is not known.</summary>
    /// <param name="blade">The blade.</param>
    /// <param name="jawDepthMm">How deep the blade can go into the jaw; null where not described.</param>
    public Reason? CannotHold(Blade blade, double? jawDepthMm = null)
    {
        if (ProtrusionMm <= 0)
            return new("jaw-cannot-hold", FormattableString.Invariant($"The jaw would stand {-ProtrusionMm:0.0} mm beyond the edge. The pivot must lie further behind the edge than jawToPivotMm."));
        if (blade.Height is not { Millimetres: var height })
            return null;
        double held = height - ProtrusionMm;
        if (held < LeastHoldMm - RoundingMm)
            return new("jaw-cannot-hold", FormattableString.Invariant($"The edge would stand {ProtrusionMm:0.0} mm out of the jaw, but the blade is {height:0.0} mm high: the jaw would hold less than {LeastHoldMm} mm of it."));
        return jawDepthMm is { } depth && held > depth + RoundingMm
            ? new("jaw-cannot-hold", FormattableString.Invariant($"The edge would stand {ProtrusionMm:0.0} mm out of the jaw, so {held:0.0} mm of the blade would be in it, but it is {depth:0.0} mm deep. The pivot must lie further behind the edge."))
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
