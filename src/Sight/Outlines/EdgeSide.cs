using Whetwright.Core.Quantities;

namespace Whetwright.Sight.Outlines;

/// <summary>
/// Which stretch of an outline is the edge: the longest smooth stretch between two corners that ends free (the tip) on one side and on the other
/// drops back toward a tang or handle (the heel). The spine runs into the handle with less of a drop.
/// </summary>
/// <param name="From">Index of the heel's corner in the outline.</param>
/// <param name="To">Index of the tip's corner.</param>
/// <param name="Forward">Whether the outline runs from heel to tip with growing index.</param>
/// <param name="DropMm">How far the outline falls back behind the heel.</param>
internal sealed record EdgeSide(int From, int To, bool Forward, double DropMm)
{
    private const double StepMm = 0.25;
    private const double TurnOverMm = 1.5;
    private const double LeastTurnDeg = 25;
    private const double ShortestMm = 25;

    public static double OutlineStepMm => StepMm;

    /// <summary>Stretches that may be the edge of an outline whose points are <see cref="OutlineStepMm"/> apart: the best of each side, best first.</summary>
    public static IReadOnlyList<(EdgeSide Side, double Score)> Candidates(Point2[] p)
    {
        int[] corners = Corners(p);
        var all = new List<(EdgeSide Side, double Score)>();
        foreach (int a in corners)
        {
            foreach (int b in corners)
            {
                if (a != b && Judge(p, a, b) is { } judged)
                    all.Add(judged);
            }
        }

        var kept = new List<(EdgeSide Side, double Score)>();
        foreach ((EdgeSide side, double score) in all.OrderByDescending(c => c.Score))
        {
            if (!kept.Any(k => Overlaps(k.Side, side, p.Length)))
                kept.Add((side, score));
        }

        return kept;
    }

    private static int[] Corners(Point2[] p)
    {
        int k = (int)(TurnOverMm / StepMm);
        int n = p.Length;
        double[] turn = new double[n];
        for (int i = 0; i < n; i++)
        {
            Vector2 before = p[i] - p[Contour.Wrap(i - k, n)];
            Vector2 after = p[Contour.Wrap(i + k, n)] - p[i];
            turn[i] = Math.Atan2(before.Cross(after), before.Dot(after)) * 180 / Math.PI;
        }

        return [.. Enumerable.Range(0, n).Where(i => turn[i] > LeastTurnDeg
            && Enumerable.Range(-k, (2 * k) + 1).All(d => turn[Contour.Wrap(i + d, n)] <= turn[i] || (turn[Contour.Wrap(i + d, n)] == turn[i] && d > 0)))];
    }

    /// <summary>Judges the stretch that runs from a to b with growing index; either end may be the heel.</summary>
    private static (EdgeSide Side, double Score)? Judge(Point2[] p, int a, int b)
    {
        int n = p.Length;
        int count = Contour.Wrap(b - a, n);
        double chord = p[a].DistanceTo(p[b]);
        if (chord < ShortestMm || count * StepMm > 1.4 * chord)
            return null;
        Vector2 x = (p[b] - p[a]).Normalized();
        Vector2 outward = new(x.Y, -x.X);
        double[] along = new double[count + 1];
        double[] high = new double[count + 1];
        int backward = 0;
        for (int i = 0; i <= count; i++)
        {
            Vector2 d = p[Contour.Wrap(a + i, n)] - p[a];
            (along[i], high[i]) = (d.Dot(x), d.Dot(outward));
            if (i > 0 && along[i] < along[i - 1])
                backward++;
        }

        if (backward > 0.1 * count)
            return null;
        var fit = RobustPolynomial.Fit(along, high, 5, 0.25);
        double inliers = 0;
        int outside = 0;
        for (int i = 0; i <= count; i++)
        {
            double r = high[i] - fit.At(along[i]);
            if (r > 1.0)
                outside++;
            if (Math.Abs(r) < 0.3)
                inliers++;
        }

        inliers /= count + 1;
        if (inliers < 0.55 || outside > 0.04 * count)
            return null;

        // What lies beyond each end: the handle beyond the heel, nothing much beyond the tip.
        double beyondA = 0;
        double beyondB = 0;
        foreach (Point2 q in p)
        {
            double s = (q - p[a]).Dot(x);
            beyondA = Math.Max(beyondA, -s);
            beyondB = Math.Max(beyondB, s - chord);
        }

        bool forward = beyondA >= beyondB; // the heel is at a
        double beyondTip = Math.Min(beyondA, beyondB);
        double beyondHeel = Math.Max(beyondA, beyondB);
        if (beyondTip > 0.2 * chord)
            return null;
        double drop = Drop(p, forward ? a : b, forward ? -1 : 1, x, outward);
        double score = count * StepMm * inliers * inliers * (0.2 + Math.Min(1, drop / 8)) * (beyondHeel > 5 ? 1 : 0.6) * (1 - (beyondTip / chord));
        return (forward ? new EdgeSide(a, b, true, drop) : new EdgeSide(b, a, false, drop), score);
    }

    /// <summary>How far the outline falls back within 30 mm behind the heel, square to the chord.</summary>
    private static double Drop(Point2[] p, int heel, int step, Vector2 x, Vector2 outward)
    {
        double deepest = 0;
        for (int k = 1; k * StepMm < 30; k++)
        {
            Vector2 d = p[Contour.Wrap(heel + (k * step), p.Length)] - p[heel];
            deepest = Math.Max(deepest, -d.Dot(outward));
            if (d.Dot(x) * step * -1 < -4 && deepest > 4)
                break; // it turned back under the blade: a tip, not a heel
        }

        return deepest;
    }

    private static bool Overlaps(EdgeSide s, EdgeSide t, int n)
    {
        (int a, int b) = s.Forward ? (s.From, s.To) : (s.To, s.From);
        (int c, int d) = t.Forward ? (t.From, t.To) : (t.To, t.From);
        int middle = Contour.Wrap(a + (Contour.Wrap(b - a, n) / 2), n);
        int other = Contour.Wrap(c + (Contour.Wrap(d - c, n) / 2), n);
        return Contour.Wrap(middle - c, n) < Contour.Wrap(d - c, n) || Contour.Wrap(other - a, n) < Contour.Wrap(b - a, n);
    }
}
