using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <content>A handle as wide as its blade, told by its tone: even all over, and steel, brighter or darker, begins across the whole width at once.</content>
internal sealed partial class BladeLie
{
    /// <summary>Lanes along the thing in which it is looked at, shares of its width: outline and bevel are left out. Chosen.</summary>
    private static readonly double[] s_lanes = [0.3, 0.4, 0.5, 0.6, 0.7];

    /// <summary>A handle is as even as this, and steel brighter than it, or darker, by this in every lane (natural logarithm of light): steel that a lamp lights from one place on by less. Chosen.</summary>
    private const double EvenTone = 0.3, OtherTone = 0.5;

    /// <summary>A handle's end is at least this share of its breadth wide, so far from it, mm: a blade's point is narrower. Chosen.</summary>
    private const double BluntShare = 0.7, BluntAtMm = 5;

    /// <summary>Tones are taken from so far to so far beside the place, mm, and the handle's end itself is left out. Chosen.</summary>
    private const double BesideFromMm = 3, BesideToMm = 15, HandlesEndMm = 4;

    /// <summary>In every lane the tone changes within this of the place, mm: from less than this share of the step to more than that. Chosen.</summary>
    private const double AtOnceMm = 3, NotYet = 0.2, Already = 0.7;

    /// <summary>Where a handle that the outline does not tell ends; null where there is none at this end.</summary>
    /// <param name="lightAt">The photo's light at a place on the mat.</param>
    private double? GripByTone(Func<Point2, double> lightAt)
    {
        const double dark = 0.005;
        int n = Low.Length;
        (int near, int far, int once, int end) = ((int)(BesideFromMm / StationMm), (int)(BesideToMm / StationMm), (int)(AtOnceMm / StationMm), (int)(HandlesEndMm / StationMm));
        double[][] tone = [.. s_lanes.Select(l => Enumerable.Range(0, n).Select(i => Math.Log(dark + lightAt(Origin + (Axis * ((i + 0.5) * StationMm)) + (Across * (Low[i] + (l * Width(i))))))).ToArray())];
        for (int i = (int)(ShortestGripMm / StationMm); i < n - (int)(25 / StationMm); i++)
        {
            double[] handle = [.. tone.Select(t => Quantile(t, end, i - near, 0.5))];
            double even = tone.Max(t => Quantile(t, end, i - near, 0.9)) - tone.Min(t => Quantile(t, end, i - near, 0.1));
            if (even > EvenTone)
                return null;
            bool steel = new[] { 1, -1 }.Any(sign => Enumerable.Range(0, tone.Length).All(k => Begins(tone[k], i, handle[k], sign)));
            bool blunt = Width((int)(BluntAtMm / StationMm)) > BluntShare * WidthAbout(i / 2);
            if (steel && blunt && Gripped(i * StationMm) && Slender(i * StationMm))
                return i * StationMm;
        }

        return null;

        // Brighter steel where the sign is 1, darker where it is -1.
        bool Begins(double[] lane, int i, double handle, int sign)
        {
            double Above(int from, int to, double quantile) => sign * (Quantile(lane, from, to, sign > 0 ? quantile : 1 - quantile) - handle);
            double step = Above(i + near, i + far, 0.5);
            return Above(i + near, i + far, 0.25) > OtherTone && Above(i - once - 2, i - once, 0.5) < NotYet * step && Above(i + once, i + once + 2, 0.5) > Already * step;
        }
    }
}
