namespace Whetwright.Sight.Outlines;

/// <summary>What a blade with two ends equally wide and no handle was told to be: logarithms of odds.</summary>
/// <param name="TipFar">That the tip lies at the far end of the <see cref="BladeLie"/>, as it was laid, and the heel at its beginning.</param>
/// <param name="EdgeHigh">That the high side is the edge.</param>
internal readonly record struct EndOdds(double TipFar, double EdgeHigh);

/// <summary>
/// Which end of a blade without handle is the tip's and which side the edge, told together when both ends are equally wide: one corner of four is where the edge meets the tip.
/// An edge sweeps up to its tip's corner and no other side does to any; a spine thins toward the tip, and so does what it takes of the sky's light from the paper.
/// </summary>
internal static class EndChoice
{
    /// <summary>Below this the ends are as good as equal: odds of 4 to 1. Chosen.</summary>
    public const double LeastOdds = 1.4;

    /// <summary>Weights of how the halo fades along the spine and along the edge, and of what else tells the sides (logistic regression on rendered blanks); the least halo, as for the sides.</summary>
    private const double SpineFades = 1, EdgeFades = 0.8, Sides = 0.9, LeastHalo = 0.006;

    /// <summary>How far the fading is trusted at most. Chosen.</summary>
    private const double MostFades = 2;

    /// <summary>Both sides lie inside their lines before one end's corners by this, mm: then it is a blade that narrows to a point which was not seen whole. Chosen.</summary>
    private const double PointedMm = 1.5;

    /// <summary>Both at once; no odds at all where an end narrows from both sides.</summary>
    /// <param name="lie">How the thing lies.</param>
    /// <param name="sidesOdds">Odds (logarithm) of the high side to be the edge by everything but its curve; endless where a person told it.</param>
    /// <param name="lowFades">How the halo beside the low side fades toward the far end.</param>
    /// <param name="highFades">The same of the high side.</param>
    /// <param name="insideMm">How far a side lies inside a straight line from its near end to its far end, mm, where it is known better than by the outline; for the high side or not.</param>
    public static EndOdds Judge(BladeLie lie, double sidesOdds, double lowFades, double highFades, Func<bool, double[]?>? insideMm = null)
    {
        double[] log = new double[4];
        double[] corner = [lie.SweepMm(false, false), lie.SweepMm(false, true), lie.SweepMm(true, false), lie.SweepMm(true, true)];
        if (Math.Min(corner[0], corner[2]) > PointedMm || Math.Min(corner[1], corner[3]) > PointedMm)
            return new(0, 0);
        foreach (bool high in new[] { false, true })
        {
            (double Near, double Far) sweep = SideSweep.Odds(insideMm?.Invoke(high) ?? lie.InsideMm(high), BladeLie.StationMm);
            double side = Math.Clamp(Sides * sidesOdds / 2, -20, 20) * (high ? 1 : -1);
            double fades = Math.Clamp((SpineFades * (high ? lowFades : highFades)) + (EdgeFades * (high ? highFades : lowFades)), -MostFades, MostFades);
            foreach (bool far in new[] { false, true })
                log[Index(high, far)] = side + (fades / (far ? 2 : -2)) + (far ? sweep.Far : sweep.Near);
        }

        double Either(int a, int b) => Math.Max(log[a], log[b]) + Math.Log(1 + Math.Exp(-Math.Abs(log[a] - log[b])));
        return new(
            Either(Index(false, true), Index(true, true)) - Either(Index(false, false), Index(true, false)),
            Either(Index(true, false), Index(true, true)) - Either(Index(false, false), Index(false, true)));
    }

    public static double HaloFades(SmoothEdge side, PhotoSampler sampler, Fiducials.LensMap map) => EdgeEvidence.HaloFades(side, sampler, map, LeastHalo);

    private static int Index(bool high, bool far) => (high ? 2 : 0) + (far ? 1 : 0);
}
