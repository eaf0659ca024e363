using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>What was seen that tells edge from spine; logarithms of odds that the high side is the edge, one per cue.</summary>
/// <param name="Drop">The heel stands out over the handle on the edge's side.</param>
/// <param name="Shoulder">A stripe of even width, the bevel, runs along the edge.</param>
/// <param name="Dents">Chips are in the edge.</param>
/// <param name="Curve">The edge bulges, a spine is straight or bends only near the tip.</param>
internal readonly record struct SideOdds(double Drop, double Shoulder, double Dents, double Curve)
{
    public double Total => Drop + Shoulder + Dents + Curve;

    public override string ToString() => FormattableString.Invariant($"drop {Drop:0.0} shoulder {Shoulder:0.0} dents {Dents:0.0} curve {Curve:0.0}");
}

/// <summary>Which of the blade's two long sides is the edge.</summary>
internal static class SideChoice
{
    /// <summary>Below this the sides are as good as equal: 3 to 1. Chosen.</summary>
    public const double LeastOdds = 1.1;

    public static SideOdds Judge(BladeLie lie, SmoothEdge low, SmoothEdge high, PhotoSampler sampler, LensMap map, double pxMm)
    {
        double difference = lie.DropMm.High - lie.DropMm.Low;
        double drop = lie.HasHandle ? Math.Clamp(difference / 1.5, -6, 6) : 0;
        double shoulder = Math.Log(EdgeEvidence.Shoulder(high, sampler, map, pxMm) + 0.012) - Math.Log(EdgeEvidence.Shoulder(low, sampler, map, pxMm) + 0.012);
        int dents = EdgeEvidence.Dents(high) - EdgeEvidence.Dents(low);
        return new(drop, Math.Clamp(1.5 * shoulder, -3, 3), Math.Clamp(1.2 * dents, -3, 3), 0);
    }
}
