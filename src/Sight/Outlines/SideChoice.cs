using Whetwright.Core.Quantities;
using Whetwright.Core.Targets;
using Whetwright.Sight.Fiducials;

namespace Whetwright.Sight.Outlines;

/// <summary>What was seen that tells edge from spine; logarithms of odds that the high side is the edge, one per cue.</summary>
/// <param name="Drop">The heel stands out over the handle on the edge's side.</param>
/// <param name="Shoulder">A stripe of even width, the bevel, runs along the edge.</param>
/// <param name="Dents">Chips are in the edge.</param>
/// <param name="Curve">The edge leaves its straight line earlier than a spine; the tip mostly lies nearer to the edge's line.</param>
/// <param name="Halo">The thick spine takes more sky light from the paper beside it than the thin edge.</param>
/// <param name="Ground">The last millimetre of steel before the edge is ground to another slope and has another tone.</param>
/// <param name="Rim">A band of another tone runs along the rim, where no spine's face can be seen (<see cref="RimBand"/>).</param>
internal readonly record struct SideOdds(double Drop, double Shoulder, double Dents, double Curve, double Halo, double Ground, double Rim)
{
    public double Total => Drop + Shoulder + Dents + Curve + Halo + Ground + Rim;

    /// <summary>
    /// All but the curve, where it is not known which end is the tip's. The halo counts for a quarter: broad blades lie under as much of a lamp's shadow as of their own,
    /// and on 36 rendered blanks it is right in 23.
    /// </summary>
    public double OfBlank => Total - Curve - (3 * Halo / 4);

    public override string ToString() => FormattableString.Invariant($"drop {Drop:0.0} shoulder {Shoulder:0.0} dents {Dents:0.0} curve {Curve:0.0} halo {Halo:0.0} ground {Ground:0.0} rim {Rim:0.0}");
}

/// <summary>Which of the blade's two long sides is the edge.</summary>
internal static class SideChoice
{
    /// <summary>Below this the sides are as good as equal: odds of 2.7 to 1. Chosen.</summary>
    public const double LeastOdds = 1;

    /// <summary>Half of a quiet outline lies within this of its smooth line. Chosen.</summary>
    private const double QuietMm = 0.06;

    /// <summary>Darkness of the paper (natural logarithm) below which a halo is not told from noise. Chosen.</summary>
    private const double LeastHalo = 0.009;

    /// <summary>The same for the tone of the ground.</summary>
    private const double LeastGround = 0.02;

    /// <summary>
    /// Weights chosen for likelihood on one half of 215 rendered blades without a handle and looked at on the other (bench/Outlines: how they hold); and how far each cue is
    /// trusted at most (chosen: none of them alone is more certain than 20 to 1).
    /// </summary>
    private const double HaloWeight = 4, GroundWeight = 0.5, ShoulderWeight = 0.35, DentWeight = 1.5, EarlyWeight = 6.4, PointWeight = 9.6, RimWeight = 0.6;

    /// <summary>A heel that stands out over the handle by this much more than the spine does is 2.7 to 1 the edge's: shadows move an outline so far. Chosen.</summary>
    private const double DropMm = 0.5;

    /// <summary>A side of the mat must face the blade's side at least this much (cosine) to be told by it. Chosen.</summary>
    public const double LeastFacing = 0.25;

    /// <summary>How much the high side faces a side of the mat, −1 to 1.</summary>
    public static double Told(BladeLie lie, MatSide side) => lie.Across.Dot(Toward(side));

    /// <summary>Unit vector toward a side of the mat.</summary>
    public static Vector2 Toward(MatSide side) => side switch
    {
        MatSide.Top => new(0, -1),
        MatSide.Bottom => new(0, 1),
        MatSide.Left => new(-1, 0),
        _ => new Vector2(1, 0),
    };

    public static SideOdds Judge(BladeLie lie, SmoothEdge low, SmoothEdge high, PhotoSampler sampler, LensMap map, double pxMm, MatCamera camera, double blurMm)
    {
        double difference = lie.DropMm.High - lie.DropMm.Low;
        double drop = lie.HasHandle ? Math.Clamp(difference / DropMm, -6, 6) : 0;
        double shoulder = 0;
        int dents = 0;
        if (EdgeEvidence.Shoulder(high, sampler, map, pxMm) is { } highStep && EdgeEvidence.Shoulder(low, sampler, map, pxMm) is { } lowStep)
        {
            shoulder = Math.Log(highStep + 0.012) - Math.Log(lowStep + 0.012);
            dents = Dents(high) - Dents(low);
        }

        double early = Math.Clamp(EarlyWeight * (lie.Departs.Low - lie.Departs.High), -2.2, 2.2);
        double point = Math.Clamp(PointWeight * (lie.TipShare - 0.5), -2.5, 2.5);

        // With a handle the blade stands off the mat on it; the drop speaks there.
        double halo = lie.HasHandle ? 0 : HaloWeight * Math.Log((EdgeEvidence.Halo(low, sampler, map) + LeastHalo) / (EdgeEvidence.Halo(high, sampler, map) + LeastHalo));
        double ground = GroundWeight * Math.Log((EdgeEvidence.Ground(high, sampler, map) + LeastGround) / (EdgeEvidence.Ground(low, sampler, map) + LeastGround));
        double rim = lie.HasHandle ? 0 : RimWeight * (RimBand.Odds(high, sampler, map, camera, blurMm) - RimBand.Odds(low, sampler, map, camera, blurMm));
        return new(
            drop,
            Math.Clamp(ShoulderWeight * shoulder, -0.5, 0.5),
            Math.Clamp(DentWeight * dents, -2.1, 2.1),
            Math.Clamp(early + point, -2.5, 2.5),
            Math.Clamp(halo, -3, 3),
            Math.Clamp(ground, -1.2, 1.2),
            Math.Clamp(rim, -1.25, 1.25));
    }

    /// <summary>Chips, where the outline is quiet enough to show them; steel as bright as the paper frays it.</summary>
    private static int Dents(SmoothEdge edge)
    {
        double[] off = [.. edge.RawMm.Zip(edge.SmoothMm, (r, s) => Math.Abs(r - s)).Order()];
        int dents = EdgeEvidence.Dents(edge);
        return dents <= 4 && off[off.Length / 2] < QuietMm ? Math.Min(dents, 2) : 0;
    }
}
