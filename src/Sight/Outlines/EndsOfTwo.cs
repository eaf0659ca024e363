using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>Heel and tip of one blade that lies still, seen in two photos: each photo says where they are, and both are weighed by what they know.</summary>
internal static class EndsOfTwo
{
    /// <summary>Ends further apart than this are not two looks at one end, mm. Chosen: the first photo's stays, with the doubt.</summary>
    public const double FarthestMm = 2;

    /// <summary>By how much an end of the first photo moves outward, and its standard uncertainty.</summary>
    /// <param name="apartMm">How much further out the second photo has it.</param>
    /// <param name="firstUMm">Standard uncertainty in the first photo.</param>
    /// <param name="secondUMm">Standard uncertainty in the second.</param>
    public static (double OutwardMm, double UMm) Weigh(double apartMm, double firstUMm, double secondUMm)
    {
        // The difference of two looks is itself a look at their scatter: half of it is the least that the mean is off by where they disagree.
        double far = Math.Abs(apartMm);
        if (far > FarthestMm)
            return (0, Math.Max(firstUMm, far / 2));
        double sum = (firstUMm * firstUMm) + (secondUMm * secondUMm);
        double share = sum > 0 ? firstUMm * firstUMm / sum : 0.5;
        double u = sum > 0 ? firstUMm * secondUMm / Math.Sqrt(sum) : 0;
        return (share * apartMm, Math.Max(u, far > 2 * Math.Sqrt(sum) ? far / 2 : 0));
    }

    /// <summary>An edge with its ends moved outward along it, its stations as far apart as before.</summary>
    /// <param name="line">Stations, heel to tip.</param>
    /// <param name="heelMm">How far the heel moves outward.</param>
    /// <param name="tipMm">How far the tip does.</param>
    public static Point2[] Moved(Point2[] line, double heelMm, double tipMm)
    {
        Point2[] toHeel = [.. End(line, tipMm).Reverse()];
        return Contour.Open([.. End(toHeel, heelMm).Reverse()], line[0].DistanceTo(line[1]));
    }

    /// <summary>Which way a line's last end points.</summary>
    public static Vector2 Outward(Point2[] line) => (line[^1] - line[^Math.Min(line.Length, 1 + Math.Max(1, line.Length / 30))]).Normalized();

    private static Point2[] End(Point2[] line, double byMm)
    {
        Vector2 outward = Outward(line);
        Point2 end = line[^1] + (outward * byMm);
        return [.. line.Where(p => (end - p).Dot(outward) > 0 || p.DistanceTo(end) > 4 * FarthestMm), end];
    }
}
