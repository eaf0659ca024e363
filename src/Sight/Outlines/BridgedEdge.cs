using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Bridges what no ground edge does: a line that leaves its curve inward by a step, runs beside it and steps back. So does one that ran along the shoulder over a stretch of bevel
/// as bright as the paper. Within some centimetres a ground edge is a curve of the third degree, which the line on both sides of the stretch tells.
/// </summary>
internal static class BridgedEdge
{
    /// <summary>Sections on each side that tell the curve, and those of them beside the stretch that must lie on it; sections lie 2 mm apart. Chosen.</summary>
    private const int Side = 9;
    private const int Near = 4;

    /// <summary>The longest stretch, sections. Chosen: a curve is told over as much as lies on both sides.</summary>
    private const int Longest = 14;

    /// <summary>Within so many sections it has gone half its way: what leaves slowly may be a worn hollow. Chosen.</summary>
    private const int Step = 2;

    /// <summary>On the curve is what is this near to it, mm, off it what is further, and one section of a stretch must be as far as that. Chosen: edges are found to some hundredths.</summary>
    private const double OnMm = 0.1;
    private const double OffMm = 0.25;

    /// <summary>Sections some four times as far off have no say in the curve, mm. Chosen.</summary>
    private const double ScaleMm = 0.05;

    /// <summary>How much further outside the edge lies in each section; 0 where the line stays.</summary>
    /// <param name="line">Where the edge was found in each section.</param>
    /// <param name="inward">The normals.</param>
    public static double[] OutwardMm(Point2[] line, Vector2[] inward)
    {
        double[] outward = new double[line.Length];
        for (int from = Near; from < line.Length - Near; from++)
        {
            for (int to = from + 1; to <= Math.Min(from + Longest, line.Length - Near); to++)
            {
                if (Beside(line, inward, from, to) is not { } off)
                    continue;
                off.CopyTo(outward, from);
                from = to + Near - 1;
                break;
            }
        }

        return outward;
    }

    // How far outside the line the curve runs from one section to before another; null where the line is not such a stretch.
    private static double[]? Beside(Point2[] line, Vector2[] inward, int from, int to)
    {
        int first = Math.Max(0, from - Side);
        int last = Math.Min(line.Length, to + Side);
        Vector2 x = (line[last - 1] - line[first]).Normalized();
        var y = new Vector2(-x.Y, x.X);
        int[] sides = [.. Enumerable.Range(first, from - first), .. Enumerable.Range(to, last - to)];
        RobustPolynomial curve = RobustPolynomial.Fit([.. sides.Select(i => (line[i] - line[first]).Dot(x))], [.. sides.Select(i => (line[i] - line[first]).Dot(y))], 3, ScaleMm);
        double Off(int i)
        {
            Vector2 p = line[i] - line[first];
            return (p.Dot(y) - curve.At(p.Dot(x))) * y.Dot(inward[i]);
        }

        double most = 0;
        for (int i = from - Near; i < to + Near; i++)
        {
            bool beside = i < from || i >= to;
            double off = Off(i);
            if (beside ? Math.Abs(off) > OnMm : off < OnMm)
                return null;
            if (!beside)
                most = Math.Max(most, off);
        }

        int step = Math.Min(Step, (to - from - 1) / 2);
        bool steep = Off(from + step) > most / 2 && Off(to - 1 - step) > most / 2;
        return most < OffMm || !steep ? null : [.. Enumerable.Range(from, to - from).Select(Off)];
    }
}
