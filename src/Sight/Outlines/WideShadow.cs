namespace Whetwright.Sight.Outlines;

/// <summary>
/// A lamp's shadow widens with the edge's height, and at a high heel it may be wider than sections reach: there they show its rim and no steel, while nearer to the tip they show both. The
/// light that was found there tells how far behind the rim the steel lies.
/// </summary>
internal static class WideShadow
{
    /// <summary>A rim further outside the steel than this is near the end of what sections reach, mm. Chosen.</summary>
    private const double ReachMm = 2.3;

    /// <summary>A fainter lamp's rim would not have been taken for the edge. Chosen.</summary>
    private const double LeastShare = 0.1;

    /// <summary>The line of stations is the rim where that lies within this of it, mm: in so many of the sections next to those that show no steel. Chosen.</summary>
    private const double OnRimMm = 0.4;
    private const int Fewest = 5, Next = 10;

    /// <summary>Sections look so much further inward than outward, mm: the steel comes into their middle where they are drawn so far before it.</summary>
    private const double BeforeMm = 0.9;

    /// <summary>A section that shows no steel is off by more than this, mm. Chosen.</summary>
    private const double OffMm = 0.6;

    /// <summary>How far inward from the line of stations sections are to be drawn anew: where steel was found, and a little before where it is supposed behind a wide shadow; null where none is.</summary>
    /// <param name="sections">Sections across the line of stations.</param>
    /// <param name="light">The light found.</param>
    /// <param name="inwardMm">Where the steel was found, inward from the line of stations.</param>
    public static double[]? Behind(IReadOnlyList<EdgeProfile> sections, EdgeLight light, double[] inwardMm)
    {
        foreach (EdgeLamp lamp in light.Lamps.Where(l => l.Share >= LeastShare))
        {
            double[] rim = [.. sections.Select(s => light.RimMm(lamp, s))];
            bool[] beyond = [.. rim.Select((r, i) => r > ReachMm && r - inwardMm[i] > OffMm)];
            int last = Array.LastIndexOf(beyond, true);
            if (last >= 0 && Enumerable.Range(last + 1, Next).Count(i => i < rim.Length && Math.Abs(rim[i] - inwardMm[i]) < OnRimMm) >= Fewest)
                return [.. inwardMm.Select((v, i) => beyond[i] ? rim[i] - BeforeMm : v)];
        }

        return null;
    }
}
