using Whetwright.Core.Quantities;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>What was seen that tells edge from spine; logarithms of odds that the high side is the edge, one per cue.</summary>
/// <param name="Drop">The heel stands out over the handle on the edge's side.</param>
/// <param name="Shoulder">A stripe of even width, the bevel, runs along the edge.</param>
/// <param name="Dents">Chips are in the edge.</param>
/// <param name="Curve">The edge leaves its straight line earlier than a spine; the tip mostly lies nearer to the edge's line.</param>
internal readonly record struct SideOdds(double Drop, double Shoulder, double Dents, double Curve)
{
    public double Total => Drop + Shoulder + Dents + Curve;

    public override string ToString() => FormattableString.Invariant($"drop {Drop:0.0} shoulder {Shoulder:0.0} dents {Dents:0.0} curve {Curve:0.0}");
}

/// <summary>Which of the blade's two long sides is the edge.</summary>
internal static class SideChoice
{
    /// <summary>Below this the sides are as good as equal: odds of 2.2 to 1. Chosen.</summary>
    public const double LeastOdds = 0.8;

    /// <summary>Half of a quiet outline lies within this of its smooth line. Chosen.</summary>
    private const double QuietMm = 0.06;

    public static SideOdds Judge(BladeLie lie, SmoothEdge low, SmoothEdge high, PhotoSampler sampler, LensMap map, double pxMm)
    {
        double difference = lie.DropMm.High - lie.DropMm.Low;
        double drop = lie.HasHandle ? Math.Clamp(difference / 0.8, -6, 6) : 0;
        double shoulder = Math.Log(EdgeEvidence.Shoulder(high, sampler, map, pxMm) + 0.012) - Math.Log(EdgeEvidence.Shoulder(low, sampler, map, pxMm) + 0.012);
        int dents = Dents(high) - Dents(low);
        double early = Math.Clamp(4 * (lie.Departs.Low - lie.Departs.High), -1.2, 1.2);
        double point = Math.Clamp(3 * (lie.TipShare - 0.5), -1, 1);
        return new(drop, Math.Clamp(1.2 * shoulder, -2.2, 2.2), Math.Clamp(1.2 * dents, -2.4, 2.4), early + point);
    }

    /// <summary>Chips, where the outline is quiet enough to show them; steel as bright as the paper frays it.</summary>
    private static int Dents(SmoothEdge edge)
    {
        double[] off = [.. edge.RawMm.Zip(edge.SmoothMm, (r, s) => Math.Abs(r - s)).Order()];
        int dents = EdgeEvidence.Dents(edge);
        return dents <= 4 && off[off.Length / 2] < QuietMm ? Math.Min(dents, 2) : 0;
    }
}
