using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// The curve that most of an edge's path lies on. A path runs inside the edge where the bevel is as bright as the paper, and outside it where a shadow's rim is stronger than the
/// edge; where it leaves the edge it steps. Cut at its steps, the parts that lie on one curve are the edge's: a ground edge bends slowly, and the curve of least change of bend through
/// them (<see cref="Graduation"/>) tells where it runs beside the others.
/// </summary>
internal static class StiffLine
{
    /// <summary>Places along the path, mm. Chosen.</summary>
    private const double EveryMm = 2;

    /// <summary>Straight lines over so many places on both sides of a step, the places right beside it left out, meet this far apart, mm. Chosen.</summary>
    private const int Beside = 6;
    private const double StepMm = 0.4;

    /// <summary>Least places that tell a line, and least between two steps; a path with more steps than the third is torn and tells no curve. Chosen.</summary>
    private const int Fewest = 3, BetweenSteps = 6, MostSteps = 6;

    /// <summary>No bevel is wider, nor a shadow beside an edge that is found at all, mm; and a curve is carried on beyond what tells it over no more than this share of the edge. Chosen.</summary>
    private const double MostOffMm = 4, MostCarriedOn = 0.25;

    /// <summary>How stiff: weight of the third differences' squares. Chosen: bends over some 50 mm are followed.</summary>
    private const double Stiffness = 3e3;

    /// <summary>A place this far off its curve counts one, none more than the second; a place left out counts the third. At least this share is the edge's. Chosen on drawn edges with drawn steps.</summary>
    private const double OffOneMm = 0.08, MostOfOne = 25, LeftOut = 0.6, LeastShare = 0.5;

    /// <summary>The path must lie off its curve by this over so long a stretch to be doubted, mm. Chosen.</summary>
    private const double DoubtedMm = 0.35, StretchMm = 6;

    /// <summary>The path's curve; null where it follows it anyway, or no parts of it tell one.</summary>
    public static Point2[]? Of(Point2[] path)
    {
        double spacing = path[0].DistanceTo(path[1]);
        Vector2 x = (path[^1] - path[0]).Normalized();
        var y = new Vector2(-x.Y, x.X);
        double[] along = [.. path.Select(p => (p - path[0]).Dot(x))];
        double[] off = [.. path.Select(p => (p - path[0]).Dot(y))];
        int n = (int)(along[^1] / EveryMm) + 1;
        if (n < 4 * Beside)
            return null;
        double[] place = [.. Enumerable.Range(0, n).Select(i => i * along[^1] / (n - 1))];
        double[] at = [.. place.Select(s => EdgeSections.At(along, off, s))];
        int[] steps = Steps(at);
        if (steps.Length is 0 or > MostSteps)
            return null;
        double[] curve = Curve(at, steps);
        double[] departs = [.. curve.Zip(at, (c, v) => c - v)];
        return Longest(departs) * EveryMm < StretchMm || departs.Any(d => Math.Abs(d) > MostOffMm) ? null : Contour.Open([.. place.Zip(curve, (s, c) => path[0] + (x * s) + (y * c))], spacing);
    }

    private static int Longest(double[] departs)
    {
        int run = 0;
        return departs.Max(d => run = Math.Abs(d) > DoubtedMm ? run + 1 : 0);
    }

    /// <summary>Places before which a line steps, in order.</summary>
    private static int[] Steps(double[] y)
    {
        var steps = new List<int>();
        foreach ((int at, double size) in Enumerable.Range(Fewest, y.Length - (2 * Fewest)).Select(i => (i, Step(y, i))).OrderByDescending(s => s.Item2))
        {
            if (size < StepMm || steps.Count > MostSteps)
                break;
            if (steps.All(s => Math.Abs(s - at) > BetweenSteps))
                steps.Add(at);
        }

        return [.. steps.Order()];
    }

    // How far apart the straight lines before and after meet.
    private static double Step(double[] y, int at)
    {
        int skip = at < Beside || at > y.Length - Beside ? 0 : 1;
        double Meets(int from, int to)
        {
            int n = to - from;
            if (n < Fewest)
                return double.NaN;
            double middle = (from + to - 1) / 2.0;
            double mean = Enumerable.Range(from, n).Average(i => y[i]);
            double slope = Enumerable.Range(from, n).Sum(i => (i - middle) * (y[i] - mean)) / Enumerable.Range(from, n).Sum(i => (i - middle) * (i - middle));
            return mean + (slope * (at - 0.5 - middle));
        }

        double gap = Math.Abs(Meets(Math.Max(0, at - skip - Beside), at - skip) - Meets(at + skip, Math.Min(y.Length, at + skip + Beside)));
        return double.IsNaN(gap) ? 0 : gap;
    }

    /// <summary>Of the parts between steps those that lie on one curve, as many as may be, and that curve at all places.</summary>
    private static double[] Curve(double[] y, int[] steps)
    {
        int n = y.Length;
        int[] bounds = [0, .. steps, n];
        double[] best = y;
        double least = double.PositiveInfinity;
        for (int chosen = 1; chosen < 1 << (bounds.Length - 1); chosen++)
        {
            double[] weight = new double[n];
            int taken = 0;
            for (int part = 0; part + 1 < bounds.Length; part++)
            {
                if (((chosen >> part) & 1) == 0)
                    continue;
                Array.Fill(weight, 1, bounds[part], bounds[part + 1] - bounds[part]);
                taken += bounds[part + 1] - bounds[part];
            }

            int before = Array.FindIndex(weight, w => w > 0);
            int after = n - 1 - Array.FindLastIndex(weight, w => w > 0);
            if (taken < LeastShare * n || Math.Max(before, after) > MostCarriedOn * n)
                continue;
            foreach (int step in steps)
                (weight[step - 1], weight[step]) = (0, 0);
            double[] curve = Graduation.Of(y, weight, Stiffness);
            double cost = (LeftOut * (n - taken)) + Enumerable.Range(0, n).Sum(i => weight[i] * Math.Min(MostOfOne, Math.Pow((y[i] - curve[i]) / OffOneMm, 2)));
            if (cost < least)
                (least, best) = (cost, curve);
        }

        return best;
    }
}
