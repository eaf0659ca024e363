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

    /// <summary>
    /// How far edges sweep up to their tips, mm: in the mean, of three quarters of them; the others are straight to the corner. What the outline is off before a corner:
    /// mostly as a normal law of this standard deviation, else (share) up to some millimetres, where a shadow or bright steel was followed. Estimates from 45 rendered blanks.
    /// </summary>
    private const double SweepMm = 1.7, Straight = 0.25, OffMm = 0.25, Astray = 0.13;

    /// <summary>An outline that is off at the other corners is no surer at this one: so much of the median of those. Likewise.</summary>
    private const double OffAsOthers = 0.8;

    /// <summary>Weights of how the halo fades along the spine and along the edge, and of what else tells the sides (logistic regression on the same); the least halo, as for the sides.</summary>
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
    public static EndOdds Judge(BladeLie lie, double sidesOdds, double lowFades, double highFades)
    {
        double[] log = new double[4];
        double[] corner = [lie.SweepMm(false, false), lie.SweepMm(false, true), lie.SweepMm(true, false), lie.SweepMm(true, true)];
        if (Math.Min(corner[0], corner[2]) > PointedMm || Math.Min(corner[1], corner[3]) > PointedMm)
            return new(0, 0);
        foreach (bool high in new[] { false, true })
        {
            double side = Math.Clamp(Sides * sidesOdds / 2, -20, 20) * (high ? 1 : -1);
            double fades = Math.Clamp((SpineFades * (high ? lowFades : highFades)) + (EdgeFades * (high ? highFades : lowFades)), -MostFades, MostFades);
            foreach (bool far in new[] { false, true })
                log[Index(high, far)] = side + (fades / (far ? 2 : -2)) + Sweeps(corner[Index(high, far)], Off(corner, Index(high, far)));
        }

        double Either(int a, int b) => Math.Max(log[a], log[b]) + Math.Log(1 + Math.Exp(-Math.Abs(log[a] - log[b])));
        return new(
            Either(Index(false, true), Index(true, true)) - Either(Index(false, false), Index(true, false)),
            Either(Index(true, false), Index(true, true)) - Either(Index(false, false), Index(false, true)));
    }

    public static double HaloFades(SmoothEdge side, PhotoSampler sampler, Fiducials.LensMap map) => EdgeEvidence.HaloFades(side, sampler, map, LeastHalo);

    private static int Index(bool high, bool far) => (high ? 2 : 0) + (far ? 1 : 0);

    private static double Off(double[] corner, int at)
    {
        double others = corner.Where((_, i) => i != at).Select(Math.Abs).Order().ElementAt(1);
        return Math.Sqrt((OffMm * OffMm) + (OffAsOthers * OffAsOthers * others * others));
    }

    /// <summary>Odds (logarithm) that a side which lies so far inside its line before a corner is an edge that sweeps up there, against a side that ends straight.</summary>
    private static double Sweeps(double insideMm, double offMm)
    {
        double straight = ((1 - Astray) * Math.Exp(-insideMm * insideMm / (2 * offMm * offMm)) / (offMm * Math.Sqrt(2 * Math.PI))) + (Astray * Math.Exp(-Math.Abs(insideMm)) / 2);

        // Sweeps become rarer evenly with their size; what the outline is off softens their beginning.
        double swept = Math.Exp(-Math.Max(0, insideMm) / SweepMm) / SweepMm / (1 + Math.Exp(-insideMm / (0.6 * offMm)));
        return Math.Log(Straight + ((1 - Straight) * swept / straight));
    }
}
